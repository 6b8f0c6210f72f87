using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>A line of an order that can be invoiced.</summary>
/// <param name="Line">The line.</param>
/// <param name="Ready">Pieces that are checked good or handed over.</param>
/// <param name="Invoiced">Pieces on invoices that no credit note has taken back.</param>
public sealed record LineAccount(OrderLine Line, int Ready, decimal Invoiced)
{
    /// <summary>Pieces of those ordered that were spoiled or given back and never come, or that were paid back.</summary>
    public int Lost { get; init; }

    /// <summary>
    /// Those of <see cref="Lost"/> that were paid back, after a complaint or by a credit note that asks for nothing more: they were made, and nothing is
    /// asked for them any more.
    /// </summary>
    public int PaidBack { get; init; }

    /// <summary>Pieces of the workshop's own stock, spoiled or back on the shelf, in whose place others can still be made.</summary>
    public int ToRemake { get; init; }

    /// <summary>Those of <see cref="ToRemake"/> that went back to the shelf: waited for, but nothing is asked for them until others are made.</summary>
    public int OnShelf { get; init; }

    /// <summary>Days on which pieces were handed over, shop-local.</summary>
    public IReadOnlyList<DateOnly> SuppliedOn { get; init; } = [];

    /// <summary>Pieces to invoice now.</summary>
    public decimal Open => Math.Max(0m, Math.Min(Ready, Line.Quantity) - Invoiced);

    /// <summary>Pieces to invoice in all, now and later.</summary>
    public decimal Whole => Math.Max(Invoiced, Line.Quantity - Lost);

    /// <summary>Pieces that are asked for as things stand: those to invoice in all, less what is back on the shelf.</summary>
    public decimal Owed => Math.Max(Invoiced, Line.Quantity - Lost - OnShelf);

    /// <summary>The pieces of orders.</summary>
    internal static async Task<ILookup<OrderId, PieceRow>> PiecesAsync(
        ShopContext context,
        IReadOnlyList<OrderId> orders,
        CancellationToken cancel
    )
    {
        var complaints = await context
            .Complaints.Where(c => c.CreditNote != null && orders.Contains(c.Order))
            .Select(c => new { c.Pieces, Note = c.CreditNote!.Value })
            .ToListAsync(cancel);
        var paidBack = complaints.SelectMany(c => c.Pieces.Select(p => (p, c.Note))).ToLookup(c => c.p, c => c.Note);
        var rows = await context
            .Pieces.AsNoTracking()
            .IgnoreAutoIncludes()
            .Where(p => !p.IsTest && orders.Contains(p.Order))
            .Select(p => new { p.Id, Row = new PieceRow(p.Order, p.Line, p.State, p.IsOwn, p.ChangedAt) })
            .ToListAsync(cancel);
        return rows.ToLookup(p => p.Row.Order, p => p.Row with { PaidBackBy = [.. paidBack[p.Id]] });
    }

    /// <summary>The lines of an order by number, with what became of their pieces.</summary>
    internal static IReadOnlyList<LineAccount> Of(
        Order order,
        CurrentSettings settings,
        List<(Guid Id, IssuedInvoice Document)> issued,
        IEnumerable<PieceRow> rows
    )
    {
        var pieces = rows.ToLookup(p => p.Line);
        return
        [
            .. order
                .Lines.OrderBy(l => l.Number)
                .Select(l =>
                    Of(l, [.. pieces[l.Id]], Waived(l, issued, [.. pieces[l.Id]]), order.CancelledAt is not null) with
                    {
                        Invoiced = OrderAccount.Invoiced(issued, OrderAccount.LineId(l)),
                        SuppliedOn = [.. pieces[l.Id].Where(p => p.State == PieceState.HandedOver).Select(p => settings.Day(p.ChangedAt))],
                    }
                ),
        ];
    }

    internal sealed record PieceRow(OrderId Order, OrderLineId Line, PieceState State, bool IsOwn, DateTimeOffset ChangedAt)
    {
        /// <summary>The credit notes that paid it back after a complaint.</summary>
        public IReadOnlyList<Guid> PaidBackBy { get; init; } = [];

        /// <summary>Paid back after a complaint: nothing is asked for it any more.</summary>
        public bool IsPaidBack => PaidBackBy.Count > 0;
    }

    /// <summary>Pieces for which credit notes ask nothing more, beside those of complaints that these notes close.</summary>
    private static int Waived(OrderLine line, List<(Guid Id, IssuedInvoice Document)> issued, IReadOnlyList<PieceRow> pieces) =>
        (int)
            issued
                .Where(i => i.Document.Content.AsksNoMore)
                .Sum(i =>
                    Math.Max(
                        0m,
                        OrderAccount.QuantityOf(i.Document, OrderAccount.LineId(line)) - pieces.Count(p => p.PaidBackBy.Contains(i.Id))
                    )
                );

    // Of an order that was called off nothing more comes anyway: its page says what is owed.
    private static LineAccount Of(OrderLine line, IReadOnlyList<PieceRow> pieces, int waived, bool isOff)
    {
        var made = pieces.Count(p => p is { IsPaidBack: false, State: PieceState.CheckedGood or PieceState.HandedOver });
        var ready = Math.Max(0, made - waived);
        var missing = line.Quantity - pieces.Count(p => p.State.IsThere());
        var spoiled = pieces.Count(p => p is { State: PieceState.Spoiled, IsOwn: false });
        var remake = Math.Clamp(missing, 0, pieces.Count(p => !p.IsOwn && !p.State.IsThere()));
        var coming = pieces.Count(p => !p.State.IsEnd() && p.State != PieceState.CheckedGood);
        var lost = isOff ? 0 : Math.Max(0, line.Quantity - ready - coming - remake);
        var paidBack = made - ready + pieces.Count(p => p is { IsPaidBack: true, State: PieceState.CheckedGood or PieceState.HandedOver });
        return new LineAccount(line, ready, 0m)
        {
            Lost = lost,
            PaidBack = Math.Min(lost, paidBack),
            ToRemake = isOff ? 0 : remake,
            OnShelf = isOff ? 0 : Math.Max(0, remake - spoiled),
        };
    }
}
