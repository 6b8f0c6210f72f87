using ShopFloor.Domain.Materials;

namespace ShopFloor.Web.Counter.Drawings;

/// <summary>The drawings of materials.</summary>
public enum MaterialSketch
{
    Unknown,
    Sheet,
    Plate,
    Brushed,
    Film,
    Cast,
    Rolled,
    Glass,
    Tile,
    Stone,
    Wood,
    Leather,
    Plastic,
    Other,
}

/// <summary>The materials that stand as cards, and the drawing of each.</summary>
public static class MaterialSketches
{
    /// <summary>Stands for the whole list.</summary>
    public const string Another = "another";

    /// <summary>Keys of the materials that are brought most, in the order of the cards: common practice, no source.</summary>
    public static IReadOnlyList<string> Cards { get; } =
    ["al", "al-ano", "ss", "steel", "brass", "cu", "glass", "tile", "slate", "hardwood", "leather-v"];

    /// <summary>The drawing of a material.</summary>
    public static MaterialSketch Of(MaterialSheet sheet) =>
        sheet.Key switch
        {
            "al-ano" => MaterialSketch.Film,
            "ss" => MaterialSketch.Brushed,
            "brass" => MaterialSketch.Cast,
            "cu" => MaterialSketch.Rolled,
            "steel" => MaterialSketch.Plate,
            _ => Of(sheet.Class),
        };

    private static MaterialSketch Of(MaterialClass kind) =>
        kind switch
        {
            MaterialClass.Metal => MaterialSketch.Sheet,
            MaterialClass.Glass => MaterialSketch.Glass,
            MaterialClass.Ceramic => MaterialSketch.Tile,
            MaterialClass.Stone => MaterialSketch.Stone,
            MaterialClass.Wood => MaterialSketch.Wood,
            MaterialClass.Leather => MaterialSketch.Leather,
            MaterialClass.Plastic => MaterialSketch.Plastic,
            MaterialClass.Assembly => MaterialSketch.Other,
            _ => MaterialSketch.Unknown,
        };
}
