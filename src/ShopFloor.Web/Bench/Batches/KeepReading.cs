using ShopFloor.Domain;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>What was read in a station whose batch stays in.</summary>
/// <param name="Code">Code of the batch.</param>
/// <param name="Celsius">True temperature, °C.</param>
public sealed record ReadingWish(string Code, decimal? Celsius);

/// <summary>Keeps a reading with a batch that was not ended by it: that its oven was too cold stays known when it is warm at the end.</summary>
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
        var batch = found.Value.Batch;
        var zone = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Zone;
        var at = TimeZoneInfo.ConvertTime(work.Now, zone).ToString("t", CultureInfo.CurrentCulture);
        var read = string.Create(CultureInfo.InvariantCulture, $"{wish.Celsius:0.#} °C");
        work.Touch(Topic.Batch, batch.Id.Value);
        return batch
            .KeepReading($"{read} at {at}")
            .Then<Moved>(_ => new Moved($"{read} is kept with {batch.Code}, which stays in.", [], batch.Code));
    }
}
