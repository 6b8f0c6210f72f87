using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Orders.Changes;

/// <summary>When a booked order can honestly be ready.</summary>
/// <param name="At">Shop-local, with the reserve; null: no time was found for all of it within the days that are planned.</param>
public sealed record EarliestDay(DateTime? At);

/// <summary>
/// Asks the planner when what is left of a booked order can be ready without making anybody else late, as a new order asks. Nothing is
/// changed.
/// </summary>
public sealed class EarliestView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int FarDays = 40;

    /// <summary>The day; null when nothing of the order can be worked on.</summary>
    public async Task<EarliestDay?> ForAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var shop = await ShopSnapshot.ReadPromisedAsync(context, time.GetUtcNow(), cancel);
        var whole = DayFromShop.Make(shop);
        var name = number.ToString(CultureInfo.InvariantCulture);
        var left = whole.Pieces.Where(p => p.Order == name).ToList();
        if (left.Count == 0)
            return null;
        var asked = left.Where(p => p.Done == 0).ToList();
        var others = whole with
        {
            Pieces = [.. whole.Pieces.Except(asked).Select(p => p with { After = [.. p.After.Except(asked.Select(a => a.Id))] })],
        };
        var plan = DayPlanner.First(others);
        // What is begun goes on; what is not is asked for anew, as if nothing had been promised for it.
        var ends = PlanEnds.Of(plan);
        var begun = left.Except(asked).Select(p => ends.TryGetValue(p.Id, out var end) ? end : (int?)null).ToList();
        if (asked.Count > 0)
            begun.Add(Promises.Prepare(others, plan).Ask([asked.ConvertAll(p => p with { PromiseS = FarDays * 86_400 })])[0].EndS);
        if (begun.Contains(null))
            return new EarliestDay(null);
        var rush = shop.Orders.Values.First(o => o.Number == number).IsRush;
        var at = PromiseRounding.Up(shop, begun.Max()!.Value, rush);
        return new EarliestDay(TimeZoneInfo.ConvertTime(at, shop.Settings.Zone).DateTime);
    }
}
