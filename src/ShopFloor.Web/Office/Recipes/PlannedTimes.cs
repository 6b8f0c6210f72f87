using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Recipes;

/// <summary>A time that takes the place of the recipe's.</summary>
/// <param name="Seconds">What is planned and priced with.</param>
/// <param name="Pieces">How many pieces it was measured from.</param>
public readonly record struct PlannedTime(int Seconds, int Pieces);

/// <summary>The times that were measured for the steps of a recipe.</summary>
public sealed class PlannedTimes(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>By kind of step, of one finish; none where measured times are switched off.</summary>
    public async Task<IReadOnlyDictionary<StepKind, PlannedTime>> LoadAsync(Finish finish, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return Enum.GetValues<StepKind>()
            .Select(kind => (Step: settings.Timed(finish, [new RecipeStep(1, kind)])[0], From: settings.Measured.Step(finish, kind)))
            .Where(t => t.From is not null && t.Step.LengthSeconds > 0)
            .ToDictionary(t => t.Step.Kind, t => new PlannedTime(t.Step.LengthSeconds, t.From!.Used));
    }
}
