using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Labels;

/// <summary>What stands on the label of a piece. Nothing of the customer.</summary>
/// <param name="Code">Short code of the piece.</param>
/// <param name="Address">What the QR code holds: an address that means nothing to strangers.</param>
/// <param name="Reference">Order and number within it, such as <c>1024 · 2 of 3</c>.</param>
/// <param name="Piece">Material and size.</param>
/// <param name="NextStep">What comes next, as of printing.</param>
/// <param name="IsOwn">The customer's own piece: it cannot be replaced.</param>
public sealed record PieceLabel(string Code, string Address, string Reference, string Piece, string NextStep, bool IsOwn = false);

/// <summary>The words on labels.</summary>
public sealed record LabelWords
{
    /// <summary>On the label of an own piece.</summary>
    public string Own { get; init; } = "OWN PIECE";

    /// <summary>Before the next step.</summary>
    public string Next { get; init; } = "Next:";

    /// <summary>A label burns in the oven and stains the coat.</summary>
    public string NotOnPiece { get; init; } = "On the tray card, not on the piece.";
}

/// <summary>A label on a roll: one a page.</summary>
/// <param name="Name">Key of the size.</param>
/// <param name="Size">Width and height as it comes out.</param>
public sealed record LabelSize(string Name, SizeMm Size)
{
    /// <summary>The sizes that are offered; the smallest still takes a code with modules of half a millimetre.</summary>
    public static IReadOnlyList<LabelSize> All { get; } =
    [
        new("50x25", new SizeMm(50, 25)),
        new("57x32", new SizeMm(57, 32)),
        new("62x29", new SizeMm(62, 29)),
        new("89x36", new SizeMm(89, 36)),
        new("100x50", new SizeMm(100, 50)),
    ];
}

/// <summary>Labels side by side on a sheet.</summary>
/// <param name="Name">Key of the sheet.</param>
/// <param name="Paper">Size of the sheet.</param>
/// <param name="Columns">Labels across.</param>
/// <param name="Rows">Labels down.</param>
/// <param name="First">Box of the first label.</param>
/// <param name="PitchX">From a label to the next across.</param>
/// <param name="PitchY">From a label to the next down.</param>
public sealed record LabelSheet(string Name, SizeMm Paper, int Columns, int Rows, RectMm First, double PitchX, double PitchY)
{
    /// <summary>The sheets that are offered, all on A4.</summary>
    public static IReadOnlyList<LabelSheet> All { get; } =
    [
        new("A4-3x8", new SizeMm(210, 297), 3, 8, new RectMm(0, 0.5, 70, 37), 70, 37),
        new("A4-2x7", new SizeMm(210, 297), 2, 7, new RectMm(4.7, 15.2, 99.1, 38.1), 101.6, 38.1),
    ];

    /// <summary>Labels on one sheet.</summary>
    public int Count => Columns * Rows;

    /// <summary>Box of a label, counted by rows from 0.</summary>
    public RectMm Place(int index) => First with { X = First.X + index % Columns * PitchX, Y = First.Y + index / Columns % Rows * PitchY };
}

/// <summary>Draws labels for pieces: black on white only, so that a thermal printer prints them as they are.</summary>
public static class PieceLabels
{
    /// <summary>Smallest module of a QR code, mm (common practice, no source).</summary>
    public const double SmallestModuleMm = 0.5;

    private const double SmallestPt = 4.8;
    private const double GapMm = 1.1;

    /// <summary>Larger modules read no better at arm's length and take the room of the text; on a large label there is room for more.</summary>
    private const double UsualModuleMm = 0.62;

    private const double LargestModuleMm = 0.9;

    /// <summary>One label a page.</summary>
    public static PdfPaper OnRoll(IReadOnlyList<PieceLabel> labels, LabelSize size, DateTime madeAtUtc, LabelWords? words = null)
    {
        var paper = NewPaper(labels, madeAtUtc);
        foreach (var label in labels)
            Draw(paper.AddSheet(size.Size), RectMm.Of(size.Size), label, words ?? new LabelWords());
        return paper;
    }

    /// <summary>Labels on sheets.</summary>
    /// <param name="labels">The labels.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="used">Labels that are already gone from the first sheet.</param>
    /// <param name="madeAtUtc">When.</param>
    /// <param name="words">The words.</param>
    public static PdfPaper OnSheets(
        IReadOnlyList<PieceLabel> labels,
        LabelSheet sheet,
        int used,
        DateTime madeAtUtc,
        LabelWords? words = null
    )
    {
        if (used < 0 || used >= sheet.Count)
            throw new ArgumentOutOfRangeException(nameof(used), used, "Some labels of the sheet must be left.");
        var paper = NewPaper(labels, madeAtUtc);
        PdfSheet? page = null;
        for (var i = 0; i < labels.Count; i++)
        {
            var place = (used + i) % sheet.Count;
            if (page is null || place == 0)
                page = paper.AddSheet(sheet.Paper);
            // Sheets are die-cut a little off: a rim of 2 mm stays free.
            Draw(page, sheet.Place(place).Grown(-2), labels[i], words ?? new LabelWords());
        }
        return paper;
    }

    private static PdfPaper NewPaper(IReadOnlyList<PieceLabel> labels, DateTime madeAtUtc) =>
        labels.Count > 0
            ? new PdfPaper(new PaperFacts("Labels", madeAtUtc))
            : throw new ArgumentException("There is no label to print.", nameof(labels));

    private static void Draw(PdfSheet page, RectMm box, PieceLabel label, LabelWords words)
    {
        var code = QrCode.Of(label.Address);
        var wanted = Math.Clamp(box.Width * 0.3 / code.FullSize, UsualModuleMm, LargestModuleMm);
        var module = Math.Min(wanted, Math.Min(box.Height, box.Width * 0.5) / code.FullSize);
        if (module < SmallestModuleMm)
            throw new ArgumentException(
                $"The address of {label.Code} is too long for a label of {box.Width} × {box.Height} mm.",
                nameof(label)
            );
        var side = module * code.FullSize;
        page.Shape(code.ToOutline(new PointMm(box.X, box.Y + (box.Height - side) / 2), module), null, Ink.Black);
        Lines(page, new RectMm(box.X + side, box.Y + 1.5, box.Width - side - 1.5, box.Height - 3), label, words);
    }

    /// <summary>The block of text stands in the middle of its room, like the code beside it.</summary>
    private static void Lines(PdfSheet page, RectMm room, PieceLabel label, LabelWords words)
    {
        var scale = Math.Clamp(room.Height / 23, 0.85, 1.7);
        var big = new TextStyle(TypeFace.Bold, 19 * scale, Ink.Black).Fitted(label.Code, room.Width, 8);
        var plain = new TextStyle(TypeFace.Regular, 6.8 * scale, Ink.Black);
        var strong = plain with { Face = TypeFace.SemiBold };
        var note = plain.At(5.6 * scale);
        List<(string Text, TextStyle Style)> lines =
        [
            (label.IsOwn ? $"{words.Own} · {label.Reference}" : label.Reference, strong),
            (label.Piece, plain),
            ($"{words.Next} {label.NextStep}", strong),
            .. note.Wrap(words.NotOnPiece, room.Width).Select(line => (line, note)),
        ];
        var kept = lines.Count;
        while (kept > 1 && big.CapMm + GapMm + lines.Take(kept).Sum(l => l.Style.LineMm) > room.Height + 0.3)
            kept--;
        var y = room.Y + (room.Height - big.CapMm - GapMm - lines.Take(kept).Sum(l => l.Style.LineMm)) / 2 + big.CapMm;
        page.Text(label.Code, new PointMm(room.X, y), big);
        y += GapMm;
        for (var i = 0; i < kept; i++)
            y += Line(
                page,
                new RectMm(room.X, y, room.Width, lines[i].Style.LineMm),
                lines[i].Text,
                lines[i].Style,
                inBlack: i == 0 && label.IsOwn
            );
    }

    /// <summary>White on black where it must not be overlooked: the piece cannot be replaced.</summary>
    private static double Line(PdfSheet page, RectMm box, string text, TextStyle style, bool inBlack)
    {
        var room = box.Width - (inBlack ? 2 : 0);
        var fitted = style.Fitted(text, room, SmallestPt);
        var words = fitted.Cut(text, room);
        if (inBlack)
            page.Shape(new Outline.Box(box with { Width = fitted.WidthMm(words) + 2 }), null, Ink.Black);
        var ink = fitted with { Ink = inBlack ? Ink.White : Ink.Black };
        page.Text(words, new PointMm(box.X + (inBlack ? 1 : 0), box.Bottom - (box.Height - fitted.CapMm) / 2), ink);
        return box.Height;
    }
}
