using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>A move that needs a reason.</summary>
/// <param name="Target">Of what.</param>
/// <param name="Reason">In a few words.</param>
public sealed record WithReason(Target Target, string Reason);

/// <summary>Takes pieces up again.</summary>
public sealed class ReleasePieces(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, WithReason wish, CancellationToken cancel = default) =>
        runner.RunAsync<WithReason, Moved>(
            nameof(ReleasePieces),
            Allowed.Bench,
            asked,
            wish,
            work =>
                ManyMoves.RunAsync(
                    work,
                    wish.Target,
                    p => p.State == PieceState.Held && wish.Target.IsAbout(p),
                    "put aside",
                    p => p.Release(wish.Reason, work.Now),
                    "taken up again"
                ),
            cancel
        );
}

/// <summary>Gives pieces back unworked: the customer's own to the customer, a blank on which nothing was begun to the shelf.</summary>
public sealed class ReturnPieces(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, WithReason wish, CancellationToken cancel = default) =>
        runner.RunAsync<WithReason, Moved>(
            nameof(ReturnPieces),
            Allowed.Counter,
            asked,
            wish,
            work => DecideAsync(work, wish, cancel),
            cancel
        );

    /// <summary>True when the piece may go back as it is.</summary>
    internal static bool MayGoBack(Piece piece) => PieceTransitions.Allows(piece.State, PieceMove.Return) && !IsBegunBlank(piece);

    private static bool IsBegunBlank(Piece piece) => piece is { IsOwn: false, IsTest: false, IsBegun: true };

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, WithReason wish, CancellationToken cancel)
    {
        var batches = new HashSet<BatchId>();
        var sprayed = new List<(Piece Piece, WorkItem Item)>();
        var moved = await ManyMoves.RunAsync(
            work,
            wish.Target,
            p => MayGoBack(p) && wish.Target.IsAbout(p),
            "there to give back",
            p =>
            {
                batches.UnionWith(RunBatch.Of([p]));
                sprayed.AddRange(SprayStock.Sprayed(p).Select(i => (p, i)));
                return IsBegunBlank(p)
                    ? new Refusal("blank-begun", "Work was begun on this blank: it is no blank any more. Say at Fault what becomes of it.")
                    : p.Return(wish.Reason, work.Now);
            },
            "given back unworked"
        );
        if (!moved.IsOk)
            return moved;
        foreach (var (piece, item) in sprayed)
            await SprayStock.PostAsync(work, piece, item);
        foreach (var piece in work.Context.Pieces.Local.Where(p => moved.Value.Codes.Contains(p.Code, StringComparer.Ordinal)).ToList())
            await UseStock.PutBackAsync(work, piece, cancel);
        var said = moved.Value;
        foreach (var batch in batches)
            said = said with { Text = said.Text + await RunBatch.CloseIfOverAsync(work, batch, work.Now) };
        return said;
    }
}
