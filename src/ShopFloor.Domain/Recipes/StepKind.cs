using ShopFloor.Domain.Stations;

namespace ShopFloor.Domain.Recipes;

/// <summary>The kinds of step that a recipe is made of.</summary>
public enum StepKind
{
    /// <summary>Degrease, dry, no dust.</summary>
    Clean,

    /// <summary>Cover threads, hinges, rubber.</summary>
    Mask,

    /// <summary>Drive moisture out in the oven before anything else.</summary>
    Dry,

    /// <summary>Promoter wiped on.</summary>
    Wipe,

    /// <summary>One coat sprayed, lengthwise and crosswise.</summary>
    Spray,

    /// <summary>Unattended wait: flash-off or cooling.</summary>
    Rest,

    /// <summary>Baked in the oven.</summary>
    Cure,

    /// <summary>The transfer is taped to the piece: here the piece gets its name.</summary>
    Tape,

    /// <summary>Heat press.</summary>
    Press,

    /// <summary>Looked at and judged.</summary>
    Inspect,

    /// <summary>Packed for the customer.</summary>
    Pack,
}

/// <summary>What a step's kind means for the work.</summary>
public static class StepKinds
{
    /// <summary>True when nobody has to be there: the step begins when the one before it ends and ends when the next begins.</summary>
    public static bool IsRest(this StepKind kind) => kind == StepKind.Rest;

    /// <summary>True for the steps in the oven.</summary>
    public static bool InOven(this StepKind kind) => kind is StepKind.Cure or StepKind.Dry;

    /// <summary>True when hands are busy with a piece all the time the step runs.</summary>
    public static bool NeedsHands(this StepKind kind) => !kind.IsRest() && !kind.HasWindow();

    /// <summary>True when the step is judged by how long it ran.</summary>
    public static bool HasWindow(this StepKind kind) => kind is StepKind.Cure or StepKind.Dry or StepKind.Press;

    /// <summary>The kind of station that the step is done at.</summary>
    public static StationKind DoneAt(this StepKind kind) =>
        kind switch
        {
            StepKind.Spray => StationKind.Booth,
            StepKind.Rest => StationKind.Rack,
            StepKind.Cure or StepKind.Dry => StationKind.Oven,
            StepKind.Press => StationKind.Press,
            _ => StationKind.Bench,
        };
}
