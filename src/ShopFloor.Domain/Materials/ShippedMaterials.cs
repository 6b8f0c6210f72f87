using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Materials;

/// <summary>The material list that a new workshop starts with. The owner confirms and edits it; a data sheet always rules.</summary>
public static class ShippedMaterials
{
    /// <summary>All rows, grouped by kind; keys are unique.</summary>
    public static IReadOnlyList<MaterialSheet> All { get; } =
    [.. ShippedMetals.Rows, .. ShippedMinerals.Rows, .. ShippedOrganics.Rows, .. ShippedPlastics.Rows];

    /// <summary>What stands in for a material that nobody can name: a test piece at any heat.</summary>
    public static MaterialSheet Unknown { get; } =
        new(
            "unknown",
            "Unknown material",
            MaterialClass.Unknown,
            null,
            ShippedSources.NotMeasured,
            null,
            ShippedSources.NotMeasured,
            UnknownHeat,
            UnknownHeat,
            "unknown",
            Explanation.CommonPractice,
            DryFirst: true,
            "Ask the maker, or put a like piece through first."
        );

    /// <summary>The shipped row with that key, or null.</summary>
    public static MaterialSheet? Find(string key) => All.FirstOrDefault(sheet => string.Equals(sheet.Key, key, StringComparison.Ordinal));

    private static HeatRule UnknownHeat =>
        new(Verdict.TestPiece, null, Verdict.TestPiece, "Nobody knows how this material takes the heat.", Hazard.None);
}

/// <summary>Sources that many rows share.</summary>
internal static class ShippedSources
{
    public const string En12524 = "EN 12524:2000 table (values later in EN ISO 10456), read";
    public const string EmissivityTables = "published emissivity tables, read (see docs/sources.md)";
    public const string NotMeasured = "no published value taken";
}
