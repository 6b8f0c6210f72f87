using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Sheets;

/// <summary>A paper that lies in the workshop: sheets of one size, or a roll that is cut to length.</summary>
/// <param name="Name">What people call it, such as <c>A4</c> or <c>roll 610</c>.</param>
/// <param name="WidthMm">Width as it goes into the printer.</param>
/// <param name="HeightMm">Height of a sheet; the longest piece that is cut off a roll.</param>
/// <param name="IsRoll">Cut to length.</param>
public sealed record PaperStock(string Name, double WidthMm, double HeightMm, bool IsRoll = false)
{
    /// <summary>An upright ISO 216 sheet by name.</summary>
    public static PaperStock Iso(string name) => new(name, IsoPaper.Size(name).Width, IsoPaper.Size(name).Height);
}

/// <summary>Trimmed sizes of ISO 216, series A and B, upright.</summary>
public static class IsoPaper
{
    private static readonly Dictionary<string, SizeMm> Sizes = new(StringComparer.Ordinal)
    {
        ["A0"] = new(841, 1189),
        ["A1"] = new(594, 841),
        ["A2"] = new(420, 594),
        ["A3"] = new(297, 420),
        ["A4"] = new(210, 297),
        ["A5"] = new(148, 210),
        ["A6"] = new(105, 148),
        ["A7"] = new(74, 105),
        ["A8"] = new(52, 74),
        ["A9"] = new(37, 52),
        ["A10"] = new(26, 37),
        ["B0"] = new(1000, 1414),
        ["B1"] = new(707, 1000),
        ["B2"] = new(500, 707),
        ["B3"] = new(353, 500),
        ["B4"] = new(250, 353),
        ["B5"] = new(176, 250),
        ["B6"] = new(125, 176),
        ["B7"] = new(88, 125),
        ["B8"] = new(62, 88),
        ["B9"] = new(44, 62),
        ["B10"] = new(31, 44),
    };

    /// <summary>All names.</summary>
    public static IReadOnlyCollection<string> Names => Sizes.Keys;

    /// <summary>The size of a sheet.</summary>
    /// <exception cref="KeyNotFoundException">No such sheet.</exception>
    public static SizeMm Size(string name) => Sizes[name];
}
