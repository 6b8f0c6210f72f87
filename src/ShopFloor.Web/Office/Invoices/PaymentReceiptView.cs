using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>The receipt for a payment.</summary>
/// <param name="Number">The order's number, and which of its payments it is.</param>
/// <param name="Pdf">The paper.</param>
public sealed record PaymentReceipt(string Number, byte[] Pdf);

/// <summary>Makes the receipt for a payment that somebody made or got back; what was only moved in the books has none.</summary>
public sealed class PaymentReceiptView(IDbContextFactory<ShopContext> contexts, Letterheads heads, TimeProvider time) : IPageView
{
    /// <summary>The receipt; null when there is no such payment.</summary>
    public async Task<PaymentReceipt?> MakeAsync(Guid payment, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var paid = await context.Payments.AsNoTracking().FirstOrDefaultAsync(p => p.Id == payment, cancel);
        if (paid?.Order is not { } id || !HasReceipt(paid) || await OrderAccount.LoadAsync(context, id, now, cancel) is not { } account)
            return null;
        var number = Number(account, paid);
        var reader = LetterReader.Of(account.Order.Language);
        return new PaymentReceipt(
            number,
            LetterWriter.Write(
                PaymentLetter.Of(Paper(account, paid, number, account.Settings.Day(now)), reader),
                heads.Of(account.Settings, InvoiceTerms.Seller(account.Settings.Profile), reader),
                InvoiceTerms.Paper(account.Settings.Profile),
                now.UtcDateTime
            )
        );
    }

    /// <summary>Whether money changed hands.</summary>
    internal static bool HasReceipt(PaymentRecord payment) => EnterPayment.Means.Contains(payment.Means, StringComparer.Ordinal);

    /// <summary>Number of the order, and which of its payments it is: that stays, as payments are never taken out.</summary>
    internal static string Number(OrderAccount account, PaymentRecord payment)
    {
        var at = account.Payments.Where(HasReceipt).OrderBy(p => p.Id).TakeWhile(p => p.Id != payment.Id).Count() + 1;
        return string.Create(CultureInfo.InvariantCulture, $"{account.Order.Number}-{at}");
    }

    private static PaymentPaper Paper(OrderAccount account, PaymentRecord paid, string number, DateOnly today)
    {
        var (profile, order) = (account.Settings.Profile, account.Order);
        var buyer = InvoiceTerms.Buyer(account.Customer, order.Contact, account.Settings);
        return new PaymentPaper(
            number,
            InvoiceLetter.To(buyer, profile.Country, LetterReader.Of(order.Language)),
            order.Number.ToString(CultureInfo.InvariantCulture),
            new PaidPart(paid.Day, paid.Means, paid.Amount),
            paid.Currency
        )
        {
            Invoice = account.Issued.Where(i => i.Id == paid.Document).Select(i => i.Document.Number).FirstOrDefault() ?? "",
            TaxLabel = account.Settings.Invoices.SystemOn(paid.Day).Label,
            Today = today,
            Left = paid.Amount < 0m ? null : Math.Max(0m, account.LeftToPay),
        };
    }
}
