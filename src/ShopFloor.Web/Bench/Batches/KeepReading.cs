using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>What was read in a station whose batch stays in.</summary>
/// <param name="Code">Code of the batch.</param>
/// <param name="Celsius">True temperature, °C.</param>
public sealed record ReadingWish(string Code, decimal? Celsius);

/// <summary>
/// Keeps a reading with a batch that was not ended by it: that its oven was too cold stays known when it is warm at the end. What was in a cold
/// oven does not count: the shortest time of the load counts anew, from when the oven is warm by how fast it heats, or from the reading where nobody
/// can say; and from a later reading that finds the oven warm sooner. Its longest time goes on: what was almost warm has baked.
/// </summary>
public sealed class KeepReading(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, ReadingWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<ReadingWish, Moved>(
            nameof(KeepReading),
            Allowed.Bench,
            asked,
            wish,
            work => DecideAsync(work, wish, cancel),
            cancel
        );

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, ReadingWish wish, CancellationToken cancel)
    {
        if (wish.Celsius is not (>= 0 and <= 500))
            return new Refusal("reading-missing", "Say what was read, in °C.", "celsius");
        var found = await FindBatch.ByCodeAsync(work, wish.Code);
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        var (batch, station) = found.Value;
        var zone = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Zone;
        var at = Clock(work.Now);
        var anew = CountsAnew(work, batch, station, wish.Celsius.Value);
        var read = string.Create(CultureInfo.InvariantCulture, $"{wish.Celsius:0.#} °C");
        work.Touch(Topic.Batch, batch.Id.Value);
        return batch
            .KeepReading($"{read} at {at}", anew)
            .Then<Moved>(_ => new Moved($"{read} is kept with {batch.Code}, which stays in{Words()}.", [], batch.Code));
        string Clock(DateTimeOffset instant) => TimeZoneInfo.ConvertTime(instant, zone).ToString("t", CultureInfo.CurrentCulture);
        string Words() => anew is { } from ? $": its time counts from {Clock(from)}" : "";
    }

    private static DateTimeOffset? CountsAnew(CommandWork work, Batch batch, Station station, decimal read)
    {
        if (batch is not { Kind: BatchKind.OvenLoad, Settings.Celsius: { } wanted })
            return null;
        if (read < wanted - RunBatch.ToleranceCelsius)
            return WarmUp.At(work.Now, read, wanted, WarmUp.RateOf(station.Settings)) ?? work.Now;
        // It is warm sooner than was computed, or what was read before was a slip.
        return batch.Settings.CountsFrom > work.Now ? work.Now : null;
    }
}
