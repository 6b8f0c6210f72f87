using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>What a station cannot do, whatever the pieces want.</summary>
internal static class StationLimits
{
    internal static async Task<Refusal?> RefuseAsync(CommandWork work, BatchFacts facts, BatchSettings settings) =>
        facts.Station.Settings switch
        {
            OvenSettings oven => Dial(facts, settings, oven.LowestCelsius, oven.HighestCelsius)
                ?? await LoadVapour.RefuseTogetherAsync(work, facts.Station, [.. facts.Pieces.Select(p => (p, p.NextAttended!.Number))])
                ?? Heat(facts, settings, oven),
            PressSettings press => Dial(facts, settings, press.LowestCelsius, press.HighestCelsius) ?? Form(facts),
            _ => null,
        };

    private static Refusal? Dial(BatchFacts facts, BatchSettings settings, decimal lowest, decimal highest) =>
        settings.DialCelsius < lowest || settings.DialCelsius > highest
            ? new Refusal(
                "temperature-out",
                Text($"{facts.Station.Name} goes from {lowest:0.#} to {highest:0.#} °C; {settings.DialCelsius:0.#} °C is wanted.")
            )
            : null;

    /// <summary>What of the pieces' form a press does not take; null for other stations.</summary>
    internal static Refusal? Form(BatchFacts facts)
    {
        if (facts.Station.Settings is not PressSettings press)
            return null;
        foreach (var piece in facts.Pieces)
        {
            var it = facts.Lines[piece.Line].Piece;
            if (!press.Suits(it.Form))
                return new Refusal(
                    "press-form",
                    press.Wraps
                        ? $"{piece.Code} is not round: {facts.Station.Name} presses round pieces only."
                        : $"{piece.Code} is round: {facts.Station.Name} presses flat pieces only."
                );
            if (press.Wrap is { } wrap && it.Thickness < wrap.Thinnest)
                return new Refusal(
                    "press-thin",
                    Text($"{piece.Code} is too thin for {facts.Station.Name}, which takes {wrap.Thinnest.Millimetres:0.#} mm and more.")
                );
        }
        return null;
    }

    private static Refusal? Heat(BatchFacts facts, BatchSettings settings, OvenSettings oven)
    {
        var need = facts.Members.Sum(m => m.Step.HeatKilojoules);
        return oven.HeaterWatts is { } watts && settings.MaxSeconds is { } most && watts * (decimal)most / 1000 < need
            ? new Refusal(
                "oven-too-heavy",
                Text($"These pieces take {need:0} kJ; {facts.Station.Name} cannot give that in the time they bear. Take fewer.")
            )
            : null;
    }

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
