using ShopFloor.Domain.Film;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>
/// The caution about solvent that is still in the coats of a load, against what the oven's air may hold. The mix is taken as unknown, which
/// is the strictest; the coatings' data sheets, the oven's maker and local codes rule.
/// </summary>
public static class LoadVapour
{
    /// <summary>The caution about steps of one load; nothing when it is within the limit or no oven's.</summary>
    /// <param name="steps">The step of each of the pieces.</param>
    /// <param name="station">Where.</param>
    public static IEnumerable<string> Of(IEnumerable<RecipeStep> steps, StationSettings? station)
    {
        var all = steps.ToList();
        if (station is OvenSettings oven && all.Max(s => s.Celsius) is { } celsius)
            if (Caution(all.Sum(s => s.VapourGrams), oven, celsius) is { } caution)
                yield return caution;
    }

    /// <summary>The caution, or null when the load is within the limit.</summary>
    /// <param name="grams">Solvent still in the load after the least flash-off, g.</param>
    /// <param name="oven">The oven.</param>
    /// <param name="celsius">True temperature, °C.</param>
    public static string? Caution(decimal grams, OvenSettings oven, decimal celsius)
    {
        var allowed = SolventVapour.AllowedGrams(Solvent.UnknownMix, (double)oven.VolumeLitres, (double)celsius);
        if ((double)grams <= allowed)
            return null;
        var more = FreshLoad.DefaultHalfMinutes * Math.Log2((double)grams / allowed);
        var own = oven.VapourLimitGrams is { } most
            ? FormattableString.Invariant($" The {most:0.##} g set for this oven is the owner's limit, above which no load begins.")
            : "";
        return FormattableString.Invariant(
            $"Solvent: about {grams:0.0} g may still be in these coats; {oven.VolumeLitres:0} l of oven air without ventilation should hold {allowed:0.0} g at most, a quarter of what can catch fire. Flash off {Math.Ceiling(more):0} min longer or bake fewer; ventilate.{own}"
        );
    }
}
