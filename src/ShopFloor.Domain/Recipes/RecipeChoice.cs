using ShopFloor.Domain.Materials;

namespace ShopFloor.Domain.Recipes;

/// <summary>By which recipe something is made.</summary>
public static class RecipeChoice
{
    /// <summary>The recipe for a finish on a material: the one for its class before the general one, the latest version; null: there is none.</summary>
    /// <param name="recipes">Those that are in force.</param>
    /// <param name="finish">The finish.</param>
    /// <param name="material">The material.</param>
    public static Recipe? For(IReadOnlyList<Recipe> recipes, Finish finish, MaterialSheet material)
    {
        var group = material.Class.ToString().ToLowerInvariant();
        return Latest(recipes)
            .Where(r => r.Finish == finish && (r.MaterialGroup.Length == 0 || r.MaterialGroup == group))
            .OrderByDescending(r => r.MaterialGroup.Length > 0)
            .ThenByDescending(r => r.EffectiveFrom)
            .ThenByDescending(r => r.Version)
            .FirstOrDefault();
    }

    /// <summary>Of each recipe the version with the highest number, whatever its day: one that was made while the clock was ahead does not come back.</summary>
    public static IEnumerable<Recipe> Latest(IEnumerable<Recipe> recipes) =>
        recipes.GroupBy(r => (r.Name, r.Finish, r.MaterialGroup)).Select(g => g.MaxBy(r => r.Version)!);
}
