using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Seasons;

/// <summary>Seasons that are not over.</summary>
/// <param name="All">The nearest last day first.</param>
/// <param name="Today">The shop's day.</param>
public sealed record SeasonSheet(IReadOnlyList<Season> All, DateOnly Today)
{
    /// <summary>Those that are spoken of now.</summary>
    public IReadOnlyList<Season> Near => [.. All.Where(s => s.IsNear(Today))];

    /// <summary>Those of the settings that are not over.</summary>
    public static SeasonSheet Of(CurrentSettings settings, DateOnly today) =>
        new([.. settings.Seasons.Where(s => s.HandOverBy >= today).OrderBy(s => s.LastDay)], today);
}

/// <summary>Reads them, for the owner's page and for the first page of the Counter.</summary>
public sealed class SeasonsView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>What is said of an order that would be booked now.</summary>
    public async Task<IReadOnlyList<SeasonSaid>> OfferedAsync(DateTimeOffset? promised, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var today = settings.Day(now);
        return SeasonSaid.Of(settings, today, today, promised is { } at ? settings.Day(at) : null);
    }

    /// <summary>What is said of an order that is booked.</summary>
    public async Task<IReadOnlyList<SeasonSaid>> BookedAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var order = await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Number == number, cancel);
        return order is null
            ? []
            : SeasonSaid.Booked(await CurrentSettings.LoadAsync(context, now, cancel), now, order.BookedAt, order.PromisedAt);
    }

    /// <summary>All that are not over.</summary>
    public async Task<SeasonSheet> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        return SeasonSheet.Of(settings, settings.Day(now));
    }
}
