using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Background.Demo;

/// <summary>Plays the work on a demo order through the pieces' own verbs, so that its journal is a true one.</summary>
public sealed class DemoStory(CommandWork work, IReadOnlyList<Station> stations, IReadOnlyList<Can> cans, IReadOnlyList<Coating> coatings)
{
    /// <summary>Brings the pieces to the stage.</summary>
    public async Task PlayAsync(
        IReadOnlyList<Piece> pieces,
        DemoOrder demo,
        (PictureId? Print, PictureId? Photo) pictures,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        if (demo.Stage is not { } stage)
            return;
        var last = demo.End is PieceState.HandedOver or PieceState.CheckedGood ? pieces[0].Items.Count : Target(pieces[0], stage);
        var into = demo.Running ? 420 : 0;
        var spent = pieces[0].Items.Where(i => i.Number < last).Sum(i => Seconds(i.Settings, pieces.Count));
        var start = demo.End is null ? now.AddSeconds(-spent - into - 300) : now.AddDays(-demo.DaysAgo).AddHours(3);
        var batch = await BatchAsync(pieces, last, demo.Running, now.AddSeconds(-into), cancel);
        foreach (var piece in pieces)
            Walk((piece, pieces.Count), last, (start, demo.End is PieceState.HandedOver or PieceState.CheckedGood), batch, pictures.Print);
        await UseStock.BlanksAsync(work, pieces.Select(p => p.Id), cancel);
        foreach (var piece in pieces.Where(p => p.IsBound))
            await UseStock.TapeAsync(work, piece.Id, cancel);
        foreach (var piece in pieces)
            End(piece, demo, pictures.Photo, now);
    }

    /// <summary>Plays a test piece like another through to its good result, which is then known of the material.</summary>
    public async Task TestAsync(Piece like, OrderLine line, DateTimeOffset now, CancellationToken cancel)
    {
        var piece = await MakeTestPiece.NewAsync(work, like, like.Number + 1, now.AddHours(-9), cancel);
        Walk((piece, 1), Target(piece, StepKind.Inspect), (now.AddHours(-8), false), null, null);
        var verdict = new TestVerdict(piece.Code, TestOutcome.Good, "", new Findings { CrossCutClass = 1 });
        var at = now.AddHours(-2);
        if (JudgeTest.Judge(work, piece, verdict, at) is { IsOk: false } no)
            throw new InvalidOperationException(no.Refusals[0].Text);
        JudgeTest.Keep(work, piece, line, verdict, at);
    }

    private static int Target(Piece piece, StepKind stage) => piece.Items.Last(i => i.Kind == stage).Number;

    private void Walk((Piece Piece, int Together) tray, int last, (DateTimeOffset At, bool Whole) from, Batch? batch, PictureId? picture)
    {
        var (piece, at) = (tray.Piece, from.At);
        Must(piece, piece.Receive(at.AddMinutes(-20)));
        while (piece.NextAttended is { } next && (from.Whole || next.Number < last))
        {
            at = Start(piece, next, at, null);
            if (next.Kind == StepKind.Tape)
                Must(piece, piece.Bind(picture, null, at));
            at = at.AddSeconds(Seconds(next.Settings, tray.Together));
            Must(piece, piece.Finish(next.Number, at));
        }
        if (batch is { StartedAt: { } begun } && piece.NextAttended is { } running)
            Start(piece, running, begun, batch.Id);
    }

    private DateTimeOffset Start(Piece piece, WorkItem next, DateTimeOffset at, BatchId? batch)
    {
        var before = piece.Items.FirstOrDefault(i => i.Number == next.Number - 1);
        if (batch is null && before is { StartedAt: { } begun } && before.Kind.IsRest())
            at = begun.AddSeconds(before.Settings.MinSeconds + 20);
        var can = next.Kind is StepKind.Spray or StepKind.Wipe ? Can(next.Settings, piece, at) : null;
        Must(piece, piece.Start(next.Number, at, (batch, Station(next.Kind), can)));
        return at;
    }

    private CanId? Can(RecipeStep step, Piece piece, DateTimeOffset at)
    {
        var coating = coatings.First(c => c.Kind == step.Coating);
        var can = Domain.Stock.Can.FirstExpiring(cans.Where(c => c.Coating == coating.Id), step.Ml, DateOnly.FromDateTime(at.UtcDateTime))!;
        _ = can.Take(step.Ml, at);
        if (step.Ml > 0)
            work.Note(can, -step.Ml, new StockCause(StockReason.Use, piece.Id));
        return can.Id;
    }

    private async Task<Batch?> BatchAsync(
        IReadOnlyList<Piece> pieces,
        int step,
        bool running,
        DateTimeOffset begun,
        CancellationToken cancel
    )
    {
        if (!running)
            return null;
        var item = pieces[0].Items.First(i => i.Number == step);
        var oven = stations.First(s => s.Kind == StationKind.Oven);
        var settings = (Domain.Stations.OvenSettings)oven.Settings;
        var batch = new Batch(
            new BatchId(Guid.CreateVersion7()),
            BatchKind.OvenLoad,
            $"L-{await work.NextNumberAsync("load", cancel)}",
            oven.Id,
            new BatchSettings
            {
                Celsius = item.Settings.Celsius,
                DialCelsius = item.Settings.Celsius + settings.ErrorCelsius,
                MinSeconds = item.Settings.MinSeconds,
                MaxSeconds = item.Settings.MaxSeconds,
            },
            begun
        );
        var places = pieces.Select(
            (p, i) => new BatchPlace(p.Id, step, 1 + i / 8, 10_000 + i % 4 * 95_000, 10_000 + i / 4 % 2 * 70_000, false)
        );
        _ = batch.Arrange([.. places], batch.Settings);
        _ = batch.Start(begun);
        work.Context.Batches.Add(batch);
        return batch;
    }

    private void End(Piece piece, DemoOrder demo, PictureId? photo, DateTimeOffset now)
    {
        var at = now.AddHours(-2);
        switch (demo.End)
        {
            case PieceState.HandedOver:
                Must(piece, piece.HandOver(now.AddDays(-demo.DaysAgo + 2)));
                break;
            case PieceState.Held:
                Must(piece, piece.Hold("Customer is asked whether the engraving may be covered.", at));
                break;
            case PieceState.Spoiled:
                Must(piece, piece.Fault("blister", "Blisters along one edge, seen before the press.", at, photo));
                Must(piece, piece.Spoil("Baked wet: blisters under the clear coat.", at));
                break;
        }
    }

    private StationId? Station(StepKind kind) => stations.FirstOrDefault(s => s.Kind == kind.DoneAt())?.Id;

    // A tray is worked on piece after piece; some steps take longer than the recipe says, some less, so that measuring has something to find.
    private static int Seconds(RecipeStep step, int pieces) =>
        step.Kind.IsRest() || step.Kind.HasWindow() ? step.MinSeconds + 5 : (int)(step.LengthSeconds * pieces * Pace(step.Kind));

    private static decimal Pace(StepKind kind) =>
        kind switch
        {
            StepKind.Clean => 1.15m,
            StepKind.Wipe => 0.9m,
            StepKind.Tape => 1.3m,
            StepKind.Inspect => 0.8m,
            _ => 1,
        };

    private void Must(Piece piece, Result<PieceEvent> answer) => work.Happen(piece, answer.Value);
}
