using System.Reflection;
using Microsoft.AspNetCore.Components;
using ShopFloor.Web.Shared.Look;

namespace ShopFloor.Web.Shared.Layouts;

/// <summary>One line of a frame's list.</summary>
/// <param name="Href">Address below the base.</param>
/// <param name="Text">Key of its words.</param>
/// <param name="Sign">Its sign.</param>
/// <param name="Group">The heading it stands under.</param>
/// <param name="Exact">True when it is only marked on its own page, not on pages below it.</param>
public sealed record MenuItem(string Href, string Text, Glyph Sign, MenuGroup Group, bool Exact);

/// <summary>The pages that asked to be listed, read once from the program itself.</summary>
public static class Menu
{
    private static readonly Dictionary<MenuPlace, IReadOnlyList<MenuItem>> Items = typeof(Menu)
        .Assembly.GetTypes()
        .Select(type => (Type: type, Wish: type.GetCustomAttribute<InMenuAttribute>()))
        .Where(page => page.Wish is not null)
        .OrderBy(page => page.Wish!.Group)
        .ThenBy(page => page.Wish!.Order)
        .GroupBy(page => page.Wish!.Place, page => ToItem(page.Type, page.Wish!))
        .ToDictionary(place => place.Key, IReadOnlyList<MenuItem> (place) => [.. place]);

    public static IReadOnlyList<MenuItem> Of(MenuPlace place) => Items.GetValueOrDefault(place, []);

    private static MenuItem ToItem(Type page, InMenuAttribute wish)
    {
        var route = page.GetCustomAttributes<RouteAttribute>().Select(r => r.Template.TrimStart('/')).OrderBy(r => r.Length).First();
        return new MenuItem(route, wish.Text, wish.Sign, wish.Group, Exact: !route.Contains('/', StringComparison.Ordinal));
    }
}
