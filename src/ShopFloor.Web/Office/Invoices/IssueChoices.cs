using ShopFloor.Web.Shared.Controls;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>The kinds of documents that can be issued for an order now.</summary>
internal static class IssueChoices
{
    public static IEnumerable<Choice<string>> Of(OrderInvoicing order)
    {
        if (order.HasOpen)
        {
            yield return new("invoice", "Invoice");
            yield return new("cash", "Receipt, paid in cash");
            yield return new("card", "Receipt, paid by card");
        }
        if (order.DepositAsked > 0m)
            yield return new("deposit", "Deposit invoice");
    }
}
