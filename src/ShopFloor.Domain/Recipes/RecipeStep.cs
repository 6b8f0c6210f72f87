namespace ShopFloor.Domain.Recipes;

/// <summary>
/// One step with its settings: in a recipe as the template for the reference piece, in a piece as the copy fitted to that piece, which
/// no later edit of the recipe touches. Times are whole seconds.
/// </summary>
/// <param name="Number">Place in the recipe, from 1.</param>
/// <param name="Kind">What is done.</param>
public sealed record RecipeStep(int Number, StepKind Kind)
{
    /// <summary>The coating that is wiped or sprayed.</summary>
    public CoatingKind? Coating { get; init; }

    /// <summary>Attended work for one piece, seconds, at least 1 for attended steps.</summary>
    public int LengthSeconds { get; init; }

    /// <summary>Shortest rest, dwell or press time, seconds.</summary>
    public int MinSeconds { get; init; }

    /// <summary>Longest rest, dwell or press time, seconds, inclusive; null: no limit.</summary>
    public int? MaxSeconds { get; init; }

    /// <summary>True temperature of oven or press, °C.</summary>
    public decimal? Celsius { get; init; }

    /// <summary>The rest ends when the piece is down to this, °C; null for flash-off.</summary>
    public decimal? CoolToCelsius { get; init; }

    /// <summary>Light, medium or heavy: a marked position of the press's dial.</summary>
    public string? Pressure { get; init; }

    /// <summary>Hot or cold: when the paper comes off; null: as <see cref="RecipeRules.UsualPeel"/> says.</summary>
    public string? Peel { get; init; }

    /// <summary>How piece and print lie in the press, e.g. <c>print above</c>.</summary>
    public string? LayUp { get; init; }

    /// <summary>Longest wait from this step's end to the next step's start, seconds.</summary>
    public int? MaxWaitSeconds { get; init; }

    /// <summary>Coating for this piece, millilitres; zero in a template.</summary>
    public decimal Ml { get; init; }

    /// <summary>Heat this piece takes in this oven step, kJ; zero in a template.</summary>
    public decimal HeatKilojoules { get; init; }

    /// <summary>
    /// Solvent that this piece is taken to give off in the oven, g; zero in a template. It counts all that leaves the can, what misses the face too:
    /// a reserve.
    /// </summary>
    public decimal VapourGrams { get; init; }

    /// <summary>True at Inspect: the cross-cut adhesion class (ISO 2409) is asked for.</summary>
    public bool CrossCut { get; init; }

    /// <summary>True at Inspect: the gloss (ISO 2813) is asked for.</summary>
    public bool Gloss { get; init; }

    /// <summary>True when the time was computed for a thickness nobody has tried: a test piece tells for sure.</summary>
    public bool IsEstimate { get; init; }

    /// <summary>One plain sentence on how it is done.</summary>
    public string Note { get; init; } = "";
}
