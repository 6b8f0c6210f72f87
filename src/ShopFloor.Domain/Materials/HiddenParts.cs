namespace ShopFloor.Domain.Materials;

/// <summary>What the person at the counter knows about a hidden part.</summary>
public enum Answer
{
    /// <summary>Nobody looked yet.</summary>
    Unknown,

    /// <summary>There is none.</summary>
    No,

    /// <summary>There is one.</summary>
    Yes,
}

/// <summary>Parts that cannot be seen and that decide whether a piece may go into the heat.</summary>
public enum HiddenPart
{
    /// <summary>A closed hollow: vacuum flask, closed tube, gas spring.</summary>
    SealedHollow,

    /// <summary>Fuel, gas, battery or liquid inside.</summary>
    FuelBatteryOrLiquid,

    /// <summary>A soldered joint.</summary>
    SolderedJoint,

    /// <summary>Something glued on or in.</summary>
    GluedPart,

    /// <summary>Two panes or layers joined by a film, or a mirror's back.</summary>
    LaminatedLayer,

    /// <summary>An insert, seal, hinge or handle of plastic or rubber.</summary>
    PlasticOrRubberInsert,
}

/// <summary>The answers about hidden parts; a part that is not named counts as <see cref="Answer.Unknown"/>.</summary>
/// <param name="SealedHollow">A closed hollow.</param>
/// <param name="FuelBatteryOrLiquid">Fuel, gas, battery or liquid.</param>
/// <param name="SolderedJoint">A soldered joint.</param>
/// <param name="GluedPart">Something glued.</param>
/// <param name="LaminatedLayer">Layers joined by a film, or a mirror's back.</param>
/// <param name="PlasticOrRubberInsert">An insert of plastic or rubber.</param>
public sealed record HiddenParts(
    Answer SealedHollow = Answer.Unknown,
    Answer FuelBatteryOrLiquid = Answer.Unknown,
    Answer SolderedJoint = Answer.Unknown,
    Answer GluedPart = Answer.Unknown,
    Answer LaminatedLayer = Answer.Unknown,
    Answer PlasticOrRubberInsert = Answer.Unknown
)
{
    /// <summary>Old lacquer, paint, powder coat or wax on it; null: the piece was described before this was asked, and nothing follows from it.</summary>
    public Answer? OldCoat { get; init; }

    /// <summary>A plain piece that hides nothing and is bare, such as a stock blank.</summary>
    public static HiddenParts None { get; } = new(Answer.No, Answer.No, Answer.No, Answer.No, Answer.No, Answer.No) { OldCoat = Answer.No };

    /// <summary>Nobody looked.</summary>
    public static HiddenParts Unseen { get; } = new() { OldCoat = Answer.Unknown };

    /// <summary>Whether an old coat is on it, or may be: it is stripped first, and a test piece is made.</summary>
    public bool MayHaveOldCoat => OldCoat is Answer.Yes or Answer.Unknown;

    /// <summary>Whether nothing is hidden in it and no old coat is known of.</summary>
    public bool IsNothing => !MayHaveOldCoat && this with { OldCoat = Answer.No } == None;

    /// <summary>The answer about one part.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No such part.</exception>
    public Answer About(HiddenPart part) =>
        part switch
        {
            HiddenPart.SealedHollow => SealedHollow,
            HiddenPart.FuelBatteryOrLiquid => FuelBatteryOrLiquid,
            HiddenPart.SolderedJoint => SolderedJoint,
            HiddenPart.GluedPart => GluedPart,
            HiddenPart.LaminatedLayer => LaminatedLayer,
            HiddenPart.PlasticOrRubberInsert => PlasticOrRubberInsert,
            _ => throw new ArgumentOutOfRangeException(nameof(part), part, "No such hidden part."),
        };
}

/// <summary>What to ask at the counter about one hidden part.</summary>
/// <param name="Part">The part.</param>
/// <param name="Question">The question in plain words; "yes" means it is there.</param>
public sealed record HiddenPartQuestion(HiddenPart Part, string Question)
{
    private static readonly HiddenPartQuestion Sealed = new(
        HiddenPart.SealedHollow,
        "Is it hollow and closed, like a vacuum flask or a capped tube?"
    );

    private static readonly HiddenPartQuestion Fuel = new(
        HiddenPart.FuelBatteryOrLiquid,
        "Is there fuel, gas, a battery or a liquid inside?"
    );

    private static readonly HiddenPartQuestion Solder = new(HiddenPart.SolderedJoint, "Is any part soldered on?");

    private static readonly HiddenPartQuestion Glue = new(HiddenPart.GluedPart, "Is anything glued on or in?");

    private static readonly HiddenPartQuestion Laminate = new(
        HiddenPart.LaminatedLayer,
        "Is it made of panes or layers stuck together, or is it a mirror?"
    );

    private static readonly HiddenPartQuestion Insert = new(
        HiddenPart.PlasticOrRubberInsert,
        "Are there parts of plastic or rubber, such as seals, hinges or a handle?"
    );

    /// <summary>The questions that make sense for a kind of material and a form, in the order to ask them.</summary>
    public static IReadOnlyList<HiddenPartQuestion> For(MaterialClass material, Form form) =>
        material switch
        {
            MaterialClass.Metal => [Sealed, Fuel, Solder, Glue, Insert],
            MaterialClass.Glass when form == Form.Flat => [Laminate, Glue],
            MaterialClass.Glass => [Sealed, Fuel, Laminate, Glue, Insert],
            MaterialClass.Ceramic when form == Form.Flat => [Glue],
            MaterialClass.Ceramic => [Sealed, Fuel, Glue, Insert],
            MaterialClass.Stone => [Glue, Laminate],
            MaterialClass.Wood => [Glue, Laminate, Insert],
            _ => [Sealed, Fuel, Solder, Glue, Laminate, Insert],
        };
}
