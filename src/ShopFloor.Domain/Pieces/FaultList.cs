using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Pieces;

/// <summary>What is usually done with a piece that has a fault.</summary>
public enum UsualAction
{
    /// <summary>Back to an earlier step.</summary>
    Rework,

    /// <summary>Put aside until somebody decides.</summary>
    Hold,

    /// <summary>It is lost.</summary>
    Spoil,
}

/// <summary>A fault of the trade with what people should look for.</summary>
/// <param name="Key">Stable machine name.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Looks">What one sees.</param>
/// <param name="Cause">Its usual cause.</param>
/// <param name="Remedy">What is usually done, in one plain sentence.</param>
/// <param name="Usual">What the program proposes.</param>
/// <param name="From">Kind of step from which rework usually begins.</param>
public sealed record FaultKind(string Key, string Name, string Looks, string Cause, string Remedy, UsualAction Usual, StepKind? From);

/// <summary>The short list of faults (common practice of the trade, no source).</summary>
public static class FaultList
{
    private const string SandBack = "Sand back with 400 to 600 grit, clean, and coat again.";
    private const string Lost =
        "After the press the picture is in the coat for good: usually lost; own pieces are put aside for the owner.";

    /// <summary>All faults, coat faults first.</summary>
    public static IReadOnlyList<FaultKind> All { get; } =
    [
        new(
            "fisheye",
            "Fisheye",
            "Small round craters in the wet coat",
            "Grease or silicone on the ground",
            SandBack,
            UsualAction.Rework,
            StepKind.Clean
        ),
        new(
            "run",
            "Run",
            "A drop or curtain hangs in the coat",
            "Too much at once, or held too near",
            SandBack,
            UsualAction.Rework,
            StepKind.Clean
        ),
        new(
            "streak",
            "Streak",
            "Stripes in the coat",
            "Promoter wiped unevenly, or one pass missing",
            SandBack,
            UsualAction.Rework,
            StepKind.Clean
        ),
        new("dust", "Dust", "Grains in the coat", "Dirty rag or air", SandBack, UsualAction.Rework, StepKind.Clean),
        new(
            "blister",
            "Blister",
            "Bubbles in the baked coat",
            "Baked wet: flash-off too short, or a damp ground",
            SandBack,
            UsualAction.Rework,
            StepKind.Clean
        ),
        new(
            "poor-grip",
            "Coat comes off",
            "Coat lifts at edges or at the cross-cut",
            "No promoter, grease, or an unsuitable ground",
            "Put aside; find the cause on a test piece first.",
            UsualAction.Hold,
            null
        ),
        new(
            "wrong-picture",
            "Wrong picture",
            "The print is not this piece's",
            "Mixed up at Tape",
            "Before the press: take the print off and tape again. After it: lost.",
            UsualAction.Rework,
            StepKind.Tape
        ),
        new(
            "wrong-way",
            "Wrong way round",
            "Text reads backwards",
            "Mirrored twice or not at all",
            "Before the press: print again and tape again. After it: lost.",
            UsualAction.Rework,
            StepKind.Tape
        ),
        new(
            "ghost",
            "Ghost",
            "A shadow beside the picture",
            "The print moved, or a protective sheet was used twice",
            Lost,
            UsualAction.Hold,
            null
        ),
        new("bleed", "Bleed", "Soft edges of colour", "Too hot, too long, or a damp print", Lost, UsualAction.Hold, null),
        new(
            "pale",
            "Pale",
            "Colours weak",
            "Pressed too short, too cool or too lightly",
            "Press again with a fresh print only where the owner agrees; else put aside.",
            UsualAction.Hold,
            null
        ),
        new("brown", "Brown", "White turned yellow or brown", "Pressed or baked too long or too hot", Lost, UsualAction.Spoil, null),
        new("patch", "Patch", "A spot without picture", "Uneven pressure or thickness", Lost, UsualAction.Hold, null),
        new(
            "cracked",
            "Cracked",
            "Crack or chip in the piece",
            "Heat shock, or a knock",
            "It is lost; keep it for the customer.",
            UsualAction.Spoil,
            null
        ),
        new("dropped", "Dropped", "It fell", "It happens", "Look at face and edges: go on, coat again or spoil.", UsualAction.Hold, null),
        new(
            "other",
            "Something else",
            "Anything not in this list",
            "Say it in a few words",
            "Put aside until somebody decides.",
            UsualAction.Hold,
            null
        ),
    ];

    /// <summary>The fault of a key; null when there is none.</summary>
    public static FaultKind? Find(string key) => All.FirstOrDefault(f => string.Equals(f.Key, key, StringComparison.Ordinal));
}
