using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Complaints;

/// <summary>How complained pieces are paid back: looked at before it is asked, and again when it is done.</summary>
/// <param name="Document">Number of the invoice that is taken back in part, or of the credit note that took the pieces back already.</param>
/// <param name="Credit">What the new credit note takes back; null: there is one already.</param>
/// <param name="ByHand">The credit note there is; null: none.</param>
internal sealed record RefundWay(string Document, CreditInput? Credit, Guid? ByHand)
{
    /// <summary>Finds it, or says why there is none.</summary>
    public static async Task<Result<RefundWay>> OfAsync(
        ShopContext context,
        Complaint complaint,
        string answer,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        if (answer.Trim().Length < 3)
            return new Refusal("complaint-reason", "Say why it is paid back: it stands on the credit note.", "Answer");
        var account = (await OrderAccount.LoadAsync(context, complaint.Order, now, cancel))!;
        var pieces = await JudgedRemake.PiecesAsync(context, complaint, cancel);
        var wanted = account
            .Lines.Select(l => (Id: OrderAccount.LineId(l.Line), Count: pieces.Count(p => p.Line == l.Line.Id)))
            .Where(l => l.Count > 0)
            .ToDictionary(l => l.Id, l => (decimal)l.Count, StringComparer.Ordinal);
        var before = await TakenBackAsync(context, account, wanted, forGood: true, cancel);
        if (before.Document is { } waived)
            return new RefundWay(waived.Number, null, before.Id);
        var invoice = account.Issued.LastOrDefault(i =>
            i.Document.Content.Kind is DocumentKind.Invoice or DocumentKind.PartInvoice or DocumentKind.Receipt
            && wanted.All(w => account.LeftToCredit(i.Document, w.Key) >= w.Value)
        );
        if (invoice.Document is { } found)
            return new RefundWay(found.Number, new CreditInput(invoice.Id, wanted, answer), null);
        var note = await TakenBackAsync(context, account, wanted, forGood: false, cancel);
        return note.Document is { } there
            ? new RefundWay(there.Number, null, note.Id)
            : new Refusal("not-invoiced", "No single invoice has all these pieces. Take them back on the invoice's own page.");
    }

    /// <summary>A credit note that took all these pieces back already, by hand, and closes no other complaint. For good: of those that ask nothing
    /// more for them, so that another note would pay them back twice.</summary>
    private static async Task<(Guid Id, IssuedInvoice? Document)> TakenBackAsync(
        ShopContext context,
        OrderAccount account,
        Dictionary<string, decimal> wanted,
        bool forGood,
        CancellationToken cancel
    )
    {
        var used = await context.Complaints.Where(c => c.CreditNote != null).Select(c => c.CreditNote).ToListAsync(cancel);
        return account
            .Issued.Where(i => i.Document.Content.Kind == DocumentKind.CreditNote && !used.Contains(i.Id))
            .Where(i => i.Document.Content.AsksNoMore || !forGood)
            .LastOrDefault(i => wanted.All(w => i.Document.Content.Lines.Where(l => l.Id == w.Key).Sum(l => l.Quantity) >= w.Value));
    }
}
