using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Stock;

/// <summary>The papers that stock can be kept of: those of ISO 216, and what the printers take beside them.</summary>
public sealed class PaperSizes(IDbContextFactory<ShopContext> contexts) : IPageView
{
    /// <summary>Their names, the printers' own first.</summary>
    public async Task<IReadOnlyList<string>> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var own = (await PrintersAsync(context, cancel)).Select(p => p.Name).Where(n => !IsoPaper.Names.Contains(n));
        return [.. own.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal), .. IsoPaper.Names];
    }

    /// <summary>What the printers take.</summary>
    internal static async Task<IReadOnlyList<PrinterPaper>> PrintersAsync(ShopContext context, CancellationToken cancel)
    {
        var printers = await context.Stations.AsNoTracking().Where(s => s.Kind == StationKind.Printer).ToListAsync(cancel);
        return [.. printers.Select(p => p.Settings).OfType<PrinterSettings>().SelectMany(p => p.Papers)];
    }
}
