using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Lots;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>What cannot be taken back with a tap: what was not done at the Bench, a lot that was barred, and anything of an order that was called off.</summary>
internal static class UndoLimits
{
    // Commands bear the names of their use cases.
    private static readonly HashSet<string> AtTheBench =
    [
        .. typeof(UndoLimits)
            .Assembly.GetTypes()
            .Where(t => t.IsAssignableTo(typeof(IUseCase)) && t.Namespace!.StartsWith("ShopFloor.Web.Bench", StringComparison.Ordinal))
            .Select(t => t.Name),
    ];

    /// <summary>Why a command's moves stay; null: they may be taken back as far as this goes.</summary>
    internal static async Task<Refusal?> AskAsync(ShopContext context, Guid command, IEnumerable<OrderId> orders, CancellationToken cancel)
    {
        if (await context.Commands.Where(c => c.Id == command).Select(c => c.Name).FirstOrDefaultAsync(cancel) is not { } name)
            return new Refusal("undo-too-old", "This is too long ago to take back. Use rework, or put the piece aside.");
        // The cans would stay barred while all that was sprayed from them ran on unlooked at.
        if (name == nameof(HoldLot))
            return new Refusal("lot-barred", "Its lot was barred: scan the can to free the lot, and take each piece up again after a look.");
        if (!AtTheBench.Contains(name))
            return new Refusal("not-at-bench", "This was not done at the Bench: it is changed in the Office, where it was done.");
        var ids = orders.ToHashSet();
        var off = await context.Orders.Where(o => ids.Contains(o.Id) && o.CancelledAt != null).Select(o => o.Number).ToListAsync(cancel);
        return off.Count > 0 ? new Refusal("order-off", $"Order {off[0]} was called off: nothing of it is taken back here.") : null;
    }

    /// <summary>True when the last move of a piece may be taken back.</summary>
    internal static async Task<bool> MayAsync(ShopContext context, Piece piece, CancellationToken cancel)
    {
        var journal = await context.Journal.AsNoTracking().Where(j => j.Piece == piece.Id).OrderBy(j => j.Sequence).ToListAsync(cancel);
        return UndoRule.Last(journal.ConvertAll(j => new JournalLine(j.Id, j.Command, j.Read()))) is { } last
            && await AskAsync(context, last[0].Command, [piece.Order], cancel) is null;
    }
}
