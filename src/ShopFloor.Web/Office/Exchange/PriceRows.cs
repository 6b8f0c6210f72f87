using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>Purchase prices in a file, by the code of the can's coating or of the stock item; they hold from today on. Nothing new is made here.</summary>
internal static class PriceRows
{
    private const string CoatingKind = "coating";

    public static IReadOnlyList<CsvColumn> Columns { get; } =
    [new("kind"), new("code", IsNeeded: true), new("name"), new("unit"), new("price", IsNeeded: true)];

    /// <summary>Takes the good rows into the command's context.</summary>
    public static async Task TakeAsync(CommandWork work, IReadOnlyList<CsvRow> rows, ImportCount count, CancellationToken cancel)
    {
        var coatings = await work.Context.Coatings.ToDictionaryAsync(c => c.Code, StringComparer.OrdinalIgnoreCase, cancel);
        var items = await work.Context.StockItems.ToDictionaryAsync(i => i.Code, StringComparer.OrdinalIgnoreCase, cancel);
        var seen = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        var today = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Day(work.Now);
        foreach (var row in rows)
        {
            var cells = new CellReader(row, count.Faults);
            var code = cells.Text("code", 60, needed: true);
            var price = cells.Money("price", 100_000, needed: true);
            if (price is { } given && Money.Round(given, 4) != given)
                cells.Fault("price", "At most four decimals.");
            if (code.Length > 0 && !seen.Add(code))
                cells.Fault("code", $"“{code}” stands in the file twice.");
            var (coating, item) = (coatings.GetValueOrDefault(code), items.GetValueOrDefault(code));
            if (cells.IsGood && coating is null && item is null)
                cells.Fault("code", $"There is no coating and no stock item “{code}”.");
            if (cells.IsGood)
                Take(work, (coating, item), new DatedPrice(today, price!.Value), cells, count);
        }
    }

    /// <summary>The same file made of what is kept.</summary>
    public static async Task<string> WriteAsync(ShopContext context, DateTimeOffset now, CancellationToken cancel)
    {
        var today = (await CurrentSettings.LoadAsync(context, now, cancel)).Day(now);
        var coatings = await context.Coatings.AsNoTracking().OrderBy(c => c.Code).ToListAsync(cancel);
        var items = await context.StockItems.AsNoTracking().OrderBy(i => i.Code).ToListAsync(cancel);
        return CsvText.Write(
            [.. Columns.Select(c => c.Name)],
            coatings
                .Select(c => new object?[] { CoatingKind, c.Code, c.Name, "can", CsvText.Amount(c.Settings.CanPriceOn(today)) })
                .Concat(items.Select(i => new object?[] { i.Kind, i.Code, i.Name, i.Unit, CsvText.Amount(i.PriceOn(today)) }))
        );
    }

    private static void Take(
        CommandWork work,
        (Coating? Coating, StockItem? Item) found,
        DatedPrice price,
        CellReader cells,
        ImportCount count
    )
    {
        var before = found.Coating?.Settings.CanPriceOn(price.From) ?? found.Item!.PriceOn(price.From);
        if (before == price.Price)
        {
            count.Same++;
            return;
        }
        var done = found.Coating is { } coating
            ? coating.Change(coating.Name, coating.Settings.PricedFrom(price.From, price.Price))
            : found.Item!.PriceFrom(price.From, price.Price);
        cells.Faults(done.Refusals, _ => "price");
        if (!done.IsOk)
            return;
        count.Changed++;
        var name = found.Coating?.Name ?? found.Item!.Name;
        work.Audit(
            "price imported",
            name,
            before.ToString(CultureInfo.InvariantCulture),
            price.Price.ToString(CultureInfo.InvariantCulture)
        );
        work.Touch(Topic.Price, Guid.Empty);
    }
}
