using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>A published plan, read.</summary>
/// <param name="Number">Its version.</param>
/// <param name="Zero">The instant its seconds count from, UTC.</param>
/// <param name="Day">The day it plans.</param>
/// <param name="Plan">The plan.</param>
public sealed record SeenPlan(int Number, DateTimeOffset Zero, Day Day, Plan Plan)
{
    /// <summary>The instant of a second of the plan, UTC.</summary>
    public DateTimeOffset At(int second) => Zero.AddSeconds(second);
}

/// <summary>What is in work, with the latest plan and the one before.</summary>
public sealed record WorkNow(OpenWork Work, SeenPlan? Plan, SeenPlan? Before, IReadOnlyDictionary<Domain.CanId, string> Cans);

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
    ];
    private static readonly TimeSpan OldAfter = TimeSpan.FromSeconds(10);
    private readonly IDbContextFactory<ShopContext> contexts;
    private readonly TimeProvider time;
    private readonly IDisposable subscription;
    private readonly Lock gate = new();
    private Task<WorkNow>? reading;
    private DateTimeOffset readAt;
    private (SeenPlan? Latest, SeenPlan? Before) plans;

    public SharedWork(IDbContextFactory<ShopContext> contexts, TimeProvider time, Notifier notifier)
    {
        (this.contexts, this.time) = (contexts, time);
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
        var (latest, before) = await PlansAsync(context);
        return new WorkNow(work, latest, before, cans);
    }

    private async Task<(SeenPlan?, SeenPlan?)> PlansAsync(ShopContext context)
    {
        var number = await context.Plans.MaxAsync(p => (int?)p.Number) ?? 0;
        if (number == 0)
            return (null, null);
        if (plans.Latest?.Number == number)
            return plans;
        var before = plans.Latest?.Number == number - 1 ? plans.Latest : await SeeAsync(context, number - 1);
        plans = (await SeeAsync(context, number), before);
        return plans;
    }

    private static async Task<SeenPlan?> SeeAsync(ShopContext context, int number)
    {
        if (await context.Plans.AsNoTracking().FirstOrDefaultAsync(p => p.Number == number) is not { } row)
            return null;
        var day = DayReader.Read(Encoding.UTF8.GetBytes(row.DayJson), "day");
        var plan = PlanReader.Read(Encoding.UTF8.GetBytes(row.PlanJson), "plan");
        return day.IsOk && plan.IsOk ? new SeenPlan(row.Number, row.Zero, day.Value, plan.Value) : null;
    }
}
