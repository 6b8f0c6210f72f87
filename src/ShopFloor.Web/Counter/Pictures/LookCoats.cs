using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>How many coats make the look of a finish on a material, by the recipe in force: each further one makes velvet matt more matt and white whiter.</summary>
public sealed class LookCoats(IReadOnlyList<Recipe> recipes)
{
    /// <summary>By the recipes in force.</summary>
    public static async Task<LookCoats> LoadAsync(ShopContext context, DateTimeOffset at, CancellationToken cancel) =>
        new(await context.Recipes.AsNoTracking().Where(r => r.EffectiveFrom <= at).ToListAsync(cancel));

    /// <summary>At least one, also where there is no recipe.</summary>
    public int Of(Finish finish, MaterialSheet material) =>
        Math.Max(1, RecipeChoice.For(recipes, finish, material)?.Steps.Count(s => Makes(finish, s)) ?? 1);

    /// <summary>The look.</summary>
    public PrintLook Look(Finish finish, MaterialSheet material) => Grounds.LookOf(finish, material, Of(finish, material));

    /// <summary>The bare ground as a colour for drawings.</summary>
    public string Css(Finish finish, MaterialSheet material) => Grounds.CssOf(finish, material, Of(finish, material));

    private static bool Makes(Finish finish, RecipeStep step) =>
        step.Kind == StepKind.Spray
        && step.Coating
            == finish switch
            {
                Finish.WhiteGround => CoatingKind.WhiteBase,
                Finish.VelvetMatt => CoatingKind.Matt,
                Finish.BehindGlass => CoatingKind.Translucent,
                _ => CoatingKind.Clear,
            };
}
