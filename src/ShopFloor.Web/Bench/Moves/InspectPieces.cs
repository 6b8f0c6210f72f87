using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>What an inspection found and what follows.</summary>
/// <param name="Target">Of what.</param>
/// <param name="Findings">What was seen and measured.</param>
/// <param name="Follows">Null: good. Else what is done with the piece.</param>
/// <param name="OutOfTime">Why it is looked at although its rest is too short or too long; null: refuse then.</param>
public sealed record Inspection(Target Target, Findings Findings, TimeDecision? Follows = null, string? OutOfTime = null);

/// <summary>Judges pieces at Inspect: good, or a fault with what follows.</summary>
public sealed class InspectPieces(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, Inspection inspection, CancellationToken cancel = default) =>
        runner.RunAsync<Inspection, Moved>(
            nameof(InspectPieces),
            Allowed.Bench,
            asked,
            inspection,
            work => DecideAsync(work, inspection),
            cancel
        );

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, Inspection inspection)
    {
        var found = await Chosen.FindAsync(
            work,
            inspection.Target,
            WorkState.Done,
            p => p.NextAttended is { Kind: StepKind.Inspect } && p.State.IsUp(),
            "up for inspection"
        );
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        var most = await ReworkLimit.OfAsync(work, inspection.Follows);
        foreach (var piece in found.Value)
        {
            var answer = Judge(work, piece, inspection, most);
            if (!answer.IsOk)
                return Result<Moved>.Refused(ManyMoves.Named(piece, answer.Refusals));
        }
        return ManyMoves.Say(found.Value, inspection.Follows is null ? "checked good" : "judged not good");
    }

    private static Result<Done> Judge(CommandWork work, Piece piece, Inspection inspection, int mostReworks)
    {
        if (piece.NextAttended is not { Kind: StepKind.Inspect } step)
            return new Refusal("not-at-inspect", "This piece is not up for inspection.");
        var begun =
            step.State == WorkState.Running
                ? default(Done)
                : work.Happen(piece, piece.Start(step.Number, work.Now, decision: inspection.OutOfTime));
        if (!begun.IsOk)
            return begun;
        var noted = work.Happen(piece, piece.Inspect(inspection.Findings, work.Now));
        if (!noted.IsOk)
            return noted;
        return inspection.Follows is null
            ? work.Happen(piece, piece.Finish(step.Number, work.Now, inspection.Findings.InWords()))
            : work.Happen(piece, piece.Follow(inspection.Follows, work.Now, mostReworks));
    }
}
