using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Background.Demo;

/// <summary>Puts in at the start what is shipped, where a shop has an owner and no recipe: the program ended between the two when it was set up.</summary>
public static partial class ShippedStart
{
    public static async Task InstallMissingAsync(this WebApplication app)
    {
        await using var scope = app.Services.CreateAsyncScope();
        var done = await RunAsync(scope.ServiceProvider);
        // The shop can be worked with all the same, and the next start tries again.
        if (!done.IsOk)
            LogMissing(app.Logger, done.Refusals[0].Text);
    }

    /// <summary>Does it; a shop without an owner is left to be set up.</summary>
    public static async Task<Result<Done>> RunAsync(IServiceProvider services)
    {
        await using (var context = await services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync())
            if (await context.Recipes.AnyAsync() || !await FirstStart.HasOwnerAsync(context, CancellationToken.None))
                return default(Done);
        return await services.GetRequiredService<InstallShipped>().RunAsync(Asked.BySystem());
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "The shipped recipes and stations could not be put in: {Why}")]
    private static partial void LogMissing(ILogger logger, string why);
}
