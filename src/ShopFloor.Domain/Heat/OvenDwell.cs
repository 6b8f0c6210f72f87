using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>What a recipe asks of the oven, valid for its reference piece.</summary>
/// <param name="CureCelsius">Cure temperature in °C, <see cref="LeastCelsius"/> to <see cref="MostCelsius"/>.</param>
/// <param name="MinMinutes">Shortest dwell in min, above 0 to <see cref="MostMinutes"/>, counted from the moment the set point is regained after loading.</param>
/// <param name="MaxMinutes">Longest dwell in min, at least the shortest, to <see cref="MostMinutes"/>.</param>
/// <param name="Reference">The piece that the recipe was tried with.</param>
public sealed record CureRecipe(double CureCelsius, double MinMinutes, double MaxMinutes, HeatBody Reference)
{
    /// <summary>How near the cure temperature counts as being there: 5 K, common practice, no source.</summary>
    public const double ThereWithinKelvin = 5;

    /// <summary>Coldest bake whose time can be told, °C.</summary>
    public const int LeastCelsius = 60;

    /// <summary>Hottest bake whose time can be told, °C.</summary>
    public const int MostCelsius = 300;

    /// <summary>Longest dwell of a recipe, min.</summary>
    public const int MostMinutes = 600;
}

/// <summary>From when to when a piece may leave the oven, both ends inclusive, counted from the moment the set point is regained.</summary>
/// <param name="MinMinutes">Shortest dwell in min.</param>
/// <param name="MaxMinutes">Longest dwell in min, at least the shortest.</param>
/// <param name="ExtraMinutes">Heat-up of the piece less that of the reference piece in min; negative for a lighter piece.</param>
public readonly record struct DwellWindow(double MinMinutes, double MaxMinutes, double ExtraMinutes)
{
    /// <summary>True when one dwell suits both.</summary>
    public bool Meets(DwellWindow other) => MinMinutes <= other.MaxMinutes && other.MinMinutes <= MaxMinutes;

    /// <summary>The window rounded inward to whole seconds for planning: the shortest up, the longest down but never below the shortest.</summary>
    public (int MinSeconds, int MaxSeconds) InWholeSeconds()
    {
        var min = (int)Math.Ceiling((MinMinutes * 60) - 1e-6);
        return (min, Math.Max(min, (int)Math.Floor((MaxMinutes * 60) + 1e-6)));
    }
}

/// <summary>Each piece's own oven window: the recipe's dwell plus what the piece needs longer than the reference piece to get hot.</summary>
public static class OvenDwell
{
    /// <summary>No dwell is shorter than this in min, however light the piece: common practice, no source.</summary>
    public const double LeastMinutes = 1;

    /// <summary>
    /// The window of a piece that may go into any of several ovens: baked long enough in each, and too long in none as far as half the width of the
    /// recipe's window is left (half: common practice, no source; somebody has to have the time to take it out). What is heavier than the reference
    /// piece has its longest wait in the slowest oven, what is lighter in the fastest.
    /// </summary>
    /// <param name="piece">The piece.</param>
    /// <param name="recipe">What the recipe asks of its reference piece.</param>
    /// <param name="ovens">The ovens, at least one.</param>
    public static Result<Explained<DwellWindow>> WindowFor(HeatBody piece, CureRecipe recipe, IReadOnlyList<OvenSettings> ovens)
    {
        List<Explained<DwellWindow>> windows = [];
        foreach (var oven in ovens)
        {
            var one = WindowFor(piece, recipe, oven);
            if (!one.IsOk)
                return one;
            windows.Add(one.Value);
        }
        var last = windows.MaxBy(w => w.Value.MinMinutes)!;
        var half = (recipe.MaxMinutes - recipe.MinMinutes) / 2;
        var most = Math.Max(last.Value.MinMinutes + half, windows.Min(w => w.Value.MaxMinutes));
        return most < last.Value.MaxMinutes ? Cut(last, most, ovens.Count) : last;
    }

    private static Explained<DwellWindow> Cut(Explained<DwellWindow> window, double most, int ovens)
    {
        var cut = window.Value with { MaxMinutes = most };
        var note = string.Create(
            CultureInfo.InvariantCulture,
            $"It may go into any of {ovens} ovens: the shortest time is that of the oven above, the longest is cut to {most:0.#} min for the others."
        );
        return new(cut, window.Why with { Answer = InWords(cut), Notes = [.. window.Why.Notes, note] });
    }

    private static string InWords(DwellWindow window) =>
        string.Create(CultureInfo.InvariantCulture, $"{window.MinMinutes:0.#} to {window.MaxMinutes:0.#} min");

    /// <summary>The window of a piece.</summary>
    /// <param name="piece">The piece.</param>
    /// <param name="recipe">What the recipe asks of its reference piece.</param>
    /// <param name="oven">The oven.</param>
    public static Result<Explained<DwellWindow>> WindowFor(HeatBody piece, CureRecipe recipe, OvenSettings oven) =>
        oven.Check(recipe.Reference.Check(piece.Check(new Entered())))
            .Between(recipe.CureCelsius, CureRecipe.LeastCelsius, CureRecipe.MostCelsius, "The cure temperature", "°C")
            .Positive(recipe.MinMinutes, CureRecipe.MostMinutes, "The shortest time in the oven", "min")
            .Positive(recipe.MaxMinutes, CureRecipe.MostMinutes, "The longest time in the oven", "min")
            .That(
                !(recipe.MaxMinutes < recipe.MinMinutes),
                "window-upside-down",
                "The longest time in the oven must not be shorter than the shortest.",
                nameof(recipe.MaxMinutes)
            )
            .Then<Explained<DwellWindow>>(() =>
            {
                var around = Surroundings.Oven(recipe.CureCelsius, oven.ConvectionWM2K, oven.Emissivity);
                var there = recipe.CureCelsius - CureRecipe.ThereWithinKelvin;
                var piecesTime = HeatUp.Time(piece, around, oven.RoomCelsius, there);
                var referenceTime = HeatUp.Time(recipe.Reference, around, oven.RoomCelsius, there);
                var extra = (piecesTime.Seconds - referenceTime.Seconds) / 60;
                var min = Math.Max(LeastMinutes, recipe.MinMinutes + extra);
                var window = new DwellWindow(min, Math.Max(min, recipe.MaxMinutes + extra), extra);
                return Explain.As(
                    window,
                    InWords(window),
                    [
                        ExplainedInput.Of("cure", recipe.CureCelsius, "°C"),
                        ExplainedInput.Of("recipe, shortest", recipe.MinMinutes, "min"),
                        ExplainedInput.Of("recipe, longest", recipe.MaxMinutes, "min"),
                        ExplainedInput.Of("heat-up of this piece", piecesTime.Seconds / 60, "min"),
                        ExplainedInput.Of("heat-up of the reference piece", referenceTime.Seconds / 60, "min"),
                        ExplainedInput.Of("oven's coefficient", oven.ConvectionWM2K, "W/(m²·K)"),
                        ExplainedInput.Of("room", oven.RoomCelsius, "°C"),
                    ],
                    $"recipe's time in the oven + heat-up of this piece − heat-up of the reference piece, each to {CureRecipe.ThereWithinKelvin:0} K below the cure temperature",
                    "Incropera, Fundamentals of Heat and Mass Transfer, ch. 5; the clock of a cure starts when the part is hot (published curing guides)",
                    isEstimate: true,
                    "The coating's data sheet rules over this."
                );
            });
}
