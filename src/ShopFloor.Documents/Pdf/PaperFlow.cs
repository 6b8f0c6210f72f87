namespace ShopFloor.Documents.Pdf;

/// <summary>The page of a flowing document.</summary>
/// <param name="Size">Paper size.</param>
/// <param name="Margins">Where the text stands; furniture such as page numbers may stand outside.</param>
public sealed record FlowPage(SizeMm Size, InsetsMm Margins)
{
    /// <summary>Drawn on each page before its text: sheet, page number from 1, number of pages.</summary>
    public Action<PdfSheet, int, int>? Furniture { get; init; }

    /// <summary>Text of later pages begins here instead of at the top margin, when given.</summary>
    public double? LaterTopMm { get; init; }
}

/// <summary>
/// Text, tables and drawings one below the other over as many pages as it takes.
/// The writing is run twice: once to count the pages, once to print, so that each page can say how many there are.
/// </summary>
public sealed class PaperFlow
{
    private readonly PdfPaper paper;
    private readonly FlowPage page;
    private readonly int pages;

    private PaperFlow(PdfPaper paper, FlowPage page, int pages)
    {
        (this.paper, this.page, this.pages) = (paper, page, pages);
        Sheet = NewSheet();
        Y = page.Margins.Top;
    }

    /// <summary>The sheet that is being written.</summary>
    public PdfSheet Sheet { get; private set; }

    /// <summary>Number of the page that is being written, from 1.</summary>
    public int PageNumber => paper.SheetCount;

    /// <summary>Where the next thing begins, in millimetres from the top.</summary>
    public double Y { get; private set; }

    /// <summary>Left edge of the text.</summary>
    public double Left => page.Margins.Left;

    /// <summary>Width of the text.</summary>
    public double Width => page.Size.Width - page.Margins.Left - page.Margins.Right;

    /// <summary>What is left on this page.</summary>
    public double Room => page.Size.Height - page.Margins.Bottom - Y;

    /// <summary>What an empty later page has.</summary>
    public double FullRoom => page.Size.Height - page.Margins.Bottom - LaterTop;

    private double LaterTop => page.LaterTopMm ?? page.Margins.Top;

    /// <summary>Makes a document.</summary>
    /// <param name="facts">What it says about itself.</param>
    /// <param name="page">Paper, margins, furniture.</param>
    /// <param name="write">Writes the text; called twice, must do the same both times.</param>
    public static PdfPaper Write(PaperFacts facts, FlowPage page, Action<PaperFlow> write)
    {
        var counting = new PdfPaper(facts);
        write(new PaperFlow(counting, page, 0));
        var final = new PdfPaper(facts);
        write(new PaperFlow(final, page, counting.SheetCount));
        return final;
    }

    /// <summary>A paragraph that may go on over page ends.</summary>
    public void Paragraph(string text, TextStyle style, Align align = Align.Left, TextRole role = TextRole.Paragraph)
    {
        var lines = style.Wrap(text, Width);
        var x =
            align == Align.Left ? Left
            : align == Align.Right ? Left + Width
            : Left + Width / 2;
        foreach (var line in lines)
        {
            Keep(style.LineMm);
            Sheet.Text(line, new PointMm(x, Y + PdfSheet.Ascent(style)), style, align, role);
            Y += style.LineMm;
        }
    }

    /// <summary>Empty room; forgotten at the end of a page.</summary>
    public void Space(double heightMm) => Y = Math.Min(Y + heightMm, page.Size.Height - page.Margins.Bottom);

    /// <summary>Begins a new page unless that much room is left; a block taller than a page begins where it stands.</summary>
    public void Keep(double heightMm)
    {
        if (heightMm > Room + 1e-6 && heightMm <= FullRoom + 1e-6)
            NewPage();
    }

    /// <summary>A block of fixed height, kept together, drawn by the caller in the box it is given.</summary>
    public void Block(double heightMm, Action<PdfSheet, RectMm> draw)
    {
        Keep(heightMm);
        draw(Sheet, new RectMm(Left, Y, Width, heightMm));
        Y += heightMm;
    }

    /// <summary>Begins a new page.</summary>
    public void NewPage()
    {
        Sheet = NewSheet();
        Y = LaterTop;
    }

    /// <summary>A table over as many pages as it takes.</summary>
    public void Table(FlowTable table) => new TableWriter(this, table).Write();

    private PdfSheet NewSheet()
    {
        var sheet = paper.AddSheet(page.Size);
        page.Furniture?.Invoke(sheet, paper.SheetCount, pages);
        return sheet;
    }
}
