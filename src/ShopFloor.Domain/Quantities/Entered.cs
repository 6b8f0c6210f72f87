using System.Runtime.CompilerServices;

namespace ShopFloor.Domain.Quantities;

/// <summary>
/// Looks at numbers that a person entered and collects a plain sentence for each that cannot be; the field is the argument's own name.
/// </summary>
internal sealed class Entered
{
    private readonly List<Refusal> refusals = [];

    /// <summary>The number must lie within both ends, inclusive; NaN never does.</summary>
    public Entered Between(
        double value,
        double min,
        double max,
        string what,
        string unit = "",
        [CallerArgumentExpression(nameof(value))] string field = ""
    )
    {
        if (!(value >= min && value <= max))
        {
            refusals.Add(
                new("number-out-of-range", $"{what} must be between {min:0.####} and {max:0.####}{Spaced(unit)}.", LastName(field))
            );
        }

        return this;
    }

    /// <summary>The number must be greater than zero and at most <paramref name="max"/>; NaN never is.</summary>
    public Entered Positive(
        double value,
        double max,
        string what,
        string unit = "",
        [CallerArgumentExpression(nameof(value))] string field = ""
    )
    {
        if (!(value > 0 && value <= max))
        {
            refusals.Add(
                new("number-out-of-range", $"{what} must be more than 0 and at most {max:0.####}{Spaced(unit)}.", LastName(field))
            );
        }

        return this;
    }

    /// <summary>Any other condition, with its own code and sentence.</summary>
    public Entered That(bool condition, string code, string text, string field)
    {
        if (!condition)
        {
            refusals.Add(new(code, text, field));
        }

        return this;
    }

    /// <summary>Computes when nothing was wrong, else hands the refusals over.</summary>
    public Result<T> Then<T>(Func<Result<T>> compute) => refusals.Count == 0 ? compute() : Result<T>.Refused(refusals);

    private static string Spaced(string unit) => unit.Length == 0 ? "" : " " + unit;

    private static string LastName(string expression) => expression[(expression.LastIndexOf('.') + 1)..];
}
