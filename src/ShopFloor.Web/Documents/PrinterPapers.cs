using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Web.Documents;

/// <summary>A printer's settings in the terms of the papers.</summary>
public static class PrinterPapers
{
    /// <summary>What sheets must know about a printer.</summary>
    public static PrinterFacts Facts(Station station, PrinterSettings settings) =>
        new(station.Name, Insets(settings.Rim), (double)settings.ScaleX, (double)settings.ScaleY, settings.DriverMirrors);

    /// <summary>The papers it takes; where nobody entered any, the usual one, else A4.</summary>
    public static IReadOnlyList<PaperStock> Of(PrinterSettings settings) =>
        settings.Papers.Count > 0
            ? [.. settings.Papers.Select(Stock)]
            : [PaperStock.Iso(IsoPaper.Names.Contains(settings.Paper) ? settings.Paper : "A4")];

    /// <summary>A sheet of ISO 216 as the owner may enter it.</summary>
    public static PrinterPaper Iso(string name)
    {
        var size = IsoPaper.Size(name);
        return new PrinterPaper(name, Length.FromMillimetres((decimal)size.Width), Length.FromMillimetres((decimal)size.Height));
    }

    private static PaperStock Stock(PrinterPaper paper) => new(paper.Name, Mm(paper.Width), Mm(paper.Longest), paper.IsRoll);

    private static InsetsMm Insets(PrinterRim rim) => new(Mm(rim.Left), Mm(rim.Top), Mm(rim.Right), Mm(rim.Bottom));

    private static double Mm(Length length) => (double)length.Millimetres;
}
