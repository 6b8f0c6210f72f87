using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Bench.Tracing;

/// <summary>From a piece to what made it.</summary>
internal static class PieceLinks
{
    internal static async Task<IReadOnlyList<TraceLink>> OfAsync(
        ShopContext context,
        Piece piece,
        IEnumerable<(string By, PieceEvent Event)> journal,
        Dictionary<string, string> names,
        CancellationToken cancel
    )
    {
        var entries = journal.ToList();
        var starts = entries.Select(e => e.Event).OfType<StepStarted>().ToList();
        var batchIds = starts.Select(s => s.Batch).OfType<BatchId>().Distinct().ToList();
        var canIds = starts.Select(s => s.Can).OfType<CanId>().Distinct().ToList();
        var links = new List<TraceLink>();
        foreach (var batch in await context.Batches.Where(b => batchIds.Contains(b.Id)).OrderBy(b => b.MadeAt).ToListAsync(cancel))
            links.Add(new TraceLink("batch", batch.Code, batch.Code));
        foreach (
            var lot in await context
                .Cans.Where(c => canIds.Contains(c.Id))
                .Select(c => c.Lot)
                .Distinct()
                .OrderBy(l => l)
                .ToListAsync(cancel)
        )
            links.Add(new TraceLink("lot", lot, $"Lot {lot}"));
        foreach (var by in entries.Select(e => e.By).Distinct().Where(names.ContainsKey))
            links.Add(new TraceLink("person", by, names[by]));
        var recipe = await context
            .Orders.Where(o => o.Id == piece.Order)
            .SelectMany(o => o.Lines)
            .Where(l => l.Id == piece.Line)
            .Select(l => l.Recipe)
            .FirstAsync(cancel);
        if (await context.Recipes.FirstOrDefaultAsync(r => r.Id == recipe, cancel) is { } version)
            links.Add(new TraceLink("recipe", version.Id.Value.ToString(), $"{version.Name}, version {version.Version}"));
        return links;
    }
}
