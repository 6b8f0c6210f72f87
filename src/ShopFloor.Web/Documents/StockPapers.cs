using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Web.Documents;

/// <summary>The transfer papers on the stock list.</summary>
internal static class StockPapers
{
    /// <summary>Their names as the printer knows them.</summary>
    internal static async Task<IReadOnlyList<string>> NamesAsync(ShopContext context, CancellationToken cancel) =>
        await context.StockItems.Where(i => i.Kind == StockItem.Paper).Select(i => i.PaperSize).Distinct().ToListAsync(cancel);
}
