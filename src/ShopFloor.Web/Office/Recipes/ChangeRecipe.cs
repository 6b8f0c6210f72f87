using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Recipes;

/// <summary>A recipe as the owner wants it from now on.</summary>
/// <param name="Of">The version that it follows.</param>
/// <param name="Steps">Its steps.</param>
/// <param name="Reference">The piece that its times were found with; null: as before.</param>
public sealed record RecipeInput(RecipeId Of, IReadOnlyList<RecipeStep> Steps, RecipeReference? Reference = null);

/// <summary>Makes the next version of a recipe. Pieces in work keep the copy they were booked with.</summary>
public sealed class ChangeRecipe(CommandRunner runner) : IUseCase
{
    /// <summary>Makes it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, RecipeInput input, CancellationToken cancel = default) =>
        runner.RunAsync<RecipeInput, Done>(
            nameof(ChangeRecipe),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, RecipeInput input, CancellationToken cancel)
    {
        var old = await work.Context.Recipes.AsNoTracking().FirstOrDefaultAsync(r => r.Id == input.Of, cancel);
        if (old is null)
            return new Refusal("recipe-missing", "This recipe is no longer there.");
        var latest = await work.Context.Recipes.Where(r => r.Name == old.Name).MaxAsync(r => r.Version, cancel);
        if (latest != old.Version)
            return new Refusal("changed-meanwhile", $"Version {latest} was made meanwhile. Look at it first.");
        var before = RecipeReference.Of(old);
        var reference = input.Reference ?? before;
        IReadOnlyList<Refusal> faults =
        [
            .. await RecipeReach.FaultsAsync(work, input.Steps, cancel),
            .. await reference.FaultsAsync(work, before, cancel),
        ];
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        var next = Recipe.Create(
            new RecipeId(Guid.CreateVersion7()),
            old.Name,
            old.Version + 1,
            old.Finish,
            old.MaterialGroup,
            work.Now,
            (reference.Material, reference.Thickness),
            input.Steps
        );
        if (!next.IsOk)
            return Result<Done>.Refused(next.Refusals);
        work.Context.Recipes.Add(next.Value);
        work.Audit(
            "recipe changed",
            old.Name,
            JsonSerializer.Serialize(old.Steps, JsonForms.Default),
            JsonSerializer.Serialize(input.Steps, JsonForms.Default)
        );
        if (reference != before)
            work.Audit("recipe reference changed", old.Name, before.Words, reference.Words);
        work.Touch(Topic.Settings, next.Value.Id.Value);
        return default(Done);
    }
}

/// <summary>A recipe version in the Office.</summary>
public sealed record RecipeRow(
    RecipeId Id,
    string Name,
    int Version,
    Finish Finish,
    string MaterialGroup,
    DateTimeOffset From,
    IReadOnlyList<RecipeStep> Steps,
    RecipeReference Reference
);

/// <summary>Recipes with their versions.</summary>
public sealed class RecipeListView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>By name, the latest version first.</summary>
    public async Task<IReadOnlyList<RecipeRow>> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return await context
            .Recipes.AsNoTracking()
            .OrderBy(r => r.Name)
            .ThenByDescending(r => r.Version)
            .Select(r => new RecipeRow(
                r.Id,
                r.Name,
                r.Version,
                r.Finish,
                r.MaterialGroup,
                r.EffectiveFrom,
                r.Steps,
                new RecipeReference(r.ReferenceMaterial, r.ReferenceThickness)
            ))
            .ToListAsync(cancel);
    }

    /// <summary>The materials that times can be found with, by name: those whose heat properties are known, and the one named now.</summary>
    public async Task<IReadOnlyList<MaterialSheet>> MaterialsAsync(string? now, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return
        [
            .. settings.Materials.Values.Where(m => m.Thermal is not null || m.Key == now).OrderBy(m => m.Name, StringComparer.Ordinal),
        ];
    }
}
