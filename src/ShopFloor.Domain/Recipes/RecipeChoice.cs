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
        return recipes
            .Where(r => r.Finish == finish && (r.MaterialGroup.Length == 0 || r.MaterialGroup == group))
            .OrderByDescending(r => r.MaterialGroup.Length > 0)
            .ThenByDescending(r => r.EffectiveFrom)
            .ThenByDescending(r => r.Version)
            .FirstOrDefault();
    }
}
