using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>How a running batch ends.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Celsius">True temperature that was read, °C.</param>
/// <param name="Measured">Anything else that was read off.</param>
/// <param name="End">When it really ended, when that was not now.</param>
/// <param name="Decision">What to do with members outside their window.</param>
/// <param name="Each">The same for single members, by the code of the piece; it goes before.</param>
public sealed record FinishBatchWish(
    string Code,
    decimal? Celsius = null,
    string? Measured = null,
    Ended? End = null,
    TimeDecision? Decision = null,
    IReadOnlyDictionary<string, TimeDecision>? Each = null
);

/// <summary>How a batch begins.</summary>
/// <param name="Code">Its code.</param>
/// <param name="OnlyScanned">Only with the members that were scanned in.</param>
/// <param name="Decision">What to do with members outside their window.</param>
/// <param name="Each">The same for single members, by the code of the piece; it goes before.</param>
/// <param name="TappedAt">When it was tapped, by the server's clock as the page knew it; null: now.</param>
/// <param name="IsHot">Who stands before the station says that it is hot, whatever is computed.</param>
public sealed record StartBatchWish(
    string Code,
    bool OnlyScanned = false,
    TimeDecision? Decision = null,
    IReadOnlyDictionary<string, TimeDecision>? Each = null,
    DateTimeOffset? TappedAt = null,
    bool IsHot = false
);

/// <summary>How a running batch is broken off.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Reason">Why.</param>
/// <param name="CanEmpty">True when the can ran out: its stock becomes zero.</param>
/// <param name="Done">Codes of the pieces that were sprayed before: they go on; null: none.</param>
/// <param name="BrokenHours">The station is broken and cannot be used for so many hours; null: it can.</param>
public sealed record StopBatchWish(
    string Code,
    string Reason,
    bool CanEmpty = false,
    IReadOnlyList<string>? Done = null,
    int? BrokenHours = null
);

/// <summary>Begins a batch: nobody joins it any more.</summary>
public sealed class StartBatch(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, StartBatchWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<StartBatchWish, Moved>(nameof(StartBatch), Allowed.Bench, asked, wish, work => DecideAsync(work, wish), cancel);

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, StartBatchWish wish)
    {
        var found = await FindBatch.ByCodeAsync(work, wish.Code);
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        var (batch, station) = found.Value;
        if (wish.OnlyScanned && batch.State == BatchState.Building)
        {
            var kept = batch.Arrange([.. batch.Places.Where(p => p.IsIn)], batch.Settings);
            if (!kept.IsOk)
                return Result<Moved>.Refused(kept.Refusals);
        }
        var begun = await RunBatch.StartAsync(
            work,
            batch,
            station,
            new MemberDecisions(wish.Decision, wish.Each),
            (wish.TappedAt, wish.IsHot)
        );
        return begun.IsOk
            ? Say(batch, batch.State == BatchState.Running ? "has begun" : "was given up", begun.Value)
            : Result<Moved>.Refused(begun.Refusals);
    }

    internal static Moved Say(Batch batch, string done, string also = "") =>
        new($"{batch.Code} {done}: {StepWords.Pieces(batch.Places.Count)}.{also}", [], batch.Code);
}

/// <summary>Ends a batch for every member that still runs.</summary>
public sealed class FinishBatch(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, FinishBatchWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<FinishBatchWish, Moved>(nameof(FinishBatch), Allowed.Bench, asked, wish, work => DecideAsync(work, wish), cancel);

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, FinishBatchWish wish)
    {
        var found = await FindBatch.ByCodeAsync(work, wish.Code);
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        var ended = await RunBatch.FinishAsync(work, found.Value.Batch, found.Value.Station, wish);
        return ended.IsOk ? StartBatch.Say(found.Value.Batch, "is finished") : Result<Moved>.Refused(ended.Refusals);
    }
}

/// <summary>Breaks a running batch off, with the reason; what was in it has the step to do again.</summary>
public sealed class StopBatch(CommandRunner runner) : IUseCase
{
    private const int MostBrokenHours = 30 * 24;

    public Task<Result<Moved>> RunAsync(Asked asked, StopBatchWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<StopBatchWish, Moved>(nameof(StopBatch), Allowed.Bench, asked, wish, work => DecideAsync(work, wish), cancel);

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, StopBatchWish wish)
    {
        if (string.IsNullOrWhiteSpace(wish.Reason))
            return new Refusal("reason-missing", "Say why, in a few words.", "reason");
        var found = await FindBatch.ByCodeAsync(work, wish.Code);
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        var (batch, station) = found.Value;
        if (wish.BrokenHours is < 1 or > MostBrokenHours)
            return new Refusal("broken-hours", "Say for how many hours it is broken, up to 30 days.", "hours");
        var ended = await RunBatch.StopAsync(work, batch, wish);
        if (!ended.IsOk)
            return Result<Moved>.Refused(ended.Refusals);
        return wish.BrokenHours is { } hours && TakeDown(work, station, hours) is { } down
            ? StartBatch.Say(batch, "was stopped early", $" {station.Name} cannot be used for {hours} hours.") with
            {
                Station = down,
            }
            : StartBatch.Say(batch, "was stopped early");
    }

    // One that is down for longer already stays so.
    private static StationTurn? TakeDown(CommandWork work, Station station, int hours)
    {
        var until = work.Now.AddHours(hours);
        return station.DownUntil > until ? null : StationTurns.Turn(work, station, until, "station broken");
    }
}

/// <summary>Gives up a batch that has not begun.</summary>
public sealed class DropBatch(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, string code, CancellationToken cancel = default) =>
        runner.RunAsync<string, Moved>(nameof(DropBatch), Allowed.Bench, asked, code, work => DecideAsync(work, code), cancel);

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, string code)
    {
        var found = await FindBatch.ByCodeAsync(work, code);
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        var dropped = found.Value.Batch.Drop();
        work.Touch(Topic.Batch, found.Value.Batch.Id.Value);
        return dropped.IsOk ? StartBatch.Say(found.Value.Batch, "was given up") : Result<Moved>.Refused(dropped.Refusals);
    }
}

internal static class FindBatch
{
    internal static async Task<Result<(Batch Batch, Station Station)>> ByCodeAsync(CommandWork work, string code)
    {
        var wanted = Chosen.Clean(code);
        if (await work.Context.Batches.FirstOrDefaultAsync(b => b.Code == wanted) is not { } batch)
            return new Refusal("code-unknown", $"There is no batch {wanted}.", "code");
        return (batch, await work.Context.Stations.FirstAsync(s => s.Id == batch.Station));
    }
}
