using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Today;

namespace ShopFloor.Web.Office.People;

/// <summary>Which promises hold by the hours that are entered now.</summary>
/// <param name="IsPlanned">False while the plan is still one by other hours: it can say nothing of them yet.</param>
/// <param name="Broken">Promises that the plan does not keep, and those that are over, the nearest first.</param>
/// <param name="Kept">How many it keeps.</param>
/// <param name="Unknown">How many it cannot tell of: not all of their pieces are here.</param>
public sealed record HeldPromises(bool IsPlanned, IReadOnlyList<PromiseRow> Broken, int Kept, int Unknown);

/// <summary>Reads which promises hold, for the page on which hours are changed. What is broken is what Today calls late or in danger.</summary>
public sealed class HeldPromisesView(IDbContextFactory<ShopContext> contexts, TimeProvider time, PlanShelf plans) : IPageView
{
    /// <summary>By the latest plan.</summary>
    public async Task<HeldPromises> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var plan = await plans.LatestAsync(cancel);
        var people = await context.People.AsNoTracking().Where(p => p.IsActive).ToListAsync(cancel);
        if (plan is null || !DayTimes.AreOf(plan.Day, plan.Zero, people, settings, ShopSnapshot.Whole(now)))
            return new HeldPromises(false, [], 0, 0);
        var all = (await OpenOrders.LoadAsync(context, (settings, now), cancel)).All(plan);
        var broken = all.Where(p => p.IsOver || p.IsInDanger).ToList();
        return new HeldPromises(
            true,
            broken,
            all.Count(p => !p.IsOver && p.IsKept),
            all.Count(p => !p.IsOver && !p.IsInDanger && !p.IsKept)
        );
    }
}
