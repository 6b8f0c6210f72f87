using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.TestPieces;

/// <summary>What a test piece has shown.</summary>
/// <param name="Code">The test piece.</param>
/// <param name="Outcome">Good, with limits, or no.</param>
/// <param name="Note">The limits, or what was seen.</param>
/// <param name="Findings">What was seen and measured.</param>
/// <param name="Photo">A photo of it.</param>
/// <param name="OutOfTime">Why it is looked at although its rest is too short or too long; null: refuse then.</param>
public sealed record TestVerdict(
    string Code,
    TestOutcome Outcome,
    string Note,
    Findings Findings,
    PictureId? Photo = null,
    string? OutOfTime = null
);

/// <summary>Judges a test piece; the result is kept for its material, and from then on the Counter and the Bench say so.</summary>
public sealed class JudgeTest(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, TestVerdict verdict, CancellationToken cancel = default) =>
        runner.RunAsync<TestVerdict, Moved>(
            nameof(JudgeTest),
            Allowed.Bench,
            asked,
            verdict,
            work => DecideAsync(work, verdict, cancel),
            cancel
        );

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, TestVerdict verdict, CancellationToken cancel)
    {
        if (await Chosen.PieceAsync(work.Context, Chosen.Clean(verdict.Code), cancel) is not { } piece)
            return new Refusal("code-unknown", $"There is no piece {verdict.Code}.", "code");
        var judged = Judge(work, piece, verdict, work.Now);
        if (!judged.IsOk)
            return Result<Moved>.Refused(ManyMoves.Named(piece, judged.Refusals));
        var line = await work
            .Context.Orders.Where(o => o.Id == piece.Order)
            .SelectMany(o => o.Lines)
            .AsNoTracking()
            .FirstAsync(l => l.Id == piece.Line, cancel);
        Keep(work, piece, line, verdict, work.Now);
        return new Moved($"{piece.Code}: {Words(verdict.Outcome)} This is kept for the material.", [piece.Code]);
    }

    /// <summary>Ends the inspection with the result; nothing is packed, and what failed is spoiled.</summary>
    internal static Result<Done> Judge(CommandWork work, Piece piece, TestVerdict verdict, DateTimeOffset at)
    {
        var outcome = piece.JudgeTest(verdict.Outcome, verdict.Note, at, verdict.Photo);
        if (!outcome.IsOk)
            return Result<Done>.Refused(outcome.Refusals);
        var step = piece.NextAttended!.Number;
        var begun =
            piece.NextAttended.State == WorkState.Running
                ? default(Done)
                : work.Happen(piece, piece.Start(step, at, decision: verdict.OutOfTime));
        return begun
            .Then(_ => work.Happen(piece, piece.Inspect(verdict.Findings, at)))
            .Then(_ => work.Happen(piece, outcome))
            .Then(_ =>
                verdict.Outcome == TestOutcome.Refuse
                    ? work.Happen(piece, piece.Spoil($"Test piece, not good: {verdict.Note.Trim()}", at))
                    : work.Happen(piece, piece.Finish(step, at, verdict.Findings.InWords()))
            )
            .Then(_ => LeaveOutRest(work, piece, at));
    }

    /// <summary>Keeps the result for the material.</summary>
    internal static void Keep(CommandWork work, Piece piece, OrderLine line, TestVerdict verdict, DateTimeOffset at)
    {
        var heat = TestHeat.Of(piece);
        var test = new MaterialTest(
            Guid.CreateVersion7(),
            line.Piece.Material,
            line.Piece.Form,
            heat.Cure,
            heat.Press,
            verdict.Outcome,
            verdict.Note.Trim(),
            piece.Code,
            at
        );
        work.Context.MaterialTests.Add(test);
        work.Touch(Topic.Settings, test.Id);
    }

    private static Result<Done> LeaveOutRest(CommandWork work, Piece piece, DateTimeOffset at)
    {
        while (piece is { State: PieceState.CheckedGood, NextAttended: { } next })
            if (work.Happen(piece, piece.Skip(next.Number, at, "test piece")) is { IsOk: false } no)
                return no;
        return default(Done);
    }

    private static string Words(TestOutcome outcome) =>
        outcome switch
        {
            TestOutcome.Good => "the test is good.",
            TestOutcome.Limits => "the test is good within limits.",
            _ => "the test is not good.",
        };
}

/// <summary>The heat that a piece sees on its way.</summary>
internal static class TestHeat
{
    internal static (double? Cure, double? Press) Of(Piece piece) =>
        (Hottest(piece, k => k.InOven()), Hottest(piece, k => k == StepKind.Press));

    private static double? Hottest(Piece piece, Func<StepKind, bool> kind) =>
        piece.Items.Where(i => kind(i.Kind)).Max(i => (double?)i.Settings.Celsius);
}
