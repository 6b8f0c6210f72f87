using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Pieces come in: an own piece with its label, or blanks laid out as a tray.</summary>
public sealed class ReceivePieces(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, Target target, CancellationToken cancel = default) =>
        runner.RunAsync<Target, Moved>(
            nameof(ReceivePieces),
            Allowed.Counter,
            asked,
            target,
            work => DecideAsync(work, target, cancel),
            cancel
        );

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, Target target, CancellationToken cancel)
    {
        var moved = await ManyMoves.RunAsync(
            work,
            target,
            p => p.State == PieceState.Booked,
            "still to come in",
            p => p.Receive(work.Now),
            "came in"
        );
        if (moved.IsOk)
            await UseStock.BlanksAsync(work, [.. work.Changes.Where(c => c.Topic == Topic.Piece).Select(c => new PieceId(c.Id))], cancel);
        return moved;
    }
}
