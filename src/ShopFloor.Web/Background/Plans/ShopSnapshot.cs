using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Plans;

/// <summary>All that a plan depends on, read at one instant.</summary>
/// <param name="Now">The instant, a whole second; the plan's zero.</param>
/// <param name="Journal">Last journal entry it contains.</param>
public sealed record ShopSnapshot(
    DateTimeOffset Now,
    long Journal,
    CurrentSettings Settings,
    IReadOnlyList<Station> Stations,
    IReadOnlyList<Person> People,
    IReadOnlyList<Coating> Coatings,
    IReadOnlyList<Can> Cans,
    IReadOnlyList<Piece> Pieces,
    IReadOnlyDictionary<OrderId, Order> Orders,
    IReadOnlyDictionary<BatchId, Batch> Batches,
    IReadOnlyList<Batch> Ended,
    IReadOnlyList<PlanPin> Pins,
    PlanVersion? Last
)
{
    /// <summary>Who started what runs, by piece.</summary>
    public IReadOnlyDictionary<PieceId, Starter> Starters { get; init; } = new Dictionary<PieceId, Starter>();

    /// <summary>Codes of pieces whose transfer is still to be printed although the order's were.</summary>
    public IReadOnlySet<string> Unprinted { get; init; } = new HashSet<string>();

    /// <summary>Reads what may be worked on; a test piece, which is made of what lies here, from the moment somebody wants it.</summary>
    public static Task<ShopSnapshot> ReadAsync(ShopContext context, DateTimeOffset at, CancellationToken cancel) =>
        ReadAsync(context, at, OpenStates.Workable, cancel);

    /// <summary>Reads what may be worked on and what is booked but not here yet: it has a promise too, so its time is not free for others.</summary>
    public static Task<ShopSnapshot> ReadPromisedAsync(ShopContext context, DateTimeOffset at, CancellationToken cancel) =>
        ReadAsync(context, at, [.. OpenStates.Workable, PieceState.Booked], cancel);

    /// <summary>The last journal entry there is; 0 for none.</summary>
    public static async Task<long> PlaceAsync(ShopContext context, CancellationToken cancel) =>
        await context.Journal.MaxAsync(j => (long?)j.Sequence, cancel) ?? 0;

    private static async Task<ShopSnapshot> ReadAsync(
        ShopContext context,
        DateTimeOffset at,
        IReadOnlyList<PieceState> states,
        CancellationToken cancel
    )
    {
        var now = Whole(at);
        // Before everything else: what happens during the reading may be in it, but is not said to be.
        var place = await PlaceAsync(context, cancel);
        var pieces = await context
            .Pieces.AsNoTracking()
            .Where(p => states.Contains(p.State) || (p.IsTest && p.State == PieceState.Booked))
            .Where(p => !context.Orders.Any(o => o.Id == p.Order && o.CancelledAt != null))
            .ToListAsync(cancel);
        pieces = [.. pieces.Where(p => p.Current is not null).OrderBy(p => p.Code, StringComparer.Ordinal)];
        var orderIds = pieces.Select(p => p.Order).Distinct().ToList();
        var yesterday = now.AddHours(-6);
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var batches = await context
            .Batches.AsNoTracking()
            .Where(b => b.State == BatchState.Running || (b.FinishedAt != null && b.FinishedAt > yesterday))
            .ToListAsync(cancel);
        return new ShopSnapshot(
            now,
            place,
            settings,
            await context.Stations.AsNoTracking().Where(s => s.IsActive).OrderBy(s => s.Code).ToListAsync(cancel),
            await context.People.AsNoTracking().Where(p => p.IsActive).OrderBy(p => p.Code).ToListAsync(cancel),
            await context.Coatings.AsNoTracking().OrderBy(c => c.Code).ToListAsync(cancel),
            await context.Cans.AsNoTracking().Where(c => c.HeldBecause == null && c.LeftMl > 0).OrderBy(c => c.Code).ToListAsync(cancel),
            pieces,
            (await context.Orders.AsNoTracking().Where(o => orderIds.Contains(o.Id)).ToListAsync(cancel)).ToDictionary(o => o.Id),
            batches.Where(b => b.State == BatchState.Running).ToDictionary(b => b.Id),
            [.. batches.Where(b => b.State != BatchState.Running).OrderBy(b => b.FinishedAt)],
            await context.Pins.AsNoTracking().OrderBy(p => p.Id).ToListAsync(cancel),
            await context.Plans.AsNoTracking().OrderByDescending(p => p.Number).FirstOrDefaultAsync(cancel)
        )
        {
            Starters = await Starter.LoadAsync(context, pieces, cancel),
            Unprinted = await PrintedParts.MissingAsync(context, orderIds, cancel),
        };
    }

    /// <summary>Whole seconds from the snapshot to an instant.</summary>
    public int Seconds(DateTimeOffset at) => Seconds(Now, at);

    /// <summary>The second in which an instant lies.</summary>
    internal static DateTimeOffset Whole(DateTimeOffset at) =>
        new(at.UtcTicks / TimeSpan.TicksPerSecond * TimeSpan.TicksPerSecond, TimeSpan.Zero);

    /// <summary>Whole seconds from one instant to another.</summary>
    internal static int Seconds(DateTimeOffset from, DateTimeOffset to) =>
        (int)Math.Clamp(Math.Round((to - from).TotalSeconds), -50_000_000, 50_000_000);
}
