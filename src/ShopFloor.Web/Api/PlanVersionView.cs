using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Api;

/// <summary>Reads the plan as it was published, byte for byte.</summary>
public sealed class PlanVersionView(IDbContextFactory<ShopContext> contexts) : IPageView
{
    /// <summary>The latest; null while there is none.</summary>
    public async Task<PlanOut?> LatestAsync(CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var row = await context.Plans.AsNoTracking().OrderByDescending(p => p.Number).FirstOrDefaultAsync(cancel);
        if (row is null)
            return null;
        using var plan = JsonDocument.Parse(row.PlanJson);
        return new PlanOut(row.Number, row.Zero, row.At, plan.RootElement.Clone());
    }
}
