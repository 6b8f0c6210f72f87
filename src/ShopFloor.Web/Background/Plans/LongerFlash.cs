using ShopFloor.Domain.Film;
using ShopFloor.Domain.Stations;
using Plan = ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>
/// The flash-off that the plan gives coats which would bring much solvent into the oven: longer than the recipe's shortest, up to its longest, so that
/// some pieces go into one load. Otherwise a recipe with a short flash-off fits no closed oven, and its pieces no plan.
/// </summary>
public static class LongerFlash
{
    /// <summary>A piece shall bring no more than this share of what the oven takes: common practice, no source.</summary>
    private const int Share = 10;

    /// <summary>A route with the flash-off that it needs.</summary>
    /// <param name="route">As the recipe has it.</param>
    /// <param name="done">Steps that are finished: their flash-off is over.</param>
    /// <param name="shop">Whose ovens count; the one that takes most.</param>
    public static IReadOnlyList<Plan.Step> Of(IReadOnlyList<Plan.Step> route, int done, ShopSnapshot shop)
    {
        var limit = shop
            .Stations.Select(s => s.Settings)
            .OfType<OvenSettings>()
            .Select(o => (long)(OvenVapour.Limit(o).Value * 1000))
            .DefaultIfEmpty()
            .Max();
        var fitted = route.ToArray();
        for (var i = 1; i < fitted.Length; i++)
            if (limit > 0 && fitted[i].VapourMg * (long)Share > limit && fitted[i - 1].Kind == Plan.StepKind.Rest)
                (fitted[i - 1], fitted[i]) = Longer(fitted[i - 1], fitted[i], limit, isOver: i <= done);
        return fitted;
    }

    private static (Plan.Step Flash, Plan.Step Oven) Longer(Plan.Step rest, Plan.Step oven, long limit, bool isOver)
    {
        // How long it has lain since nobody wrote down: the Bench judges by the clock when the load begins.
        if (isOver)
            return (rest, oven with { VapourMg = (int)Math.Min(oven.VapourMg, limit) });
        var wanted = rest.MinS + (60 * (int)Math.Ceiling(SolventVapour.FlashMinutes(oven.VapourMg, (double)limit / Share)));
        var least = Math.Max(rest.MinS, Math.Min(wanted, rest.MaxS ?? wanted));
        var left = oven.VapourMg * Math.Pow(0.5, (least - rest.MinS) / 60.0 / FreshLoad.DefaultHalfMinutes);
        return (rest with { MinS = least }, oven with { VapourMg = (int)Math.Ceiling(left) });
    }
}
