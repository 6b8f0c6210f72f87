using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Orders;

/// <summary>What would come of doing an order before all that is not near.</summary>
/// <param name="Ready">When it would be ready, shop-local; null when no time suits it.</param>
/// <param name="ReadyNow">When the plan has it ready, shop-local; null when it is not planned.</param>
/// <param name="Pushes">Orders that would be late, or later, for it.</param>
public sealed record RushEffect(DateTime? Ready, DateTime? ReadyNow, IReadOnlyList<PushedOrder> Pushes);

/// <summary>Tries what it would mean to do an order first. Nothing is changed.</summary>
public sealed class RushView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The effect; null when none of its pieces are here and not begun.</summary>
    /// <param name="number">The order.</param>
    /// <param name="cancel">Ends the reading.</param>
    public async Task<RushEffect?> ForAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var shop = await ShopSnapshot.ReadPromisedAsync(context, time.GetUtcNow(), cancel);
        var whole = DayFromShop.Make(shop);
        var name = number.ToString(CultureInfo.InvariantCulture);
        var asked = whole.Pieces.Where(p => p.Order == name && p.Done == 0).ToList();
        if (asked.Count == 0)
            return null;
        var others = whole with
        {
            Pieces = [.. whole.Pieces.Except(asked).Select(p => p with { After = [.. p.After.Except(asked.Select(a => a.Id))] })],
        };
        var rush = Promises.Prepare(others, DayPlanner.First(others)).Rush(asked);
        var ends = PlanEnds.Of(DayPlanner.First(whole)).Where(e => asked.Exists(a => a.Id == e.Key)).Select(e => e.Value).ToList();
        DateTime? Local(int? second) =>
            second is { } s ? TimeZoneInfo.ConvertTime(shop.Now.AddSeconds(s), shop.Settings.Zone).DateTime : null;
        return new RushEffect(Local(rush.EndS), ends.Count == 0 ? null : Local(ends.Max()), PushedOrder.Of(rush.Pushed, shop, 0));
    }
}
