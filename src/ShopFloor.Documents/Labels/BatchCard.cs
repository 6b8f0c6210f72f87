using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Labels;

/// <summary>A piece's place on a shelf or platen, in millimetres from its near left corner, as a person standing before it sees it.</summary>
public sealed record CardPlace(string Code, double X, double Y, double Width, double Depth);

/// <summary>A shelf or platen with what lies on it.</summary>
/// <param name="Name">Such as <c>shelf 2</c>.</param>
/// <param name="Size">Usable width and depth.</param>
/// <param name="Places">What lies where.</param>
public sealed record CardSurface(string Name, SizeMm Size, IReadOnlyList<CardPlace> Places);

/// <summary>A setting in large letters.</summary>
/// <param name="Name">Such as <c>dial</c>.</param>
/// <param name="Value">With its unit.</param>
public sealed record CardSetting(string Name, string Value);

/// <summary>A line of the list of pieces, in the order in which they are laid.</summary>
/// <param name="Code">Code of the piece.</param>
/// <param name="Reference">Order and number within it.</param>
/// <param name="Piece">Material and size.</param>
/// <param name="Shelf">Shelf; empty on a platen.</param>
/// <param name="Right">Millimetres from the left edge to its left side.</param>
/// <param name="Back">Millimetres from the front edge to its near side.</param>
public sealed record CardPiece(string Code, string Reference, string Piece, string Shelf, string Right, string Back);

/// <summary>A layer between the platens.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Thickness">As drawn, 1 = a sheet of paper; not to scale.</param>
/// <param name="Dash">Dashes of its outline, as on the screen at the press; null for a full line.</param>
/// <param name="IsCoat">The coat: drawn black.</param>
public sealed record CardLayer(string Name, double Thickness = 1, string? Dash = null, bool IsCoat = false);

/// <summary>The card of an oven load or a press session. Nothing of the customer.</summary>
public sealed record BatchCard
{
    /// <summary>Title, such as <c>Tray card</c>.</summary>
    public required string Title { get; init; }

    /// <summary>Code of the batch.</summary>
    public required string Code { get; init; }

    /// <summary>What the QR code holds.</summary>
    public required string Address { get; init; }

    /// <summary>Station and time.</summary>
    public string Where { get; init; } = "";

    /// <summary>Temperatures, times, pressure.</summary>
    public IReadOnlyList<CardSetting> Settings { get; init; } = [];

    /// <summary>A word in a black bar, such as how the prints must read; empty for none.</summary>
    public string Sign { get; init; } = "";

    /// <summary>The layers from the top to the bottom; empty for none.</summary>
    public IReadOnlyList<CardLayer> Stack { get; init; } = [];

    /// <summary>Shelves or the platen.</summary>
    public IReadOnlyList<CardSurface> Surfaces { get; init; } = [];

    /// <summary>The pieces.</summary>
    public IReadOnlyList<CardPiece> Pieces { get; init; } = [];

    /// <summary>Cautions for this step.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];

    /// <summary>A line at the foot.</summary>
    public string Foot { get; init; } = "";
}

/// <summary>The words that frame a card.</summary>
public sealed record CardWords
{
    /// <summary>Headings of the list.</summary>
    public IReadOnlyList<string> Columns { get; init; } = ["", "Piece", "Order", "What", "Shelf", "From left", "From front"];

    /// <summary>Above the layers.</summary>
    public string Stack { get; init; } = "Lay up, from the top";

    /// <summary>Above the cautions.</summary>
    public string Cautions { get; init; } = "Mind";

    /// <summary>At the near edge of a drawing.</summary>
    public string Near { get; init; } = "front, where you stand";

    /// <summary>Page number.</summary>
    public string Page { get; init; } = "page {0} of {1}";
}

/// <summary>Draws tray cards and press cards on A4.</summary>
public static class BatchCards
{
    private const double QrModuleMm = 0.7;
    private const double HeadingMm = 6;

    private static TextStyle Caution => TextStyle.Body.At(10);

    /// <summary>One card, as many pages as it takes.</summary>
    public static PdfPaper Draw(BatchCard card, DateTime madeAtUtc, CardWords? words = null)
    {
        words ??= new CardWords();
        var page = new FlowPage(new SizeMm(210, 297), new InsetsMm(15, 14, 15, 18))
        {
            Furniture = (sheet, number, of) =>
            {
                var foot = string.Format(CultureInfo.InvariantCulture, words.Page, number, of);
                sheet.Text(
                    TextStyle.Small.Cut($"{card.Code} · {card.Foot}", 150),
                    new PointMm(15, 287),
                    TextStyle.Small,
                    role: TextRole.Furniture
                );
                sheet.Text(foot, new PointMm(195, 287), TextStyle.Small, Align.Right, TextRole.Furniture);
            },
        };
        return PaperFlow.Write(
            new PaperFacts($"{card.Title} {card.Code}", madeAtUtc, Tagged: true),
            page,
            flow => Write(flow, card, words)
        );
    }

    private static void Write(PaperFlow flow, BatchCard card, CardWords words)
    {
        Head(flow, card);
        if (card.Sign.Length > 0)
            Sign(flow, card.Sign);
        Settings(flow, card.Settings);
        Layout(flow, card, words);
        Pieces(flow, card.Pieces, words);
    }

    private static void Head(PaperFlow flow, BatchCard card)
    {
        var qr = QrCode.Of(card.Address);
        var side = qr.FullSize * QrModuleMm;
        flow.Block(
            Math.Max(side, 26),
            (sheet, box) =>
            {
                sheet.Text(card.Title, new PointMm(box.X, box.Y + 5), TextStyle.Strong.At(13), role: TextRole.Title);
                sheet.Text(card.Code, new PointMm(box.X, box.Y + 19), new TextStyle(TypeFace.Bold, 40, Ink.Black), role: TextRole.Heading);
                var where = TextStyle.Strong.At(12);
                sheet.Text(where.Cut(card.Where, box.Width - side - 4), new PointMm(box.X, box.Y + 25.5), where);
                sheet.Shape(qr.ToOutline(new PointMm(box.Right - side, box.Y), QrModuleMm), null, Ink.Black);
            }
        );
        flow.Space(3);
    }

    private static void Sign(PaperFlow flow, string text)
    {
        flow.Block(
            11,
            (sheet, box) =>
            {
                sheet.Shape(new Outline.Box(box), null, Ink.Black);
                var style = new TextStyle(TypeFace.Bold, 16, Ink.White).Fitted(text, box.Width - 8, 8);
                sheet.Text(text, new PointMm(box.Middle.X, box.Middle.Y + style.CapMm / 2), style, Align.Centre);
            }
        );
        flow.Space(3);
    }

    private static void Settings(PaperFlow flow, IReadOnlyList<CardSetting> settings)
    {
        foreach (var row in settings.Chunk(4))
        {
            flow.Block(
                19,
                (sheet, box) =>
                {
                    var width = box.Width / row.Length;
                    for (var i = 0; i < row.Length; i++)
                    {
                        var cell = new RectMm(box.X + i * width, box.Y, width - (i < row.Length - 1 ? 2 : 0), box.Height);
                        sheet.Shape(new Outline.Box(cell), Stroke.Fine);
                        sheet.Text(row[i].Name, new PointMm(cell.X + 2, cell.Y + 4.6), TextStyle.Body.At(8.5));
                        var value = new TextStyle(TypeFace.Bold, 24, Ink.Black).Fitted(row[i].Value, cell.Width - 4, 8);
                        sheet.Text(row[i].Value, new PointMm(cell.X + 2, cell.Y + 15.4), value);
                    }
                }
            );
            flow.Space(3);
        }
    }

    /// <summary>
    /// A press card has its layers and cautions on the left and the platen on the right, so that a usual session is one page. A tray card
    /// has its cautions first and its shelves over the whole width.
    /// </summary>
    private static void Layout(PaperFlow flow, BatchCard card, CardWords words)
    {
        var beside = card is { Stack.Count: > 0, Surfaces.Count: 1 };
        var left = flow.Width * (beside ? 0.5 : 1) - (beside ? 6 : 0);
        var cautions = card.Cautions.SelectMany(c => Caution.Wrap($"▲ {c}", left)).ToList();
        var stack = card.Stack.Count > 0 ? HeadingMm + LayerStack.HeightMm(card.Stack) + 4 : 0;
        var height = stack + (cautions.Count > 0 ? HeadingMm + cautions.Count * Caution.LineMm : 0);
        flow.Block(
            Math.Max(height, beside ? LayUpDrawing.HeightMm(card.Surfaces[0], flow.Width - left - 6) : 0),
            (sheet, box) =>
            {
                if (card.Stack.Count > 0)
                    Stack(sheet, box with { Width = left }, card.Stack, words.Stack);
                if (cautions.Count > 0)
                    Cautions(sheet, box with { Y = box.Y + stack }, cautions, words.Cautions);
                if (beside)
                    LayUpDrawing.Draw(sheet, box with { X = box.X + left + 6, Width = box.Width - left - 6 }, card.Surfaces[0], words.Near);
            }
        );
        flow.Space(3);
        foreach (var surface in beside ? [] : card.Surfaces)
        {
            flow.Block(LayUpDrawing.HeightMm(surface, flow.Width), (sheet, box) => LayUpDrawing.Draw(sheet, box, surface, words.Near));
            flow.Space(2);
        }
    }

    private static void Stack(PdfSheet sheet, RectMm box, IReadOnlyList<CardLayer> layers, string heading)
    {
        sheet.Text(heading, new PointMm(box.X, box.Y + 4), TextStyle.Strong.At(11), role: TextRole.Heading);
        LayerStack.Draw(sheet, new PointMm(box.X, box.Y + HeadingMm), box.Width, layers);
    }

    private static void Cautions(PdfSheet sheet, RectMm box, IReadOnlyList<string> lines, string heading)
    {
        sheet.Text(heading, new PointMm(box.X, box.Y + 4), TextStyle.Strong.At(11), role: TextRole.Heading);
        for (var i = 0; i < lines.Count; i++)
            sheet.Text(lines[i], new PointMm(box.X, box.Y + HeadingMm + PdfSheet.Ascent(Caution) + i * Caution.LineMm), Caution);
    }

    private static void Pieces(PaperFlow flow, IReadOnlyList<CardPiece> pieces, CardWords words)
    {
        if (pieces.Count == 0)
            return;
        var shelves = pieces.Any(p => p.Shelf.Length > 0);
        double[] widths = [9, 26, 28, 0, shelves ? 14 : 0, 20, 22];
        widths[3] = flow.Width - widths.Sum();
        var kept = Enumerable.Range(0, widths.Length).Where(c => widths[c] > 0).ToList();
        var columns = kept.Select(c => new TableColumn(words.Columns[c], widths[c], c > 3 ? Align.Right : Align.Left)).ToList();
        var rows = pieces.Select((p, i) => Row([$"{i + 1}", p.Code, p.Reference, p.Piece, p.Shelf, p.Right, p.Back])).ToList();
        flow.Table(new FlowTable(columns, rows) { Style = TextStyle.Body.At(10) });

        TableRow Row(string[] cells) => new([.. kept.Select(c => cells[c])]);
    }
}
