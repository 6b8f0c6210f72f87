using ShopFloor.Domain.Heat;

namespace ShopFloor.Domain.Materials;

/// <summary>Kind of material, which decides what to ask about hidden parts.</summary>
public enum MaterialClass
{
    /// <summary>Sheet, cast or plated metal.</summary>
    Metal,

    /// <summary>Any glass.</summary>
    Glass,

    /// <summary>Tile, earthenware, porcelain.</summary>
    Ceramic,

    /// <summary>Slate, granite, marble.</summary>
    Stone,

    /// <summary>Solid wood, board, cork.</summary>
    Wood,

    /// <summary>Leather of any tanning.</summary>
    Leather,

    /// <summary>Thermoplastic, thermoset, rubber.</summary>
    Plastic,

    /// <summary>A body made of several parts.</summary>
    Assembly,

    /// <summary>Nobody knows.</summary>
    Unknown,
}

/// <summary>What the workshop does with a piece. The order is from mild to severe.</summary>
public enum Verdict
{
    /// <summary>Take it.</summary>
    Take,

    /// <summary>Only after a test piece of the same kind came out well.</summary>
    TestPiece,

    /// <summary>Do not put it in the heat.</summary>
    Refuse,
}

/// <summary>What goes wrong when the heat is too much.</summary>
public enum Hazard
{
    /// <summary>Nothing known in the range.</summary>
    None,

    /// <summary>Gives off something that harms people.</summary>
    Fume,

    /// <summary>Cracks or shatters.</summary>
    Crack,

    /// <summary>Softens, sags, sticks.</summary>
    Soften,

    /// <summary>Melts.</summary>
    Melt,

    /// <summary>Darkens or burns.</summary>
    Char,

    /// <summary>Joints come apart.</summary>
    Unsolder,

    /// <summary>Bursts from pressure inside.</summary>
    Burst,

    /// <summary>Changes colour.</summary>
    Tint,

    /// <summary>Moisture lifts the coat or spalls the body.</summary>
    Blister,

    /// <summary>Shrinks, warps or comes apart in layers.</summary>
    Warp,

    /// <summary>The coat does not hold.</summary>
    NoAdhesion,

    /// <summary>Poison by touch, dust or food.</summary>
    Poison,
}

/// <summary>What one kind of heat (the cure or the press) means for a material.</summary>
/// <param name="Within">Verdict up to the limit.</param>
/// <param name="LimitCelsius">Highest temperature in °C that the verdict <paramref name="Within"/> holds for, inclusive; null when it holds at any.</param>
/// <param name="Beyond">Verdict above the limit; at least as severe as <paramref name="Within"/>.</param>
/// <param name="Reason">Why, in one plain sentence.</param>
/// <param name="Hazard">What goes wrong.</param>
public sealed record HeatRule(Verdict Within, double? LimitCelsius, Verdict Beyond, string Reason, Hazard Hazard)
{
    /// <summary>The verdict at a temperature the piece may really see, set point plus overshoot, in °C.</summary>
    public Verdict At(double worstCelsius) => LimitCelsius is { } limit && worstCelsius > limit ? Beyond : Within;
}

/// <summary>
/// One row of the material list: plain data that the owner may edit. What is shipped is <see cref="ShippedMaterials"/>.
/// </summary>
/// <param name="Key">Stable short name, lower case.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Class">Its kind.</param>
/// <param name="Thermal">Density, conductivity and heat capacity; null when nobody measured them.</param>
/// <param name="ThermalSource">Where <paramref name="Thermal"/> comes from.</param>
/// <param name="Emissivity">Share of black-body radiation of the bare surface, 0 to 1; null when unknown. A coated face has about 0.9.</param>
/// <param name="EmissivitySource">Where <paramref name="Emissivity"/> comes from, with the published range.</param>
/// <param name="Cure">What the oven means for it.</param>
/// <param name="Press">What the press means for it.</param>
/// <param name="LimitText">The published limit as its source states it.</param>
/// <param name="LimitSource">Where the limits come from, or common practice.</param>
/// <param name="DryFirst">True when it holds moisture that must go before the print does, see <see cref="Moisture"/>.</param>
/// <param name="Note">What else a person should know; may be empty.</param>
public sealed record MaterialSheet(
    string Key,
    string Name,
    MaterialClass Class,
    ThermalProperties? Thermal,
    string ThermalSource,
    double? Emissivity,
    string EmissivitySource,
    HeatRule Cure,
    HeatRule Press,
    string LimitText,
    string LimitSource,
    bool DryFirst,
    string Note
)
{
    /// <summary>What is wrong with an edited row, beside its field. Every row names where its limits come from.</summary>
    public IReadOnlyList<Refusal> Faults()
    {
        var faults = new List<Refusal>();
        void Must(bool ok, string field, string text)
        {
            if (!ok)
                faults.Add(new Refusal("material", text, field));
        }
        Must(
            Key.Length is > 0 and <= 40 && Key.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '-'),
            "key",
            "The short name has small letters, digits and hyphens, at most 40."
        );
        Must(Name.Length is > 0 and <= 80, "name", "Give the material a name of at most 80 characters.");
        Must(LimitSource.Length is > 0 and <= 300, "limitSource", "Say where the limits come from; your own experience is a source too.");
        Must(LimitText.Length <= 300, "limitText", "The limit's text has at most 300 characters.");
        Must(Note.Length <= 500, "note", "A note has at most 500 characters.");
        foreach (var (rule, field) in new[] { (Cure, "cure"), (Press, "press") })
        {
            Must(
                rule.Reason.Length is > 0 and <= 300,
                $"{field}-reason",
                "Give the reason in one plain sentence: the customer is told it."
            );
            Must(rule.LimitCelsius is null or (>= 20 and <= 2000), $"{field}-limit", "A limit is from 20 to 2,000 °C.");
            Must(rule.Beyond >= rule.Within, $"{field}-beyond", "Above the limit it cannot be milder than below it.");
        }
        return faults;
    }
}
