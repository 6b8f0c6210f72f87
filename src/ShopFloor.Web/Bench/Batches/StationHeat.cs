using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>What a station that heats holds while nothing runs in it: what it held for its last batch, cooling since then, never below the room.</summary>
internal static class StationHeat
{
    /// <summary>What it holds, true °C.</summary>
    /// <param name="last">The last batch that ended in it; null: none.</param>
    /// <param name="now">Now.</param>
    /// <param name="room">The room, °C.</param>
    /// <param name="coolingPerMinute">Its rate, °C a minute.</param>
    internal static decimal Held(Batch? last, DateTimeOffset now, decimal room, decimal coolingPerMinute) =>
        last is { FinishedAt: { } ended, Settings.Celsius: { } was }
            ? Math.Max(room, was - coolingPerMinute * (decimal)(now - ended).TotalMinutes)
            : room;

    /// <summary>The last batch that ran in a station and is over.</summary>
    internal static Task<Batch?> LastAsync(ShopContext context, StationId station, CancellationToken cancel) =>
        context
            .Batches.AsNoTracking()
            .Where(b => b.Station == station && b.StartedAt != null && b.FinishedAt != null)
            .OrderByDescending(b => b.FinishedAt)
            .FirstOrDefaultAsync(cancel);
}
