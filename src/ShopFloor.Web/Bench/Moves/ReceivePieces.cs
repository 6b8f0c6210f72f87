using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;

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
            work =>
                ManyMoves.RunAsync(
                    work,
                    target,
                    p => p.State == PieceState.Booked,
                    "still to come in",
                    p => p.Receive(work.Now),
                    "came in"
                ),
            cancel
        );
}
