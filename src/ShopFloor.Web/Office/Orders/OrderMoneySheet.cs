using ShopFloor.Data.Records;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Orders;

/// <summary>A payment of an order.</summary>
/// <param name="Invoice">Number of the invoice that it is for; empty: on account.</param>
/// <param name="HasReceipt">Whether money changed hands.</param>
public sealed record PaymentRow(Guid Id, DateOnly Day, string Means, decimal Amount, string Invoice, string Note, bool HasReceipt);

/// <summary>The money of an order, with tax.</summary>
/// <param name="Agreed">What all of it comes to, with charges and less discounts.</param>
/// <param name="Invoiced">What invoices ask for, less what was taken back.</param>
/// <param name="Paid">What came in, less what went back.</param>
/// <param name="Left">What is left to pay; below zero: too much came in.</param>
/// <param name="Payments">By day.</param>
public sealed record OrderMoneySheet(decimal Agreed, decimal Invoiced, decimal Paid, decimal Left, IReadOnlyList<PaymentRow> Payments)
{
    /// <summary>Deposit invoices that have to be taken back now: no invoice will take them off.</summary>
    public IReadOnlyList<StrandedDeposit> Stranded { get; init; } = [];

    /// <summary>Of an order's account.</summary>
    public static OrderMoneySheet Of(OrderAccount account)
    {
        var numbers = account.Issued.ToDictionary(i => i.Id, i => i.Document.Number);
        PaymentRow Row(PaymentRecord p) =>
            new(
                p.Id,
                p.Day,
                p.Means,
                p.Amount,
                p.Document is { } id ? numbers.GetValueOrDefault(id, "") : "",
                p.Note,
                PaymentReceiptView.HasReceipt(p)
            );
        return new OrderMoneySheet(
            account.Agreed,
            account.Asked,
            account.Paid,
            account.LeftToPay,
            [.. account.Payments.Where(p => p.Means != InvoiceTerms.Allocated).OrderBy(p => p.Day).ThenBy(p => p.Id).Select(Row)]
        )
        {
            Stranded = account.Stranded,
        };
    }
}
