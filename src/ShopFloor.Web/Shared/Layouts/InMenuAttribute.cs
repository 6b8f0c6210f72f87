using ShopFloor.Web.Shared.Look;

namespace ShopFloor.Web.Shared.Layouts;

/// <summary>A place whose frame lists its pages.</summary>
public enum MenuPlace
{
    Office,
    Bench,
}

/// <summary>A heading under which a frame lists pages, in this order.</summary>
public enum MenuGroup
{
    /// <summary>What the day runs by: no heading.</summary>
    Day,
    Money,
    Workshop,

    /// <summary>Data in and out, and what the law asks.</summary>
    Records,
}

/// <summary>Put on a page to have it listed in the frame of its place: the frame never lists what is not there.</summary>
/// <param name="place">Where.</param>
/// <param name="text">The words, a key of the shared texts.</param>
/// <param name="sign">The drawn sign.</param>
/// <param name="order">Smaller comes first within its group.</param>
/// <param name="group">The heading it stands under.</param>
[AttributeUsage(AttributeTargets.Class)]
public sealed class InMenuAttribute(MenuPlace place, string text, Glyph sign, int order, MenuGroup group = MenuGroup.Day) : Attribute
{
    public MenuPlace Place => place;
    public string Text => text;
    public Glyph Sign => sign;
    public int Order => order;
    public MenuGroup Group => group;
}
