using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Recipes;

/// <summary>A recipe made from another.</summary>
/// <param name="From">The recipe it was copied from.</param>
/// <param name="Name">What people will call it.</param>
/// <param name="Finish">The finish it makes.</param>
/// <param name="Group">Kind of material in small letters; empty: any that suits.</param>
/// <param name="Steps">Its steps.</param>
/// <param name="Reference">The piece that its times were found with; null: that of the other.</param>
public sealed record CopyInput(
    RecipeId From,
    string Name,
    Finish Finish,
    string Group,
    IReadOnlyList<RecipeStep> Steps,
    RecipeReference? Reference = null
);

/// <summary>Makes a new recipe from another, for a finish and a kind of material that have none yet.</summary>
public sealed class CopyRecipe(CommandRunner runner) : IUseCase
{
    /// <summary>The kinds of material that a recipe can be for; empty: any that suits.</summary>
    public static IReadOnlyList<string> Groups { get; } =
    ["", .. Enum.GetValues<MaterialClass>().Where(c => c != MaterialClass.Unknown).Select(c => c.ToString().ToLowerInvariant())];

    /// <summary>True when there may be a recipe of that finish for that kind of material: behind glass is for glass.</summary>
    public static bool Suits(Finish finish, string group) => finish != Finish.BehindGlass || group is "" or "glass";

    /// <summary>Makes it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, CopyInput input, CancellationToken cancel = default) =>
        runner.RunAsync<CopyInput, Done>(nameof(CopyRecipe), Allowed.Owner, asked, input, work => DecideAsync(work, input, cancel), cancel);

    private static async Task<Result<Done>> DecideAsync(CommandWork work, CopyInput input, CancellationToken cancel)
    {
        var all = await work.Context.Recipes.AsNoTracking().ToListAsync(cancel);
        if (all.Find(r => r.Id == input.From) is not { } from)
            return new Refusal("recipe-missing", "This recipe is no longer there.");
        var reference = input.Reference ?? RecipeReference.Of(from);
        IReadOnlyList<Refusal> faults =
        [
            .. Taken(all, input),
            .. await RecipeReach.FaultsAsync(work, input.Steps, cancel),
            .. await reference.FaultsAsync(work, RecipeReference.Of(from), cancel),
        ];
        var made = Recipe.Create(
            new RecipeId(Guid.CreateVersion7()),
            input.Name,
            1,
            input.Finish,
            input.Group,
            work.Now,
            (reference.Material, reference.Thickness),
            input.Steps
        );
        if (faults.Count > 0 || !made.IsOk)
            return Result<Done>.Refused([.. faults, .. made.Refusals]);
        work.Context.Recipes.Add(made.Value);
        work.Audit("recipe made", made.Value.Name, "", JsonSerializer.Serialize(input.Steps, JsonForms.Default));
        work.Touch(Topic.Settings, made.Value.Id.Value);
        return default(Done);
    }

    private static IEnumerable<Refusal> Taken(IReadOnlyList<Recipe> all, CopyInput input)
    {
        if (all.Any(r => string.Equals(r.Name, input.Name.Trim(), StringComparison.OrdinalIgnoreCase)))
            yield return new Refusal("name-taken", "Another recipe has this name already.", "name");
        if (!Groups.Contains(input.Group) || !Suits(input.Finish, input.Group))
            yield return new Refusal("group-unfit", "This finish is not made on such materials.", "group");
        if (all.FirstOrDefault(r => r.Finish == input.Finish && r.MaterialGroup == input.Group) is { } other)
            yield return new Refusal("recipe-there", $"{other.Name} makes this finish there already. Change that one.", "group");
    }
}
