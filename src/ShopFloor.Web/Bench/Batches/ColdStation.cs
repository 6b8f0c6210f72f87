using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>
/// Asks before a batch begins in an oven or a press that by its rates is cold. When somebody switched it on the program does not know, so
/// that it is hot is taken at the word of who stands before it.
/// </summary>
internal static class ColdStation
{
    /// <summary>Code of the question.</summary>
    internal const string Code = "cold";

    /// <summary>So soon after a batch of the same heat nobody has switched it off (common practice, no source).</summary>
    private static readonly TimeSpan StaysOn = TimeSpan.FromMinutes(15);

    /// <summary>The question; null: it is warm, or how fast it heats is not known.</summary>
    internal static async Task<Refusal?> AskAsync(CommandWork work, Batch batch, Station station)
    {
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, default);
        var now = (work.Now, settings.Profile.RoomCelsius);
        if (batch.Settings.Celsius is not { } wanted || await WarmUp.OfAsync(work.Context, station, batch, now, default) is not { } cold)
            return null;
        var enough = wanted - RunBatch.ToleranceCelsius;
        if (cold.Has >= enough || (cold.Last?.Settings.Celsius >= enough && cold.Last.FinishedAt >= work.Now - StaysOn))
            return null;
        var at = TimeZoneInfo.ConvertTime(cold.At, settings.Zone).ToString("t", CultureInfo.CurrentCulture);
        return new Refusal(
            Code,
            string.Create(
                CultureInfo.InvariantCulture,
                $"By how fast it heats and cools, {station.Name} has about {cold.Has:0} °C now where {wanted:0.#} °C is wanted, and is warm at about {at} if it is switched on now. Is it really hot?"
            )
        );
    }
}
