using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>
/// A load whose coats still hold more solvent than its oven takes, in words: beforehand as a caution, at the start as the reason why not. Both
/// judge by the figure that the plan goes by.
/// </summary>
public static class LoadVapour
{
    /// <summary>The caution about pieces that would go into an oven together; null when it takes them, or it is no oven.</summary>
    /// <param name="pieces">The pieces, with the number of the step in the oven.</param>
    /// <param name="station">Where.</param>
    /// <param name="at">When, UTC; none goes in before its shortest flash-off is over.</param>
    /// <param name="zone">The shop's.</param>
    public static string? Caution(IReadOnlyList<(Piece, int)> pieces, Station? station, DateTimeOffset at, TimeZoneInfo zone) =>
        station?.Settings is OvenSettings oven && LoadSolvent.At(pieces, oven, at) is { IsTooMuch: true } load
            ? Words(load, (pieces.Count, station.Name, oven), zone)
            : null;

    /// <summary>Why these cannot lie in one load; null when they can, or it is no oven.</summary>
    internal static async Task<Refusal?> RefuseTogetherAsync(CommandWork work, Station station, IReadOnlyList<(Piece, int)> pieces) =>
        station.Settings is OvenSettings oven
            ? await RefuseAsync(work, LoadSolvent.At(pieces, oven, work.Now), (pieces.Count, station.Name, oven))
            : null;

    /// <summary>Why these cannot go in at a moment; null when they can, or it is no oven.</summary>
    internal static async Task<Refusal?> RefuseAtAsync(
        CommandWork work,
        Station station,
        IReadOnlyList<(Piece, int)> pieces,
        DateTimeOffset at
    ) =>
        station.Settings is OvenSettings oven
            ? await RefuseAsync(work, LoadSolvent.Now(pieces, oven, at), (pieces.Count, station.Name, oven))
            : null;

    private static async Task<Refusal?> RefuseAsync(CommandWork work, LoadSolvent load, (int Count, string Name, OvenSettings Oven) where)
    {
        if (!load.IsTooMuch)
            return null;
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, default);
        return new Refusal("oven-vapour", Words(load, where, settings.Zone));
    }

    private static string Words(LoadSolvent load, (int Count, string Name, OvenSettings Oven) where, TimeZoneInfo zone)
    {
        var until = TimeZoneInfo.ConvertTime(load.FlashUntil, zone).ToString("t", CultureInfo.CurrentCulture);
        var helps = load.IsWithinRecipe
            ? $"After flash-off until {until} all may."
            : $"All would need flash-off until {until}, longer than their recipe's longest.";
        return FormattableString.Invariant(
            $"Solvent: about {load.Grams:0.0##} g is still in these coats; {where.Name} takes {load.LimitGrams:0.0##} g in one load ({OvenVapour.Reason(where.Oven)}). {load.MayGoIn} of {where.Count} may go in now. {helps} More fresh air through the oven, measured and entered at its station, raises what its air takes."
        );
    }
}
