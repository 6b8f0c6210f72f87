using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Stations;

/// <summary>What a station can be heated to, true °C.</summary>
/// <param name="Lowest">At its lowest dial setting.</param>
/// <param name="Highest">At its highest dial setting.</param>
public sealed record HeatReach(decimal Lowest, decimal Highest)
{
    /// <summary>The reach of an oven or press; null for a station without heat.</summary>
    public static HeatReach? Of(StationSettings settings) =>
        settings switch
        {
            OvenSettings oven => Of(oven.LowestCelsius, oven.HighestCelsius, oven.ErrorCelsius),
            PressSettings press => Of(press.LowestCelsius, press.HighestCelsius, press.ErrorCelsius),
            _ => null,
        };

    /// <summary>
    /// What the ovens, or the presses, reach together, when none of them holds the temperature of a step. Null when one does, when the step
    /// takes no heat, and when there is no such station at all, which a workshop that is being set up need not have yet.
    /// </summary>
    public static HeatReach? Missed(RecipeStep step, IEnumerable<StationSettings> stations)
    {
        if (step is not { Celsius: { } celsius } || !step.Kind.HasWindow())
            return null;
        var all = stations.Where(s => step.Kind.InOven() ? s is OvenSettings : s is PressSettings).Select(Of).OfType<HeatReach>().ToList();
        return all.Count == 0 || all.Exists(r => celsius >= r.Lowest && celsius <= r.Highest)
            ? null
            : new HeatReach(all.Min(r => r.Lowest), all.Max(r => r.Highest));
    }

    /// <summary>The same for a piece of that form: of the presses, only those that press such pieces count.</summary>
    public static HeatReach? Missed(RecipeStep step, IEnumerable<StationSettings> stations, Form form) =>
        Missed(step, stations.Where(s => s is not PressSettings press || press.Suits(form)));

    // The error is what is shown minus what is true.
    private static HeatReach Of(decimal lowest, decimal highest, decimal error) => new(lowest - error, highest - error);
}
