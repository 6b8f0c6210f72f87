namespace ShopFloor.Domain.Orders;

/// <summary>What a person agreed to, with the wording, so that it can be shown later.</summary>
/// <param name="What"><c>risk</c>, <c>picture rights</c>, <c>contact data</c> or <c>coarse picture, line 1</c>: told that it is too coarse for its size; in earlier orders without the line, for all of them.</param>
/// <param name="WordingVersion">Version of the text that was shown.</param>
/// <param name="Language">Language it was shown in.</param>
/// <param name="At">When, UTC.</param>
/// <param name="By">Who entered it: a worker's id, or the device.</param>
public sealed record Agreement(string What, string WordingVersion, string Language, DateTimeOffset At, string By)
{
    private const string Coarse = "coarse picture";

    /// <summary>How it is kept that the customer knows that the picture of a line is too coarse for its size.</summary>
    public static string CoarseTold(int line) => string.Create(CultureInfo.InvariantCulture, $"{Coarse}, line {line}");

    /// <summary>Whether that was agreed to here; earlier orders have one such agreement for all their lines.</summary>
    public bool IsCoarseTold(int line) => What == Coarse || What == CoarseTold(line);

    /// <summary>What is left of it when a line has another picture: nobody was told of that one, while what was said of other lines holds.</summary>
    /// <param name="line">The line with another picture.</param>
    /// <param name="lines">All lines of the order.</param>
    internal IEnumerable<Agreement> AfterAnotherPicture(int line, IEnumerable<int> lines) =>
        !IsCoarseTold(line) ? [this]
        : What == Coarse ? lines.Where(l => l != line).Select(l => this with { What = CoarseTold(l) })
        : [];
}
