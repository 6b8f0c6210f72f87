using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>A load is through only when the heater can have given all its pieces their heat: the plan reckons with the same time.</summary>
internal static class LoadHeat
{
    /// <summary>What the heater needs for these, whole seconds; 0 for another station, and where the heater does not limit.</summary>
    /// <param name="station">Where.</param>
    /// <param name="steps">The step in the oven of each piece.</param>
    internal static int Seconds(Station station, IEnumerable<RecipeStep> steps) =>
        station.Settings is OvenSettings { HeaterWatts: { } watts and > 0 }
            ? (int)Math.Ceiling(steps.Sum(s => s.HeatKilojoules) * 1000 / watts)
            : 0;

    /// <summary>The setting of a load of these, with no shorter time than that.</summary>
    internal static BatchSettings Within(BatchSettings settings, Station station, IReadOnlyList<RecipeStep> steps) =>
        Seconds(station, steps) is var heat and > 0
            ? settings with
            {
                MinSeconds = Math.Max(heat, steps.Max(s => s.MinSeconds)),
            }
            : settings;

    /// <summary>What has to be decided about a piece that comes out before; null: nothing, or its own time is too short already.</summary>
    /// <param name="batch">The load.</param>
    /// <param name="heat">What the heater needs for it, seconds.</param>
    /// <param name="item">The piece's step in it.</param>
    /// <param name="end">When it comes out.</param>
    internal static Refusal? Ask(Batch batch, int heat, WorkItem item, DateTimeOffset end)
    {
        var ran = (long)Math.Max(0, (end - (batch.CountsFrom ?? end)).TotalSeconds);
        return ran >= heat || ran < item.Settings.MinSeconds
            ? null
            : new Refusal(
                "too-early",
                $"The heater needs {StepWords.Span(heat)} for the heat of this load, which has run {StepWords.Span(ran)}: {StepWords.Span(heat - ran)} to go."
            );
    }
}
