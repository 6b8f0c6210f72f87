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
public sealed record CardPiece(string Code, string Reference, string Piece, string Place);

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
    public IReadOnlyList<string> Stack { get; init; } = [];

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
    public IReadOnlyList<string> Columns { get; init; } = ["", "Piece", "Order", "What", "Place"];

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
        if (card.Stack.Count > 0)
            Stack(flow, card.Stack, words.Stack);
        foreach (var surface in card.Surfaces)
            LayUpDrawing.Draw(flow, surface, words.Near);
        Pieces(flow, card.Pieces, words);
        Cautions(flow, card.Cautions, words.Cautions);
    }

    private static void Head(PaperFlow flow, BatchCard card)
    {
        var qr = QrCode.Of(card.Address);
        var side = qr.FullSize * QrModuleMm;
        flow.Block(
            Math.Max(side, 26),
            (sheet, box) =>
            {
                sheet.Text(card.Title, new PointMm(box.X, box.Y + 6), TextStyle.Strong.At(12), role: TextRole.Title);
                sheet.Text(card.Code, new PointMm(box.X, box.Y + 19), new TextStyle(TypeFace.Bold, 34, Ink.Black), role: TextRole.Heading);
                sheet.Text(TextStyle.Body.Cut(card.Where, box.Width - side), new PointMm(box.X, box.Y + 25), TextStyle.Body.At(11));
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
                17,
                (sheet, box) =>
                {
                    var width = box.Width / row.Length;
                    for (var i = 0; i < row.Length; i++)
                    {
                        var cell = new RectMm(box.X + i * width, box.Y, width - (i < row.Length - 1 ? 2 : 0), box.Height);
                        sheet.Shape(new Outline.Box(cell), Stroke.Fine);
                        sheet.Text(row[i].Name, new PointMm(cell.X + 2, cell.Y + 4.6), TextStyle.Small.At(8));
                        var value = new TextStyle(TypeFace.Bold, 19, Ink.Black).Fitted(row[i].Value, cell.Width - 4, 8);
                        sheet.Text(row[i].Value, new PointMm(cell.X + 2, cell.Y + 13.2), value);
                    }
                }
            );
            flow.Space(3);
        }
    }

    private static void Stack(PaperFlow flow, IReadOnlyList<string> layers, string heading)
    {
        const double layer = 7;
        flow.Block(
            6 + layers.Count * layer,
            (sheet, box) =>
            {
                sheet.Text(heading, new PointMm(box.X, box.Y + 4), TextStyle.Strong, role: TextRole.Heading);
                for (var i = 0; i < layers.Count; i++)
                {
                    var y = box.Y + 6 + i * layer;
                    sheet.Shape(new Outline.Box(new RectMm(box.X, y + 1, 50, layer - 2)), Stroke.Fine, i % 2 == 0 ? Ink.Wash : Ink.White);
                    sheet.Line(new PointMm(box.X + 50, y + layer / 2), new PointMm(box.X + 56, y + layer / 2), Stroke.Hair);
                    sheet.Text(TextStyle.Body.Cut(layers[i], box.Width - 60), new PointMm(box.X + 58, y + layer / 2 + 1.2), TextStyle.Body);
                }
            }
        );
        flow.Space(3);
    }

    private static void Pieces(PaperFlow flow, IReadOnlyList<CardPiece> pieces, CardWords words)
    {
        if (pieces.Count == 0)
            return;
        double[] widths = [8, 26, 32, 82, 32];
        var columns = words.Columns.Select((heading, i) => new TableColumn(heading, widths[i])).ToList();
        var rows = pieces.Select((p, i) => new TableRow([$"{i + 1}", p.Code, p.Reference, p.Piece, p.Place])).ToList();
        flow.Table(new FlowTable(columns, rows) { Style = TextStyle.Body.At(10) });
        flow.Space(4);
    }

    private static void Cautions(PaperFlow flow, IReadOnlyList<string> cautions, string heading)
    {
        if (cautions.Count == 0)
            return;
        flow.Keep(TextStyle.Strong.LineMm * 3);
        flow.Paragraph(heading, TextStyle.Strong.At(11), role: TextRole.Heading);
        foreach (var caution in cautions)
            flow.Paragraph($"▲ {caution}", TextStyle.Body.At(10));
    }
}
