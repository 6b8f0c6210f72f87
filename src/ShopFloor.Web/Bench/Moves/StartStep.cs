using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>
/// Begins the next step of a piece, of so many of a tray, or of a batch. A step in booth, oven or press begins as a batch of its own, so
/// that every coat and every heat can be traced to one.
/// </summary>
public sealed class StartStep(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, StartWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<StartWish, Moved>(nameof(StartStep), Allowed.Bench, asked, wish, work => DecideAsync(work, wish, cancel), cancel);

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, StartWish wish, CancellationToken cancel)
    {
        var step = wish.Target.Step ?? 0;
        var found = await Chosen.FindAsync(work, wish.Target, WorkState.Running, p => IsUp(p, step), "up for this step");
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        foreach (var piece in found.Value)
            if (!IsUp(piece, step) && await WhoWasFirst.AskAsync(work, piece, step, WorkState.Running) is { } first)
                return first;
        var next = found.Value[0].NextAttended;
        if (next is null || next.Number != step)
            return Result<Moved>.Refused(ManyMoves.Named(found.Value[0], found.Value[0].Start(step, work.Now).Refusals));
        if (BatchRule.KindFor(next.Kind) is { } kind)
            return await AsBatchAsync(work, kind, found.Value, wish);
        var tests = await TestFirst.OfAsync(work, found.Value, cancel);
        var prints = await Unprinted.OfAsync(work, found.Value, cancel);
        var ages = await PrintAge.OfAsync(work, found.Value, cancel);
        var coats = await CoatToCome.OfAsync(work, found.Value, cancel);
        var cans = await SprayStock.WipedFromAsync(work, [.. found.Value.Select(p => p.NextAttended ?? next)], cancel);
        Refusal? Ask(Piece piece) =>
            tests.For(piece) ?? prints.GetValueOrDefault(piece.Id) ?? ages.GetValueOrDefault(piece.Id) ?? coats.GetValueOrDefault(piece.Id);
        var most = await ReworkLimit.OfAsync(work, wish.Decision, cancel);
        return ByHand(work, found.Value, wish, (StepWords.Of(next.Settings), Ask, cans, most));
    }

    private static bool IsUp(Piece piece, int step) =>
        piece.NextAttended is { State: not WorkState.Running } next
        && next.Number == step
        && PieceTransitions.Allows(piece.State, PieceMove.Start);

    private static Result<Moved> ByHand(
        CommandWork work,
        IReadOnlyList<Piece> pieces,
        StartWish wish,
        (string What, Func<Piece, Refusal?> Asks, IReadOnlyList<CanId?> Cans, int MostReworks) step
    )
    {
        var started = false;
        var at = Begun.Instant(wish.TappedAt, work.Now, pieces);
        foreach (var (index, piece) in pieces.Index())
        {
            var where = ((BatchId?)null, (StationId?)null, step.Cans[index]);
            var events = piece.StartOrDecide(wish.Target.Step ?? 0, at, where, wish.Decision, step.Asks(piece), step.MostReworks);
            if (!events.IsOk)
                return Result<Moved>.Refused(ManyMoves.Named(piece, events.Refusals));
            foreach (var happened in events.Value)
                work.Happen(piece, happened);
            started |= events.Value.OfType<StepStarted>().Any();
        }
        return ManyMoves.Say(pieces, started ? $"started: {step.What}" : "as decided");
    }

    private static async Task<Result<Moved>> AsBatchAsync(CommandWork work, BatchKind kind, IReadOnlyList<Piece> pieces, StartWish wish)
    {
        // A held or finished piece answers in its own words before any lay-out is tried.
        foreach (var piece in pieces.Where(p => !PieceTransitions.Allows(p.State, PieceMove.Start)))
            return Result<Moved>.Refused(ManyMoves.Named(piece, piece.Start(wish.Target.Step ?? 0, work.Now).Refusals));
        var station = await ChosenStation.FindAsync(work, kind, wish.Station, pieces);
        if (!station.IsOk)
            return Result<Moved>.Refused(station.Refusals);
        var batch = await PutTogether.NewAsync(work, kind, station.Value, pieces, (wish.Can, null));
        if (!batch.IsOk)
            return Result<Moved>.Refused(batch.Refusals);
        var begun = await RunBatch.StartAsync(
            work,
            batch.Value,
            station.Value,
            new MemberDecisions(wish.Decision, wish.Each),
            (wish.TappedAt, wish.IsHot)
        );
        return begun.IsOk
            ? ManyMoves.Say(
                pieces,
                batch.Value.State == BatchState.Running ? $"started in {batch.Value.Code}" : "as decided",
                batch.Value.Code
            )
            : Result<Moved>.Refused(begun.Refusals);
    }
}
