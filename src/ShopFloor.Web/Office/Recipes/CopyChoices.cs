using Microsoft.Extensions.Localization;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Shared.Controls;

namespace ShopFloor.Web.Office.Recipes;

/// <summary>What a copied recipe can be for.</summary>
public static class CopyChoices
{
    /// <summary>The kinds of material, those barred that have a recipe of that finish or do not suit it.</summary>
    public static IReadOnlyList<Choice<string>> Groups(IReadOnlyList<RecipeRow> all, Finish finish, IStringLocalizer texts) =>
        [.. CopyRecipe.Groups.Select(g => Group(g, Barred(all, finish, g, texts), texts))];

    /// <summary>Why there can be no recipe of that finish for a kind of material; null: there can.</summary>
    public static string? Barred(IReadOnlyList<RecipeRow> all, Finish finish, string group, IStringLocalizer texts)
    {
        if (!CopyRecipe.Suits(finish, group))
            return texts["not for this finish"].Value;
        return all.FirstOrDefault(r => r.Finish == finish && r.MaterialGroup == group) is { } other
            ? texts["there is {0}", other.Name].Value
            : null;
    }

    private static Choice<string> Group(string group, string? barred, IStringLocalizer texts)
    {
        var words = texts[group.Length == 0 ? "any material that suits" : group].Value;
        return new Choice<string>(group, barred is null ? words : $"{words} ({barred})", Barred: barred);
    }
}
