using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Sheets;

/// <summary>What one piece will get.</summary>
/// <param name="Text">Its text as it is laid on the face; null for none.</param>
/// <param name="Mark">What may disappoint, in a few words; empty for nothing.</param>
public sealed record ProofFace(TransferText? Text, string Mark = "");

/// <summary>A line of the order.</summary>
/// <param name="Heading">Names it.</param>
/// <param name="Face">Outline of the face.</param>
/// <param name="Ground">Colour of what is not printed.</param>
public sealed record ProofPart(string Heading, FaceOutline Face, Ink Ground)
{
    /// <summary>The picture, the same on all; null for none.</summary>
    public TransferPicture? Picture { get; init; }

    /// <summary>One for each piece, in the order of the list; a single one stands for all pieces.</summary>
    public IReadOnlyList<ProofFace> Faces { get; init; } = [];
}

/// <summary>The words on a proof.</summary>
public sealed record ProofWords
{
    /// <summary>The title, with the order's number.</summary>
    public string Title { get; init; } = "Proof";

    /// <summary>Below the title.</summary>
    public string Note { get; init; } = "";

    /// <summary>How large the faces are drawn; {0} is the per cent of their size.</summary>
    public string Scale { get; init; } = "Drawn at {0} % of its size.";

    /// <summary>Above the list of texts.</summary>
    public string List { get; init; } = "All texts, to check the spelling";

    /// <summary>Above the numbers.</summary>
    public string Number { get; init; } = "Piece";

    /// <summary>Above the texts.</summary>
    public string Text { get; init; } = "Text";
}

/// <summary>
/// Draws a proof on A4: each line's face once for each text, several in a row, and below them all texts in full. What does not depend on
/// the clock is the same each time.
/// </summary>
public static class ProofSheets
{
    private const double Gap = 5;
    private const double MostHigh = 62;

    // Tiny faces are drawn larger than they are, but not so large that nobody believes it.
    private const double MostScale = 2;

    private static readonly TextStyle Caption = TextStyle.Small.At(8) with { Ink = Ink.Black };
    private static readonly TextStyle Marked = new(TypeFace.SemiBold, 7.5, new Ink(140, 30, 0));

    /// <summary>The whole proof.</summary>
    public static PdfPaper Draw(IReadOnlyList<ProofPart> parts, ProofWords words, PaperFacts facts)
    {
        var size = new SizeMm(210, 297);
        var page = new FlowPage(size, InsetsMm.All(15))
        {
            Furniture = (sheet, number, pages) =>
                sheet.Text(
                    string.Create(CultureInfo.InvariantCulture, $"{words.Title}  {number}/{pages}"),
                    new PointMm(size.Width - 15, size.Height - 8),
                    TextStyle.Small,
                    Align.Right,
                    TextRole.Furniture
                ),
        };
        return PaperFlow.Write(facts, page, flow => Write(flow, parts, words));
    }

    private static void Write(PaperFlow flow, IReadOnlyList<ProofPart> parts, ProofWords words)
    {
        flow.Paragraph(words.Title, TextStyle.Title, role: TextRole.Title);
        if (words.Note.Length > 0)
            flow.Paragraph(words.Note, TextStyle.Body);
        foreach (var part in parts)
        {
            flow.Space(5);
            var grid = Grid.Of(part, flow.Width);
            flow.Keep(TextStyle.Strong.At(12).LineMm + 2 * TextStyle.Small.LineMm + grid.RowMm);
            flow.Paragraph(part.Heading, TextStyle.Strong.At(12), role: TextRole.Heading);
            flow.Paragraph(string.Format(CultureInfo.CurrentCulture, words.Scale, Math.Round(grid.Scale * 100)), TextStyle.Small);
            flow.Space(2);
            for (var first = 0; first < part.Faces.Count; first += grid.Columns)
            {
                var from = first;
                flow.Block(grid.RowMm, (sheet, box) => Row(sheet, box, part, grid, from));
            }
            if (part.Faces.Count > 1)
                List(flow, part, words);
        }
    }

    private static void Row(PdfSheet sheet, RectMm box, ProofPart part, Grid grid, int first)
    {
        for (var i = first; i < Math.Min(first + grid.Columns, part.Faces.Count); i++)
        {
            var left = box.X + (i - first) * (grid.CellMm + Gap);
            var high = part.Face.Box.Height * grid.Scale;
            Face(sheet, part, part.Faces[i], grid.Scale, new PointMm(left + (grid.CellMm - part.Face.Box.Width * grid.Scale) / 2, box.Y));
            Name(sheet, part, i, grid, new PointMm(left, box.Y + high + 1 + Caption.LineMm * 0.75));
        }
    }

    private static void Face(PdfSheet sheet, ProofPart part, ProofFace face, double scale, PointMm at)
    {
        using var place = sheet.Moved(Motion.Stretch(scale, scale, new PointMm(0, 0)).Then(Motion.Shift(at.X, at.Y)));
        var outline = part.Face.Grown(0);
        sheet.Shape(outline, null, part.Ground);
        using (sheet.Clipped(outline))
        {
            if (part.Picture is { PixelToFace: var to } picture)
                sheet.Picture(picture.Picture, new Motion(to.Xx, to.Yx, to.Xy, to.Yy, to.Dx, to.Dy));
            if (face.Text is { } text)
                sheet.Text(text.Text, text.At, text.Style, text.Align);
        }
        sheet.Shape(outline, new Stroke(0.2 / scale, Ink.Quiet));
    }

    private static void Name(PdfSheet sheet, ProofPart part, int at, Grid grid, PointMm place)
    {
        var face = part.Faces[at];
        var middle = place.X + grid.CellMm / 2;
        if (part.Faces.Count > 1)
        {
            var name = string.Create(CultureInfo.InvariantCulture, $"{at + 1}: {face.Text?.Text ?? "–"}");
            sheet.Text(Caption.Cut(name, grid.CellMm), new PointMm(middle, place.Y), Caption, Align.Centre);
        }
        if (face.Mark.Length > 0)
            sheet.Text(
                Marked.Fitted($"! {face.Mark}", grid.CellMm, 5).Cut($"! {face.Mark}", grid.CellMm),
                new PointMm(middle, place.Y + Caption.LineMm),
                Marked.Fitted($"! {face.Mark}", grid.CellMm, 5),
                Align.Centre
            );
    }

    private static void List(PaperFlow flow, ProofPart part, ProofWords words)
    {
        flow.Space(2);
        flow.Keep(30);
        flow.Paragraph(words.List, TextStyle.Strong, role: TextRole.Heading);
        var rows = part.Faces.Select(
            (f, i) =>
                new TableRow([(i + 1).ToString(CultureInfo.InvariantCulture), f.Text?.Text ?? "–", f.Mark.Length > 0 ? $"! {f.Mark}" : ""])
        );
        flow.Table(
            new FlowTable(
                [new TableColumn(words.Number, 16), new TableColumn(words.Text, flow.Width - 66), new TableColumn("", 50)],
                [.. rows]
            )
        );
    }

    /// <summary>How the faces of a line stand in rows.</summary>
    private sealed record Grid(int Columns, double CellMm, double Scale, double RowMm)
    {
        public static Grid Of(ProofPart part, double wide)
        {
            var box = part.Face.Box;
            var columns = (box.Width / box.Height) switch
            {
                > 2.4 => 2,
                > 1.2 => 3,
                _ => 4,
            };
            if (part.Faces.Count == 1)
                columns = Math.Min(columns, 2);
            var cell = (wide - (columns - 1) * Gap) / columns;
            var scale = Math.Min(MostScale, Math.Min(cell / box.Width, MostHigh / box.Height));
            var lines = part.Faces.Any(f => f.Mark.Length > 0) ? 2 : 1;
            return new Grid(columns, cell, scale, box.Height * scale + lines * Caption.LineMm + Gap);
        }
    }
}
