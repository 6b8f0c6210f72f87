using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Background.Demo;

/// <summary>Gives a new workshop the shipped recipes, coatings and one station of each kind, so that its owner changes instead of inventing.</summary>
public sealed class InstallShipped(CommandRunner runner) : IUseCase
{
    private sealed record Nothing;

    /// <summary>Adds them once; a shop that has a recipe already is left alone.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, CancellationToken cancel = default) =>
        runner.RunAsync<Nothing, Done>(
            nameof(InstallShipped),
            Allowed.System,
            asked,
            new Nothing(),
            async work =>
            {
                if (!await work.Context.Recipes.AnyAsync(cancel))
                    ShippedDefaults.AddTo(work);
                return default(Done);
            },
            cancel
        );
}
