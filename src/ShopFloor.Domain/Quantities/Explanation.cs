namespace ShopFloor.Domain.Quantities;

/// <summary>One number or word that went into a result.</summary>
/// <param name="Name">What it is, in plain words, e.g. <c>thickness</c>.</param>
/// <param name="Value">The number in <paramref name="Unit"/>; null when the input is a word.</param>
/// <param name="Unit">Unit sign, empty for a pure number.</param>
/// <param name="Text">The word when it is no number, e.g. a material's name.</param>
public readonly record struct ExplainedInput(string Name, double? Value, string Unit, string? Text = null)
{
    /// <summary>A number with its unit.</summary>
    public static ExplainedInput Of(string name, double value, string unit = "") => new(name, value, unit);

    /// <summary>A word.</summary>
    public static ExplainedInput Word(string name, string text) => new(name, null, "", text);
}

/// <summary>How a result came about, so that a person who acts on it can open it and judge.</summary>
/// <param name="Answer">The result in words and figures, e.g. <c>12.4 ml</c>.</param>
/// <param name="Inputs">What went in, in the order a person would say it.</param>
/// <param name="Formula">The way from inputs to result, in words.</param>
/// <param name="Source">Where formula and constants come from, or <see cref="CommonPractice"/>.</param>
/// <param name="IsEstimate">True when only a test piece can tell for sure.</param>
/// <param name="Notes">Cautions and what to do; may be empty.</param>
public sealed record Explanation(
    string Answer,
    IReadOnlyList<ExplainedInput> Inputs,
    string Formula,
    string Source,
    bool IsEstimate,
    IReadOnlyList<string> Notes
)
{
    /// <summary>The label of a workshop habit that nobody published.</summary>
    public const string CommonPractice = "common practice, no source";

    /// <summary>The words that go with every estimate.</summary>
    public const string TryATestPiece = "This is an estimate: try a test piece first.";
}

/// <summary>A result together with how it came about.</summary>
/// <typeparam name="T">The result; its unit is in its type or in the name of the call that made it.</typeparam>
/// <param name="Value">The result.</param>
/// <param name="Why">How it came about.</param>
public sealed record Explained<T>(T Value, Explanation Why);

/// <summary>Makes explained results without repeating the type.</summary>
internal static class Explain
{
    public static Explained<T> As<T>(
        T value,
        string answer,
        IReadOnlyList<ExplainedInput> inputs,
        string formula,
        string source,
        bool isEstimate = false,
        params IReadOnlyList<string> notes
    ) => new(value, new Explanation(answer, inputs, formula, source, isEstimate, notes));
}
