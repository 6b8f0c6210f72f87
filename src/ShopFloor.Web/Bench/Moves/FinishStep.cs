using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>
/// Ends the running step of a piece or of so many of a tray. Handwork that nobody started is begun and ended at once; at Tape each piece
/// gets its print.
/// </summary>
public sealed class FinishStep(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, FinishWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<FinishWish, Moved>(nameof(FinishStep), Allowed.Bench, asked, wish, work => DecideAsync(work, wish, cancel), cancel);

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, FinishWish wish, CancellationToken cancel)
    {
        var step = wish.Target.Step ?? 0;
        var found = await Chosen.FindAsync(work, wish.Target, WorkState.Done, p => MayEnd(p, step), "on this step");
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        var asks = await TestFirst.OfAsync(work, found.Value, cancel);
        var prints = await Unprinted.OfAsync(work, found.Value, cancel);
        var ages = await PrintAge.OfAsync(work, found.Value, cancel);
        var coats = await CoatToCome.OfAsync(work, found.Value, cancel);
        Refusal? Ask(Piece piece) =>
            asks.For(piece) ?? prints.GetValueOrDefault(piece.Id) ?? ages.GetValueOrDefault(piece.Id) ?? coats.GetValueOrDefault(piece.Id);
        foreach (var piece in found.Value)
        {
            if (!IsUp(piece, step) && await WhoWasFirst.AskAsync(work, piece, step, WorkState.Done) is { } first)
                return first;
            var answer = await FinishAsync(work, piece, wish, Ask(piece), cancel);
            if (!answer.IsOk)
                return Result<Moved>.Refused(ManyMoves.Named(piece, answer.Refusals));
        }
        foreach (var batch in found.Value.Select(p => p.Items.First(i => i.Number == step).Batch).OfType<BatchId>().Distinct())
            await RunBatch.CloseIfOverAsync(work, batch, work.Now);
        return ManyMoves.Say(found.Value, $"through {StepWords.Of(found.Value[0].Items.First(i => i.Number == step).Settings)}");
    }

    private static bool IsUp(Piece piece, int step) =>
        piece.NextAttended is { } next && next.Number == step && (next.State == WorkState.Running || IsHandwork(next.Kind));

    // One of a tray that was spoiled or put aside does not keep the others from going on.
    private static bool MayEnd(Piece piece, int step) =>
        IsUp(piece, step)
        && PieceTransitions.Allows(piece.State, piece.NextAttended!.State == WorkState.Running ? PieceMove.Finish : PieceMove.Start);

    /// <summary>Steps done by hand, whose end alone may be told.</summary>
    internal static bool IsHandwork(StepKind kind) => BatchRule.KindFor(kind) is null && kind is not (StepKind.Rest or StepKind.Inspect);

    private static async Task<Result<Done>> FinishAsync(
        CommandWork work,
        Piece piece,
        FinishWish wish,
        Refusal? toDecide,
        CancellationToken cancel
    )
    {
        var step = wish.Target.Step ?? 0;
        var most = await ReworkLimit.OfAsync(work, wish.Decision, cancel);
        var item = piece.Items.FirstOrDefault(i => i.Number == step);
        if (item is not null && item.State != WorkState.Running && IsUp(piece, step))
        {
            var can = (await SprayStock.WipedFromAsync(work, [item], cancel))[0];
            var at = Begun.Instant(wish.End?.TappedAt, work.Now, [piece]);
            var begun = Happen(work, piece, piece.StartOrDecide(step, at, (null, null, can), wish.Decision, toDecide, most));
            // What was decided about the wait may have taken the piece off its way; then there is nothing left to end.
            if (!begun.IsOk || item.State != WorkState.Running)
                return begun;
        }
        if (item is { Kind: StepKind.Tape, State: WorkState.Running } && !piece.IsBound)
        {
            var bound = await TapePrints.BindNextAsync(work, piece, wish.Text, cancel);
            if (!bound.IsOk)
                return bound;
        }
        var end = Ended.Instant(wish.End, item?.StartedAt, item?.Settings.MinSeconds ?? 0, work.Now, wish.Decision is not null);
        if (!end.IsOk)
            return Result<Done>.Refused(end.Refusals);
        var since = item?.Batch is { } id ? (await work.Context.Batches.FindAsync([id], cancel))?.Settings.CountsFrom : null;
        var ended = piece.FinishOrDecide(step, end.Value, Reading(wish), wish.Decision, null, since, most);
        if (ended.IsOk)
            await SprayStock.PostAsync(work, piece, item!);
        if (ended.IsOk && item!.Kind == StepKind.Tape)
            await UseStock.TapeAsync(work, piece.Id, cancel);
        return Happen(work, piece, ended);
    }

    private static Result<Done> Happen(CommandWork work, Piece piece, Result<IReadOnlyList<PieceEvent>> events)
    {
        if (!events.IsOk)
            return Result<Done>.Refused(events.Refusals);
        foreach (var happened in events.Value)
            work.Happen(piece, happened);
        return default(Done);
    }

    private static string? Reading(FinishWish wish)
    {
        var celsius = wish.Celsius is { } read ? string.Create(CultureInfo.InvariantCulture, $"{read:0.#} °C") : null;
        var words = new[] { celsius, wish.Measured?.Trim(), wish.End is { AtSignal: true } ? "ended at the signal" : null };
        var said = string.Join("; ", words.Where(w => !string.IsNullOrEmpty(w)));
        return said.Length == 0 ? null : said;
    }
}
