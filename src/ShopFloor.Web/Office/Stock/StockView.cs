using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stock;

/// <summary>How a can stands.</summary>
public enum CanState
{
    /// <summary>Not opened yet.</summary>
    Unopened,

    /// <summary>In use.</summary>
    Open,

    /// <summary>May be used, but only a few days more.</summary>
    ExpiresSoon,

    /// <summary>Past its last day.</summary>
    Expired,

    /// <summary>Barred by somebody.</summary>
    Barred,

    /// <summary>Nothing left.</summary>
    Empty,
}

/// <summary>A can in the list.</summary>
/// <param name="IsNext">True: the Bench proposes it for the next round of its coating.</param>
public sealed record CanRow(
    CanId Id,
    string Code,
    string Coating,
    string CoatingCode,
    string Lot,
    DateOnly? UseBy,
    DateTimeOffset? OpenedAt,
    decimal LeftMl,
    decimal FullMl,
    CanState State,
    string? HeldBecause,
    bool IsNext,
    int Version
);

/// <summary>Counted stock in the list.</summary>
public sealed record ItemRow(
    string Code,
    string Name,
    string Kind,
    string Unit,
    decimal OnHand,
    decimal ReorderAt,
    decimal Price,
    int Version
);

/// <summary>Something to order.</summary>
/// <param name="Href">Its page.</param>
/// <param name="Suggested">How much, in packs of <paramref name="Unit"/>.</param>
/// <param name="Cost">What that costs without tax.</param>
public sealed record ReorderRow(
    string Name,
    string Href,
    string Unit,
    StockOutlook Outlook,
    ReorderAdvice Advice,
    decimal Suggested,
    decimal Cost
);

/// <summary>A coating in a choice.</summary>
public sealed record CoatingChoice(CoatingId Id, CoatingKind Kind, string Code, string Name, CoatingSettings Settings, int Version);

/// <summary>All stock.</summary>
public sealed record StockSheet(
    IReadOnlyList<CanRow> Cans,
    IReadOnlyList<ItemRow> Items,
    IReadOnlyList<ReorderRow> Outlooks,
    IReadOnlyList<CoatingChoice> Coatings,
    TimeZoneInfo Zone,
    DateOnly Today,
    string Currency
)
{
    /// <summary>What to order now, the shortest first.</summary>
    public IReadOnlyList<ReorderRow> ToOrder =>
        [.. Outlooks.Where(r => r.Advice.OrderNow).OrderBy(r => !r.Advice.Missing).ThenBy(r => r.Advice.DaysLeft ?? decimal.MaxValue)];
}

/// <summary>What is there, what may be used, and what to order.</summary>
public sealed class StockView(IDbContextFactory<ShopContext> contexts, TimeProvider time, PlanShelf plans) : IPageView
{
    /// <summary>Days before a can's last day from which it is pointed out (common practice, no source).</summary>
    public const int SoonDays = 30;

    /// <summary>Days over which the late pace is counted.</summary>
    private const int PaceDays = 28;

    /// <summary>Everything; empty cans are left out after <see cref="PaceDays"/> days unless <paramref name="emptyToo"/>.</summary>
    public async Task<StockSheet> LoadAsync(bool emptyToo = false, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var today = settings.Day(now);
        var coatings = await context.Coatings.AsNoTracking().OrderBy(c => c.Code).ToListAsync(cancel);
        var cans = await context.Cans.AsNoTracking().Where(c => emptyToo || c.LeftMl > 0).ToListAsync(cancel);
        var items = await context.StockItems.AsNoTracking().OrderBy(i => i.Kind).ThenBy(i => i.Code).ToListAsync(cancel);
        var needs = await StockNeeds.LoadAsync(context, coatings, items, await plans.LatestAsync(cancel), cancel);
        var used = await UsedAsync(context, now, cancel);
        var outlook = new Outlooks(now, today, needs, used);
        return new StockSheet(
            [.. coatings.SelectMany(c => CansOf(c, cans, today))],
            [.. items.Select(i => new ItemRow(i.Code, i.Name, i.Kind, i.Unit, i.OnHand, i.ReorderAt, i.PriceOn(today), i.Version))],
            [.. coatings.Select(c => outlook.Of(c, cans)), .. items.Select(outlook.Of)],
            [.. coatings.Select(c => new CoatingChoice(c.Id, c.Kind, c.Code, c.Name, c.Settings, c.Version))],
            settings.Zone,
            today,
            settings.Profile.Currency
        );
    }

    private static IEnumerable<CanRow> CansOf(Coating coating, IEnumerable<Can> cans, DateOnly today)
    {
        var mine = cans.Where(c => c.Coating == coating.Id).ToList();
        var next = Can.FirstExpiring(mine, 0, today);
        return mine.OrderBy(c => c.LeftMl == 0)
            .ThenBy(c => c.UseBy ?? DateOnly.MaxValue)
            .ThenBy(c => c.Code, StringComparer.Ordinal)
            .Select(c => Row(c, coating, today, c == next));
    }

    internal static CanRow Row(Can c, Coating coating, DateOnly today, bool isNext) =>
        new(
            c.Id,
            c.Code,
            coating.Name,
            coating.Code,
            c.Lot,
            c.UseBy,
            c.OpenedAt,
            c.LeftMl,
            c.FullMl,
            State(c, today),
            c.HeldBecause,
            isNext,
            c.Version
        );

    private static CanState State(Can can, DateOnly today) =>
        can.LeftMl == 0 ? CanState.Empty
        : can.HeldBecause is not null ? CanState.Barred
        : can.UseBy < today ? CanState.Expired
        : can.UseBy <= today.AddDays(SoonDays) ? CanState.ExpiresSoon
        : can.OpenedAt is not null ? CanState.Open
        : CanState.Unopened;

    private static async Task<Dictionary<string, decimal>> UsedAsync(ShopContext context, DateTimeOffset now, CancellationToken cancel)
    {
        var since = now.AddDays(-PaceDays);
        var moves = await (
            from m in context.StockMoves.AsNoTracking()
            where m.At >= since && (m.Reason == StockReason.Use || m.Reason == StockReason.UseUndone)
            join can in context.Cans on m.Can equals can.Id into found
            from can in found.DefaultIfEmpty()
            join coating in context.Coatings on can.Coating equals coating.Id into named
            from coating in named.DefaultIfEmpty()
            select new
            {
                m.Item,
                Coating = coating == null ? null : coating.Code,
                m.Amount,
            }
        ).ToListAsync(cancel);
        return moves
            .GroupBy(m => m.Item is { } item ? StockNeeds.OfItem(item) : StockNeeds.OfCoating(m.Coating ?? ""))
            .ToDictionary(g => g.Key, g => Math.Max(0, -g.Sum(m => m.Amount)) / PaceDays, StringComparer.Ordinal);
    }

    private sealed class Outlooks(DateTimeOffset now, DateOnly today, IReadOnlyList<StockNeed> needs, Dictionary<string, decimal> used)
    {
        private readonly ILookup<string, StockNeed> needs = needs.ToLookup(n => n.What, StringComparer.Ordinal);

        public ReorderRow Of(Coating coating, IEnumerable<Can> cans)
        {
            var s = coating.Settings;
            var there = cans.Where(c => c.Coating == coating.Id && c.Barred(today) is null).Sum(c => c.LeftMl);
            var outlook = Outlook(StockNeeds.OfCoating(coating.Code), there, s.ReorderAtMl, s.LeadDays);
            var advice = Reorder.Judge(outlook);
            var packs = Math.Ceiling(advice.Suggested / s.CanMl);
            return new ReorderRow(
                coating.Name,
                $"office/stock/coating/{coating.Code}",
                "ml",
                outlook,
                advice,
                packs,
                packs * s.CanPriceOn(today)
            );
        }

        public ReorderRow Of(StockItem item)
        {
            var outlook = Outlook(StockNeeds.OfItem(item.Code), item.OnHand, item.ReorderAt, item.LeadDays);
            var advice = Reorder.Judge(outlook);
            var packs = Math.Ceiling(advice.Suggested);
            return new ReorderRow(
                item.Name,
                $"office/stock/item/{item.Code}",
                item.Unit,
                outlook,
                advice,
                packs,
                packs * item.PriceOn(today)
            );
        }

        private StockOutlook Outlook(string key, decimal onHand, decimal reorderAt, int leadDays)
        {
            var soon = now.AddDays(leadDays);
            return new StockOutlook(
                onHand,
                needs[key].Where(n => n.At <= soon).Sum(n => n.Amount),
                needs[key].Sum(n => n.Amount),
                reorderAt,
                leadDays,
                used.GetValueOrDefault(key)
            );
        }
    }
}
