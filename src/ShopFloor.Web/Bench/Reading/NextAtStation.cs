using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>The next batch at a station, with the zone of its time.</summary>
public sealed record StationNext(NextBatch Batch, TimeZoneInfo Zone);

/// <summary>What the plan puts together next at a station, for who has just ended a batch there.</summary>
public sealed class NextAtStation(SharedWork shared) : IPageView
{
    /// <summary>The one that is being put together, or else the plan's next; null: none.</summary>
    public async Task<StationNext?> ReadAsync(BatchKind kind, string station)
    {
        var now = await shared.ReadAsync();
        return new WallNext(now, now.Work.Now, [station]).Of(kind) is { } next ? new StationNext(next, now.Work.Settings.Zone) : null;
    }
}
