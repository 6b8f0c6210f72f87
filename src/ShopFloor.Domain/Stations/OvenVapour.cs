using ShopFloor.Domain.Film;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Stations;

/// <summary>
/// How much solvent one load may bring into an oven: the one figure for the plan, the promise, the start of a load and the caution beside it.
/// A can names no single solvent, so it is computed for an unknown mix; the coating's data sheet, the oven's maker and local codes rule.
/// </summary>
public static class OvenVapour
{
    /// <summary>The limit of a load in g, whole milligrams: what the oven's air takes, or the owner's own figure when that is lower.</summary>
    /// <param name="oven">The oven.</param>
    public static Explained<decimal> Limit(OvenSettings oven)
    {
        var air = AirGrams(oven);
        var limit = oven.VapourLimitGrams is { } own ? Math.Min(air, Milligrams(own)) : air;
        return Explain.As(
            limit,
            Invariant($"{limit:0.###} g of solvent in one load"),
            [
                ExplainedInput.Of("oven", (double)oven.VolumeLitres, "l"),
                ExplainedInput.Of("fresh air, measured", (double)FreshAir(oven), "m³/h"),
                ExplainedInput.Of("solvent leaves in the oven within", SolventVapour.EvaporationMinutes, "min"),
                ExplainedInput.Of("allowed in a cubic metre", SolventVapour.UnknownMixGramsPerCubicMetre, "g"),
                ExplainedInput.Of("the air takes", (double)air, "g"),
                oven.VapourLimitGrams is { } set
                    ? ExplainedInput.Of("your own limit", (double)set, "g")
                    : ExplainedInput.Word("your own limit", "none"),
            ],
            "the air in the oven, or the fresh air of the time in which the solvent leaves, whichever is more; times what a cubic metre may take; your own limit when it is lower; the coating's data sheet, the oven's maker and local codes rule",
            $"{Solvent.UnknownMix.Source}: about a quarter of the lower explosive limit (25 %: NFPA 86); steady state by mass balance; time in the oven: {Explanation.CommonPractice}"
        );
    }

    /// <summary>What the limit comes from, in few words.</summary>
    /// <param name="oven">The oven.</param>
    public static string Reason(OvenSettings oven) =>
        oven.VapourLimitGrams is { } own && Milligrams(own) < AirGrams(oven) ? "the owner's own limit"
        : FreshAir(oven) > 0 ? Invariant($"{FreshAir(oven):0.##} m³/h of fresh air")
        : Invariant($"{oven.VolumeLitres:0.#} l of air, no fresh air known");

    private static decimal AirGrams(OvenSettings oven) =>
        Milligrams((decimal)SolventVapour.AllowedGrams(Solvent.UnknownMix, (double)oven.VolumeLitres, 0, (double)FreshAir(oven)));

    private static decimal FreshAir(OvenSettings oven) => oven.FreshAir ?? 0;

    // Down: a limit is never rounded up. The planner counts in milligrams too.
    private static decimal Milligrams(decimal grams) => decimal.Floor(grams * 1000) / 1000;

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
