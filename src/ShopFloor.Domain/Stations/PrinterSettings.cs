using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Stations;

/// <summary>A paper that a printer takes.</summary>
/// <param name="Name">What people call it, such as <c>A4</c> or <c>roll 432</c>; the stock knows it by the same name.</param>
/// <param name="Width">As it goes into the printer.</param>
/// <param name="Longest">Length of a sheet; the longest piece that is cut off a roll.</param>
/// <param name="IsRoll">Cut to length.</param>
public sealed record PrinterPaper(string Name, Length Width, Length Longest, bool IsRoll = false);

/// <summary>The rim that a printer cannot reach.</summary>
public sealed record PrinterRim(Length Left, Length Top, Length Right, Length Bottom)
{
    /// <summary>5 mm on all sides, as desk printers leave it (common practice, no source).</summary>
    public static PrinterRim Usual { get; } = All(Length.FromMillimetres(5));

    /// <summary>The same on all sides.</summary>
    public static PrinterRim All(Length rim) => new(rim, rim, rim, rim);
}

/// <summary>A printer for transfers.</summary>
/// <param name="Paper">Name of the paper that is usually in it.</param>
/// <param name="DriverMirrors">True when the printer's own driver mirrors.</param>
/// <param name="ScaleX">Measured correction across, 1 = none.</param>
/// <param name="ScaleY">Measured correction along, 1 = none.</param>
public sealed record PrinterSettings(string Paper, bool DriverMirrors, decimal ScaleX, decimal ScaleY) : StationSettings
{
    private const int MostPapers = 20;

    /// <summary>The papers it takes; empty where nobody entered them yet.</summary>
    public IReadOnlyList<PrinterPaper> Papers { get; init; } = [];

    /// <summary>The rim it leaves free.</summary>
    public PrinterRim Rim { get; init; } = PrinterRim.Usual;

    /// <inheritdoc />
    public override IReadOnlyList<Refusal> Faults() =>
        [
            .. Between(ScaleX, 0.9m, 1.1m, "scaleX", "The scale across"),
            .. Between(ScaleY, 0.9m, 1.1m, "scaleY", "The scale along"),
            .. Between(Papers.Count, 0, MostPapers, "paper-0-name", "The number of papers"),
            .. Between(Rim.Left.Millimetres, 0, 50, "rimLeft", "The left margin in mm"),
            .. Between(Rim.Top.Millimetres, 0, 50, "rimTop", "The top margin in mm"),
            .. Between(Rim.Right.Millimetres, 0, 50, "rimRight", "The right margin in mm"),
            .. Between(Rim.Bottom.Millimetres, 0, 50, "rimBottom", "The bottom margin in mm"),
            .. Papers.SelectMany(FaultsOf),
        ];

    // Narrower than this, the head of a sheet cannot be read; longer, a PDF page cannot be (ISO 32000-1, annex C: 14 400 units).
    private IEnumerable<Refusal> FaultsOf(PrinterPaper paper, int index)
    {
        var field = string.Create(CultureInfo.InvariantCulture, $"paper-{index}");
        if (paper.Name.Trim().Length is 0 or > 30)
            yield return new Refusal("paper-name", "Give the paper a name of up to 30 characters.", $"{field}-name");
        if (Papers.Take(index).Any(p => string.Equals(p.Name, paper.Name, StringComparison.OrdinalIgnoreCase)))
            yield return new Refusal("paper-twice", $"There are two papers called {paper.Name}.", $"{field}-name");
        foreach (var fault in Between(paper.Width.Millimetres, 80, 2000, $"{field}-width", "The paper's width in mm"))
            yield return fault;
        foreach (var fault in Between(paper.Longest.Millimetres, 80, 4900, $"{field}-length", "The paper's length in mm"))
            yield return fault;
    }
}
