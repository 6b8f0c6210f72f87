using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>Begins and ends a batch, member by member, each judged by its own window.</summary>
internal static class RunBatch
{
    /// <summary>How far a reading may lie from the wanted temperature, °C (common practice, no source).</summary>
    internal const decimal ToleranceCelsius = 5;

    /// <summary>Why a batch ended early that every member left.</summary>
    private const string Emptied = "no piece was left in it";

    /// <summary>
    /// Begins; members that were put aside, went back to another step or have ended since leave it, and those whose decision is not to go on.
    /// What has to be decided is asked about all others at once, once it is settled that the station is hot.
    /// </summary>
    /// <returns>Those that left it so, as a sentence to put after another; empty when there are none.</returns>
    internal static async Task<Result<string>> StartAsync(
        CommandWork work,
        Batch batch,
        Station station,
        MemberDecisions decided,
        (DateTimeOffset? At, bool IsHot) tapped
    )
    {
        if (await BarredAsync(work, batch, station, tapped.IsHot) is { } barred)
            return barred;
        var questions = new MemberQuestions();
        if (await SharedAir.AskAsync(work, station) is { } hot && decided.All?.Choice != TimeChoice.GoOn)
            questions.Ask(hot);
        var (pieces, aside) = Parted(batch, await MembersAsync(work, batch));
        var members = batch.Places.Where(p => aside.All(a => a.Id != p.Piece)).ToDictionary(p => p.Piece);
        var asks = await TestFirst.OfAsync(work, pieces);
        var at = Begun.Instant(tapped.At, work.Now, pieces, await StationHeat.LastAsync(work.Context, station.Id, default));
        foreach (var piece in pieces)
        {
            var where = (batch.Id, station.Id, batch.Can);
            var decision = decided.For(piece.Code);
            var left = decision?.Choice == TimeChoice.LeaveOut;
            var most = await ReworkLimit.OfAsync(work, decision);
            var events = piece.StartOrDecide(members[piece.Id].Step, at, where, left ? null : decision, asks.For(piece), most);
            if (!events.IsOk && !MemberQuestions.IsToDecide(events.Refusals))
                return Result<string>.Refused(ManyMoves.Named(piece, events.Refusals));
            if (!events.IsOk && !left)
                questions.Ask(piece, events.Refusals);
            foreach (var happened in events.IsOk ? events.Value : [])
                work.Happen(piece, happened);
            if (!events.IsOk || !events.Value.OfType<StepStarted>().Any())
                members.Remove(piece.Id);
        }
        if (questions.Refusals is { Count: > 0 } open)
            return Result<string>.Refused(open);
        var begun = members.Count == 0 ? GiveUp(work, batch) : await BeginAsync(work, batch, station, (pieces, members, at));
        return begun.Then<string>(_ => Words(aside));
    }

    /// <summary>Those that were left out, as a sentence to put after another; empty when there are none.</summary>
    internal static string Words(IReadOnlyList<Piece> aside) =>
        aside.Count == 0 ? "" : $" Put aside or gone, and so left out: {string.Join(", ", aside.Select(p => p.Code))}.";

    private static async Task<Refusal?> BarredAsync(CommandWork work, Batch batch, Station station, bool isHot) =>
        batch.State != BatchState.Building
            ? await WhoWasFirst.OfBatchAsync(work, batch, "batch-begun")
            : await ReadyToBegin.RefuseAsync(work, batch, station)
                ?? await OccupiedAsync(work, batch, station)
                ?? (isHot ? null : await ColdStation.AskAsync(work, batch, station));

    // One that went back to an earlier step meanwhile is not up for this one either.
    private static (List<Piece> Staying, List<Piece> Aside) Parted(Batch batch, IReadOnlyList<Piece> members)
    {
        var steps = batch.Places.ToDictionary(p => p.Piece, p => p.Step);
        var parted = members.ToLookup(p => p.State == PieceState.Held || p.State.IsEnd() || p.NextAttended?.Number != steps[p.Id]);
        return ([.. parted[false]], [.. parted[true]]);
    }

    private static async Task<Result<Done>> BeginAsync(
        CommandWork work,
        Batch batch,
        Station station,
        (IReadOnlyList<Piece> Pieces, Dictionary<PieceId, BatchPlace> Places, DateTimeOffset At) going
    )
    {
        var members = going.Places;
        var inside = going.Pieces.Where(p => members.ContainsKey(p.Id)).Select(p => (p, members[p.Id].Step)).ToList();
        if (await LoadVapour.RefuseAtAsync(work, station, inside, going.At) is { } wet)
            return wet;
        // The fewer go in, the sooner the heater has given them their heat.
        var settings = LoadHeat.Within(batch.Settings, station, StepsIn(batch, going.Pieces));
        var kept = batch.Arrange([.. batch.Places.Where(p => members.ContainsKey(p.Piece))], settings);
        work.Touch(Topic.Batch, batch.Id.Value);
        return kept.Then(_ => batch.Start(going.At));
    }

    private static Result<Done> GiveUp(CommandWork work, Batch batch)
    {
        work.Touch(Topic.Batch, batch.Id.Value);
        return batch.Drop();
    }

    /// <summary>Ends it for every member that still runs.</summary>
    internal static async Task<Result<Done>> FinishAsync(CommandWork work, Batch batch, Station station, FinishBatchWish wish)
    {
        if (batch.State != BatchState.Running)
            return await WhoWasFirst.OfBatchAsync(work, batch, "batch-not-running");
        var isDecided = wish.Decision is not null || wish.Each is { Count: > 0 };
        var end = Ended.Instant(wish.End, batch.StartedAt, LeastSeconds(batch), work.Now, isDecided);
        if (!end.IsOk)
            return Result<Done>.Refused(end.Refusals);
        var wrong = TemperatureOff(batch, wish.Celsius);
        var reading = Reading(batch, wish);
        var questions = new MemberQuestions();
        var decided = new MemberDecisions(wish.Decision, wish.Each);
        var members = await MembersAsync(work, batch);
        var heat = LoadHeat.Seconds(station, StepsIn(batch, members));
        foreach (var piece in members)
        {
            if (Running(piece, batch.Id) is not { } item)
                continue;
            var also = wrong ?? LoadHeat.Ask(batch, heat, item, end.Value);
            var decision = decided.For(piece.Code);
            var most = await ReworkLimit.OfAsync(work, decision);
            var events = piece.FinishOrDecide(item.Number, end.Value, reading, decision, also, batch.Settings.CountsFrom, most);
            if (!events.IsOk && !MemberQuestions.IsToDecide(events.Refusals))
                return Result<Done>.Refused(ManyMoves.Named(piece, events.Refusals));
            if (!events.IsOk)
            {
                questions.Ask(piece, events.Refusals);
                continue;
            }
            await SprayStock.PostAsync(work, piece, item);
            foreach (var happened in events.Value)
                work.Happen(piece, happened);
        }
        if (questions.Refusals is { Count: > 0 } open)
            return Result<Done>.Refused(open);
        work.Touch(Topic.Batch, batch.Id.Value);
        await UseStock.SheetAsync(work, batch, default);
        return batch.Finish(end.Value, reading, null);
    }

    /// <summary>Breaks it off: members that still run have the step to do again, but for those that were sprayed before the can was empty.</summary>
    internal static async Task<Result<Done>> StopAsync(CommandWork work, Batch batch, StopBatchWish wish)
    {
        if (batch.State != BatchState.Running)
            return await WhoWasFirst.OfBatchAsync(work, batch, "batch-not-running");
        foreach (var piece in await MembersAsync(work, batch))
        {
            if (Running(piece, batch.Id) is not { } item)
                continue;
            var isDone = batch.Kind == BatchKind.SprayRound && wish.Done?.Contains(piece.Code) == true;
            var answer = work.Happen(
                piece,
                isDone ? piece.Finish(item.Number, work.Now, null) : piece.BreakOff(item.Number, wish.Reason, work.Now)
            );
            if (!answer.IsOk)
                return Result<Done>.Refused(ManyMoves.Named(piece, answer.Refusals));
            if (isDone)
                await SprayStock.PostAsync(work, piece, item);
        }
        if (wish.CanEmpty && batch.Can is { } id)
            SprayStock.Empty(work, await work.Context.Cans.FirstAsync(c => c.Id == id), batch.Id);
        work.Touch(Topic.Batch, batch.Id.Value);
        await UseStock.SheetAsync(work, batch, default);
        return batch.Finish(work.Now, null, wish.Reason.Trim());
    }

    /// <summary>Closes a batch whose last member was finished on its own, or left it otherwise: its station is free again.</summary>
    /// <returns>That it is over, as a sentence to put after another; empty when it is not, or was before.</returns>
    internal static async Task<string> CloseIfOverAsync(CommandWork work, BatchId id, DateTimeOffset at)
    {
        var batch = await work.Context.Batches.FirstAsync(b => b.Id == id);
        if (batch.State != BatchState.Running)
            return "";
        var members = await MembersAsync(work, batch);
        if (members.Any(p => Running(p, id) is not null))
            return "";
        batch.Finish(at, null, members.Any(p => p.Items.Any(i => i.Batch == id && i.State == WorkState.Done)) ? null : Emptied);
        await UseStock.SheetAsync(work, batch, default);
        work.Touch(Topic.Batch, id.Value);
        return $" Nothing runs in {batch.Code} any more: it is over.";
    }

    /// <summary>The batches in which something of these pieces runs: asked before they leave, for they may be over then.</summary>
    internal static IReadOnlyList<BatchId> Of(IEnumerable<Piece> pieces) =>
        [.. pieces.SelectMany(p => p.Items).Where(i => i.State == WorkState.Running).Select(i => i.Batch).OfType<BatchId>().Distinct()];

    // A piece that is lost or gone waits for nothing, whatever stands at its step.
    internal static WorkItem? Running(Piece piece, BatchId batch) =>
        piece.State.IsEnd() ? null : piece.Items.FirstOrDefault(i => i.Batch == batch && i.State == WorkState.Running);

    internal static async Task<IReadOnlyList<Piece>> MembersAsync(CommandWork work, Batch batch)
    {
        var ids = batch.Places.Select(p => p.Piece).ToList();
        return await work.Context.Pieces.Where(p => ids.Contains(p.Id)).OrderBy(p => p.Code).ToListAsync();
    }

    private static IReadOnlyList<RecipeStep> StepsIn(Batch batch, IEnumerable<Piece> members) =>
        [.. members.SelectMany(p => p.Items.Where(i => i.Batch == batch.Id && i.State != WorkState.Failed)).Select(i => i.Settings)];

    // From its beginning: what was in a cold oven comes on top.
    private static int LeastSeconds(Batch batch) =>
        batch.Settings.MinSeconds + (int)((batch.CountsFrom - batch.StartedAt)?.TotalSeconds ?? 0);

    private static Refusal? TemperatureOff(Batch batch, decimal? read) =>
        read is { } is_ && batch.Settings.Celsius is { } wanted && Math.Abs(is_ - wanted) > ToleranceCelsius
            ? new Refusal(
                "temperature-off",
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{is_:0.#} °C was read where {wanted:0.#} °C is wanted. Decide what to do with the pieces."
                ),
                "celsius"
            )
            : null;

    private static string? Reading(Batch batch, FinishBatchWish wish)
    {
        var words = new List<string>();
        if (batch.Measured is { Length: > 0 } before)
            words.Add(before);
        if (wish.Celsius is { } read)
            words.Add(string.Create(CultureInfo.InvariantCulture, $"{read:0.#} °C"));
        else if (batch is { Kind: BatchKind.OvenLoad, Settings.Celsius: not null })
            words.Add("taken out without a reading");
        if (!string.IsNullOrWhiteSpace(wish.Measured))
            words.Add(wish.Measured.Trim());
        if (wish.End is { AtSignal: true })
            words.Add("ended at the signal");
        return words.Count == 0 ? null : string.Join("; ", words);
    }

    private static async Task<Refusal?> OccupiedAsync(CommandWork work, Batch batch, Station station)
    {
        var other = await work.Context.Batches.FirstOrDefaultAsync(b =>
            b.State == BatchState.Running && b.Station == station.Id && b.Id != batch.Id
        );
        return other is null ? null : new Refusal("station-busy", $"{station.Name} is taken by {other.Code}. Finish or stop it first.");
    }
}
