namespace ShopFloor.Web.Counter.Entries;

/// <summary>The steps of an order, in the order they are walked.</summary>
public enum CounterStep
{
    Piece,
    Size,
    Picture,
    Look,
    You,
    Check,
}

public static class CounterSteps
{
    public static IReadOnlyList<CounterStep> All { get; } = Enum.GetValues<CounterStep>();

    /// <summary>As it stands in addresses.</summary>
    public static string Word(this CounterStep step) => step.ToString().ToLowerInvariant();

    /// <summary>The step of an address; the first for anything else.</summary>
    public static CounterStep Of(string? word) =>
        All.FirstOrDefault(s => string.Equals(s.Word(), word, StringComparison.OrdinalIgnoreCase));

    public static CounterStep? Next(this CounterStep step) => step == CounterStep.Check ? null : step + 1;

    public static CounterStep? Before(this CounterStep step) => step == CounterStep.Piece ? null : step - 1;
}
