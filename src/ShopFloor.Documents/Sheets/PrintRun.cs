using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Documents.Sheets;

/// <summary>A transfer on a sheet.</summary>
/// <param name="Cell">What lies there.</param>
/// <param name="At">Upper left corner on the paper, before the printer's correction.</param>
/// <param name="Turned">A quarter turn round.</param>
public sealed record PlacedCell(TransferCell Cell, PointMm At, bool Turned)
{
    /// <summary>The box it takes on the paper.</summary>
    public RectMm Box => new(At.X, At.Y, Turned ? Cell.Size.Height : Cell.Size.Width, Turned ? Cell.Size.Width : Cell.Size.Height);

    /// <summary>From the cell to the paper.</summary>
    internal Motion Motion => Turned ? new Motion(0, 1, -1, 0, At.X + Cell.Size.Height, At.Y) : Pdf.Motion.Shift(At.X, At.Y);
}

/// <summary>A sheet of a run.</summary>
/// <param name="Paper">The paper.</param>
/// <param name="Size">Size of the sheet; for a roll, as cut.</param>
/// <param name="Group">Press session, order or day.</param>
/// <param name="Number">Number within its group, from 1.</param>
/// <param name="Of">Sheets of its group.</param>
/// <param name="Mirrored">All transfers on it are printed mirrored; else all are straight.</param>
/// <param name="Cells">What lies on it.</param>
public sealed record PlannedSheet(
    PaperStock Paper,
    SizeMm Size,
    string Group,
    int Number,
    int Of,
    bool Mirrored,
    IReadOnlyList<PlacedCell> Cells
);

/// <summary>How well the transfers of one group use their paper.</summary>
/// <param name="Group">Press session, order or day.</param>
/// <param name="Paper">The paper.</param>
/// <param name="Transfers">Number of transfers or tiles.</param>
/// <param name="Sheets">Sheets used.</param>
/// <param name="FewestPossible">No nesting can use fewer.</param>
/// <param name="Utilisation">Share of the area for transfers that is covered by them.</param>
public sealed record PaperUse(string Group, string Paper, int Transfers, int Sheets, int FewestPossible, double Utilisation);

/// <summary>All sheets of a print run, planned but not drawn.</summary>
public sealed record PrintRun(PrinterFacts Printer, IReadOnlyList<PlannedSheet> Sheets, IReadOnlyList<PaperUse> Use);

/// <summary>What a run shall be printed on.</summary>
/// <param name="Printer">The printer.</param>
/// <param name="Papers">The papers to choose from, at least one.</param>
public sealed record PrintRequest(PrinterFacts Printer, IReadOnlyList<PaperStock> Papers)
{
    /// <summary>Transfers larger than every paper are cut into tiles instead of refused.</summary>
    public bool AllowTiles { get; init; }
}
