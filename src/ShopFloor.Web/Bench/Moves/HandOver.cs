using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Hands checked pieces to the customer: one, or a tray's.</summary>
public sealed class HandOver(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, Target target, CancellationToken cancel = default) =>
        runner.RunAsync<Target, Moved>(nameof(HandOver), Allowed.Counter, asked, target, work => DecideAsync(work, target), cancel);

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, Target target)
    {
        // What is still to be packed stays; where all of it is, the piece says so.
        var found = await FindAsync(work, target, p => p.Current is null);
        if (!found.IsOk && found.Refusals[0].Code == "none-up")
            found = await FindAsync(work, target, _ => true);
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        return Give(work, found.Value).Then<Moved>(_ => ManyMoves.Say(found.Value, "handed over"));
    }

    private static Task<Result<IReadOnlyList<Piece>>> FindAsync(CommandWork work, Target target, Func<Piece, bool> suits) =>
        Chosen.FindAsync(
            work.Context,
            target,
            p => p is { State: PieceState.CheckedGood, IsTest: false } && target.IsAbout(p) && suits(p),
            "checked good"
        );

    /// <summary>Gives good pieces to the customer, here or at the Office.</summary>
    internal static Result<Done> Give(CommandWork work, IReadOnlyList<Piece> pieces)
    {
        foreach (var piece in pieces)
        {
            var answer = work.Happen(piece, piece.HandOver(work.Now));
            if (!answer.IsOk)
                return Result<Done>.Refused(ManyMoves.Named(piece, answer.Refusals));
            work.Touch(Topic.Order, piece.Order.Value);
        }
        return default(Done);
    }
}
