using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Calculators;

/// <summary>A number to enter. Its name is the one that the domain's refusals speak of.</summary>
/// <param name="Name">Field name, unique within the calculator.</param>
/// <param name="Label">In plain words.</param>
/// <param name="Unit">Unit sign, or empty.</param>
/// <param name="Start">What stands there at first.</param>
/// <param name="IsWhole">True for counts.</param>
/// <param name="MayBeEmpty">True when no number is an answer too.</param>
/// <param name="Least">Lowest possible number, only where the domain would speak of the field by another name.</param>
/// <param name="Most">Highest possible number, with <paramref name="Least"/>.</param>
public sealed record CalculatorNumber(
    string Name,
    string Label,
    string Unit,
    double? Start,
    bool IsWhole = false,
    bool MayBeEmpty = false,
    double? Least = null,
    double? Most = null
);

/// <summary>Something to choose from a list.</summary>
/// <param name="Name">Field name.</param>
/// <param name="Label">In plain words.</param>
/// <param name="Options">Key and words of each choice; the first is chosen at first.</param>
public sealed record CalculatorChoice(string Name, string Label, IReadOnlyList<(string Key, string Text)> Options);

/// <summary>A colour to show beside a result.</summary>
/// <param name="Text">What it is.</param>
/// <param name="Css">As a CSS colour.</param>
public sealed record Swatch(string Text, string Css);

/// <summary>What a calculator found.</summary>
/// <param name="Why">The result with its explanation.</param>
/// <param name="Swatches">Colours to show; mostly none.</param>
/// <param name="Measured">What the workshop may keep as its own number; mostly nothing.</param>
public sealed record CalculatorAnswer(Explanation Why, IReadOnlyList<Swatch> Swatches, Measured? Measured = null)
{
    /// <summary>The answer of a computation.</summary>
    public static Result<CalculatorAnswer> From<T>(Result<Explained<T>> result) => From(result, _ => null);

    /// <summary>The answer of a measurement, which may be kept.</summary>
    public static Result<CalculatorAnswer> From<T>(Result<Explained<T>> result, Func<T, Measured?> measured) =>
        result.Then(explained => Result<CalculatorAnswer>.Ok(new CalculatorAnswer(explained.Why, [], measured(explained.Value))));
}

/// <summary>What was entered, read.</summary>
public sealed class CalculatorValues(
    IReadOnlyDictionary<string, decimal?> numbers,
    IReadOnlyDictionary<string, string> choices,
    CalculatorStart start
)
{
    /// <summary>A number; 0 where it was left empty.</summary>
    public double this[string name] => (double)(numbers[name] ?? 0);

    /// <summary>A number, or null where it was left empty.</summary>
    public double? OrNull(string name) => (double?)numbers[name];

    /// <summary>A count.</summary>
    public int Whole(string name) => (int)(numbers[name] ?? 0);

    /// <summary>The key of the choice.</summary>
    public string Choice(string name) => choices[name];

    /// <summary>The chosen member of an enumeration.</summary>
    public T Choice<T>(string name)
        where T : struct, Enum => Enum.Parse<T>(choices[name]);

    /// <summary>The chosen material.</summary>
    public MaterialSheet Material(string name) => start.Material(choices[name]);

    /// <summary>What the workshop brought along.</summary>
    public CalculatorStart Start => start;
}

/// <summary>One calculator: its fields, and what to do with them.</summary>
/// <param name="Key">Last part of its address.</param>
/// <param name="Title">Its name.</param>
/// <param name="Purpose">What it answers, in one sentence.</param>
/// <param name="Topic">The heading it stands under.</param>
/// <param name="Choices">What to choose, above the numbers.</param>
/// <param name="Numbers">What to enter.</param>
/// <param name="Work">The computation.</param>
public sealed record Calculator(
    string Key,
    string Title,
    string Purpose,
    string Topic,
    IReadOnlyList<CalculatorChoice> Choices,
    IReadOnlyList<CalculatorNumber> Numbers,
    Func<CalculatorValues, Result<CalculatorAnswer>> Work
);

/// <summary>What is typed into a calculator; kept as typed, read when the person asks for the result.</summary>
public sealed class CalculatorForm(Calculator calculator, CalculatorStart start)
{
    private const decimal MostWhole = 1_000_000_000;

    /// <summary>The calculator.</summary>
    public Calculator Calculator => calculator;

    /// <summary>The numbers as typed.</summary>
    public NumberEntries<Dictionary<string, decimal?>> Numbers { get; } =
        new(
            [.. calculator.Numbers.Select(Field)],
            calculator.Numbers.ToDictionary(n => n.Name, n => (decimal?)n.Start, StringComparer.Ordinal)
        );

    /// <summary>The choices as made.</summary>
    public Dictionary<string, string> Chosen { get; } =
        calculator.Choices.ToDictionary(c => c.Name, c => c.Options[0].Key, StringComparer.Ordinal);

    /// <summary>The result, or every field that cannot be used.</summary>
    public Result<CalculatorAnswer> Work() =>
        Numbers
            .Read()
            .Then(numbers =>
            {
                Refusal[] faults = [.. calculator.Numbers.Select(n => Fault(n, numbers[n.Name])).OfType<Refusal>()];
                return faults.Length > 0
                    ? Result<CalculatorAnswer>.Refused(faults)
                    : calculator.Work(new CalculatorValues(numbers, Chosen, start));
            });

    private static Refusal? Fault(CalculatorNumber field, decimal? number)
    {
        if (number is not { } value)
            return null;
        if (field.IsWhole && !(decimal.IsInteger(value) && Math.Abs(value) <= MostWhole))
            return new Refusal("not-whole", $"{field.Label}: this must be a whole number.", field.Name);
        return field is { Least: { } least, Most: { } most } && ((double)value < least || (double)value > most)
            ? new Refusal("number-out-of-range", $"{field.Label}: this must be between {least} and {most}.", field.Name)
            : null;
    }

    private static NumberOf<Dictionary<string, decimal?>> Field(CalculatorNumber number) =>
        new(
            number.Name,
            number.Label,
            number.Unit,
            values => values[number.Name],
            (values, entered) => new Dictionary<string, decimal?>(values, StringComparer.Ordinal) { [number.Name] = entered },
            number.MayBeEmpty
        );
}
