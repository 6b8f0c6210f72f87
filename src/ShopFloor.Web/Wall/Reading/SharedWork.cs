using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Plans;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>What is in work, with the latest plan.</summary>
public sealed record WorkNow(OpenWork Work, ReadPlan? Plan, IReadOnlyDictionary<CanId, string> Cans)
{
    /// <summary>Codes of the cans from which nothing can be sprayed any more: empty, held, past their last day.</summary>
    public IReadOnlySet<string> GoneCans { get; init; } = new HashSet<string>();

    /// <summary>What the latest plan changed and why, in a few words.</summary>
    public IReadOnlyList<string> Changes { get; init; } = [];

    /// <summary>What stands in no plan, and why.</summary>
    public IReadOnlyList<WallGap> Gaps { get; init; } = [];

    /// <summary>True when the plan after this one had to be refused.</summary>
    public bool IsPlanBehind { get; init; }

    /// <summary>What people call stations, people and coatings.</summary>
    public PlanWords Names { get; init; } = new(new Dictionary<string, string>());

    /// <summary>Who started what runs, by piece.</summary>
    public IReadOnlyDictionary<PieceId, Starter> Starters { get; init; } = new Dictionary<PieceId, Starter>();

    /// <summary>The calls that are written down and not over.</summary>
    public IReadOnlyList<CallMark> Calls { get; init; } = [];
}

/// <summary>
/// What is in work, read once after each change however many screens ask, and of the pieces only those that were changed. Reads follow one
/// another, so that none is built on less than the one before knew. Registered once.
/// </summary>
public sealed class SharedWork : IDisposable
{
    private static readonly Topic[] Topics =
    [
        Topic.Piece,
        Topic.Batch,
        Topic.Order,
        Topic.Plan,
        Topic.Station,
        Topic.Stock,
        Topic.Settings,
        Topic.Call,
    ];
    private static readonly TimeSpan OldAfter = TimeSpan.FromSeconds(10);
    private readonly IDbContextFactory<ShopContext> contexts;
    private readonly TimeProvider time;
    private readonly PlanShelf plans;
    private readonly PlanHistory history;
    private readonly PlanDesk desk;
    private readonly IDisposable subscription;
    private readonly Lock gate = new();
    private Task<WorkNow>? reading;
    private Task<WorkNow>? last;
    private DateTimeOffset readAt;
    private HashSet<PieceId> changed = [];
    private bool all = true;

    public SharedWork(
        IDbContextFactory<ShopContext> contexts,
        TimeProvider time,
        PlanShelf plans,
        PlanHistory history,
        PlanDesk desk,
        Notifier notifier
    )
    {
        (this.contexts, this.time, this.plans, this.history, this.desk) = (contexts, time, plans, history, desk);
        subscription = notifier.Subscribe(Topics, Forget);
    }

    /// <summary>What is true now. A read that began before the last change is never handed out after it.</summary>
    public Task<WorkNow> ReadAsync()
    {
        lock (gate)
        {
            // A change that nobody told of is seen after a while all the same.
            var isOld = time.GetUtcNow() - readAt > OldAfter;
            if (reading is null || reading.IsFaulted || isOld)
            {
                all |= isOld;
                readAt = time.GetUtcNow();
                reading = last = LoadAsync(last);
            }
            return reading;
        }
    }

    public void Dispose() => subscription.Dispose();

    private void Forget(IReadOnlyList<Change> changes)
    {
        lock (gate)
        {
            foreach (var change in changes)
            {
                if (change.Topic == Topic.Piece && change.Id != Guid.Empty)
                    changed.Add(new PieceId(change.Id));
                else
                    all |= change.Topic is Topic.Piece or Topic.Order or Topic.Station or Topic.Settings;
            }
            reading = null;
        }
    }

    private async Task<WorkNow> LoadAsync(Task<WorkNow>? before)
    {
        // The caller's thread tells all screens of the change; it must not do their reading.
        await Task.Yield();
        if (before is not null)
            await ((Task)before).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        var (known, ids) = Take(before is { IsCompletedSuccessfully: true } done ? await done : null);
        try
        {
            return await LoadAsync(known, ids);
        }
        catch
        {
            // What was to be read is not: the next read starts from nothing.
            lock (gate)
                all = true;
            throw;
        }
    }

    private (WorkNow? Known, HashSet<PieceId> Ids) Take(WorkNow? before)
    {
        lock (gate)
        {
            var taken = (all ? null : before, changed);
            (all, changed) = (false, []);
            return taken;
        }
    }

    private async Task<WorkNow> LoadAsync(WorkNow? known, HashSet<PieceId> ids)
    {
        await using var context = await contexts.CreateDbContextAsync();
        var work = known is null
            ? await OpenWork.LoadAsync(context, time.GetUtcNow(), null, CancellationToken.None)
            : await known.Work.WithAsync(context, time.GetUtcNow(), ids);
        var cans = await context.Cans.AsNoTracking().ToListAsync();
        var today = work.Settings.Day(work.Now);
        var latest = await plans.LatestAsync();
        var story = latest is null ? null : await history.LatestAsync(latest.Number);
        return new WorkNow(work, latest, cans.ToDictionary(c => c.Id, c => c.Code))
        {
            GoneCans = cans.Where(c => c.Unusable(today) is not null).Select(c => c.Code).ToHashSet(StringComparer.Ordinal),
            Calls = await CallMark.LoadAsync(context),
            Changes = story?.Short ?? [],
            Gaps = WallGap.Of(await PlanGaps.LoadAsync(context, latest, CancellationToken.None)),
            IsPlanBehind = desk.IsBehind,
            Names = await PlanWords.LoadAsync(context, CancellationToken.None),
            Starters = await Starter.LoadAsync(context, work.Pieces, CancellationToken.None),
        };
    }
}
