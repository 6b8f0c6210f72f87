using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>What is in work, with the latest plan and the one before.</summary>
public sealed record WorkNow(OpenWork Work, ReadPlan? Plan, ReadPlan? Before, IReadOnlyDictionary<Domain.CanId, string> Cans)
{
    /// <summary>The calls that are written down and not over.</summary>
    public IReadOnlyList<CallMark> Calls { get; init; } = [];
}

/// <summary>
/// What is in work, read once after each change however many screens ask: fifty walls cost one read. Registered once.
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
    private readonly IDisposable subscription;
    private readonly Lock gate = new();
    private Task<WorkNow>? reading;
    private DateTimeOffset readAt;

    public SharedWork(IDbContextFactory<ShopContext> contexts, TimeProvider time, PlanShelf plans, Notifier notifier)
    {
        (this.contexts, this.time, this.plans) = (contexts, time, plans);
        subscription = notifier.Subscribe(Topics, _ => Forget());
    }

    /// <summary>What is true now. A read that began before the last change is never handed out after it.</summary>
    public Task<WorkNow> ReadAsync()
    {
        lock (gate)
        {
            // A change that nobody told of is seen after a while all the same.
            if (reading is null || reading.IsFaulted || time.GetUtcNow() - readAt > OldAfter)
            {
                readAt = time.GetUtcNow();
                reading = LoadAsync();
            }
            return reading;
        }
    }

    public void Dispose() => subscription.Dispose();

    private void Forget()
    {
        lock (gate)
            reading = null;
    }

    private async Task<WorkNow> LoadAsync()
    {
        // The caller's thread tells all screens of the change; it must not do their reading.
        await Task.Yield();
        await using var context = await contexts.CreateDbContextAsync();
        var work = await OpenWork.LoadAsync(context, time.GetUtcNow(), null, CancellationToken.None);
        var cans = await context.Cans.AsNoTracking().ToDictionaryAsync(c => c.Id, c => c.Code);
        var latest = await plans.LatestAsync();
        var before = latest is null ? null : await plans.BeforeAsync(latest.Number);
        return new WorkNow(work, latest, before, cans) { Calls = await CallMark.LoadAsync(context) };
    }
}
