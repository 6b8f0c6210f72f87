using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Security.SecondSteps;

/// <summary>Reads how the second step of a sign-in stands.</summary>
public sealed class SecondStepView(IDbContextFactory<ShopContext> contexts) : IPageView
{
    /// <summary>How many recovery codes are left; null: it is off.</summary>
    public async Task<int?> LoadAsync(Guid worker, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (!await context.Users.AnyAsync(u => u.Id == worker && u.TwoFactorEnabled, cancel))
            return null;
        return SecondStepRows.CodesIn(await SecondStepRows.Of(context, worker).AsNoTracking().ToListAsync(cancel));
    }
}
