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
            yield return new("invoice-cash", "Invoice, paid in cash");
            yield return new("invoice-card", "Invoice, paid by card");
            yield return new("cash", "Receipt, paid in cash");
            yield return new("card", "Receipt, paid by card");
        }
        if (order.DepositAsked > 0m)
        {
            yield return new("deposit", "Deposit invoice");
            yield return new("deposit-cash", "Deposit invoice, paid in cash");
            yield return new("deposit-card", "Deposit invoice, paid by card");
        }
    }

    /// <summary>Whether a choice asks for the deposit.</summary>
    public static bool IsDeposit(string? choice) => choice?.StartsWith("deposit", StringComparison.Ordinal) == true;

    /// <summary>What a choice asks for.</summary>
    /// <param name="choice">The value of one of <see cref="Of"/>.</param>
    /// <param name="order">The order.</param>
    /// <param name="note">Words on an invoice.</param>
    /// <param name="taxCode">Code of a rate for the whole document; null: as the settings say.</param>
    public static IssueInput Input(string? choice, OrderInvoicing order, string note, string? taxCode)
    {
        var paid = choice?.Split('-')[^1] is ("cash" or "card") and var means ? means : null;
        return IsDeposit(choice)
            ? new IssueInput(order.Order, order.DepositAsked, "", taxCode, paid)
            : new IssueInput(order.Order, null, note, taxCode, paid, IsInvoice: choice is not ("cash" or "card"));
    }
}
