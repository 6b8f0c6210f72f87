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
        var notes = await LeftOfNotesAsync(context, account, complaint, cancel);
        var before = TakenBack(notes.Where(n => n.Document.Content.AsksNoMore), wanted);
        if (before is { } waived)
            return new RefundWay(waived.Document.Number, null, waived.Id);
        var invoice = account.Issued.LastOrDefault(i =>
            i.Document.Content.Kind is DocumentKind.Invoice or DocumentKind.PartInvoice or DocumentKind.Receipt
            && wanted.All(w => account.LeftToCredit(i.Document, w.Key) >= w.Value)
        );
        if (invoice.Document is { } found)
            return new RefundWay(found.Number, new CreditInput(invoice.Id, wanted, answer), null);
        return TakenBack(notes, wanted) is { } there
            ? new RefundWay(there.Document.Number, null, there.Id)
            : new Refusal("not-invoiced", "No single invoice has all these pieces. Take them back on the invoice's own page.");
    }

    /// <summary>A credit note by hand.</summary>
    /// <param name="Left">Pieces by line that it took back and that no complaint has counted.</param>
    private sealed record Note(Guid Id, IssuedInvoice Document, IReadOnlyDictionary<string, decimal> Left);

    /// <summary>The last credit note that took all these pieces back already. Of those that ask nothing more for them first: another note would pay
    /// them back twice.</summary>
    private static Note? TakenBack(IEnumerable<Note> notes, Dictionary<string, decimal> wanted) =>
        notes.LastOrDefault(n => wanted.All(w => n.Left.GetValueOrDefault(w.Key) >= w.Value));

    /// <summary>Credit notes with what they took back beside the pieces of complaints that they close; none that paid one of these pieces back.</summary>
    private static async Task<IReadOnlyList<Note>> LeftOfNotesAsync(
        ShopContext context,
        OrderAccount account,
        Complaint complaint,
        CancellationToken cancel
    )
    {
        var closed = await context
            .Complaints.Where(c => c.CreditNote != null && c.Order == complaint.Order)
            .Select(c => new { c.Pieces, Note = c.CreditNote!.Value })
            .ToListAsync(cancel);
        var ids = closed.SelectMany(c => c.Pieces).Distinct().ToList();
        var lines = await context
            .Pieces.IgnoreAutoIncludes()
            .Where(p => ids.Contains(p.Id))
            .Select(p => new { p.Id, p.Line })
            .ToDictionaryAsync(p => p.Id, p => p.Line, cancel);
        var used = closed.SelectMany(c => c.Pieces.Select(p => (c.Note, Piece: p))).ToLookup(c => c.Note, c => c.Piece);
        return
        [
            .. account
                .Issued.Where(i => i.Document.Content.Kind == DocumentKind.CreditNote && !used[i.Id].Any(complaint.Pieces.Contains))
                .Select(i => new Note(
                    i.Id,
                    i.Document,
                    account
                        .Lines.Select(l => (l.Line.Id, Name: OrderAccount.LineId(l.Line)))
                        .ToDictionary(
                            l => l.Name,
                            l => OrderAccount.QuantityOf(i.Document, l.Name) - used[i.Id].Count(p => lines[p] == l.Id),
                            StringComparer.Ordinal
                        )
                )),
        ];
    }
}
