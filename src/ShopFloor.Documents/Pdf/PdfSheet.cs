using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.UniversalAccessibility;

namespace ShopFloor.Documents.Pdf;

/// <summary>What a stretch of text is to a screen reader; of meaning in tagged documents only.</summary>
public enum TextRole
{
    /// <summary>A paragraph.</summary>
    Paragraph,

    /// <summary>The title of the document.</summary>
    Title,

    /// <summary>A heading.</summary>
    Heading,

    /// <summary>Belongs to the page and not to the text: page numbers, running heads.</summary>
    Furniture,
}

/// <summary>One sheet of a document. All measures in millimetres from its top left corner.</summary>
public sealed class PdfSheet
{
    private readonly PdfPaper paper;
    private readonly PdfPage page;
    private readonly XGraphics graphics;
    private bool inElement;

    internal PdfSheet(PdfPaper paper, PdfPage page, SizeMm size)
    {
        (this.paper, this.page, Size) = (paper, page, size);
        graphics = XGraphics.FromPdfPage(page);
    }

    /// <summary>Size of the sheet.</summary>
    public SizeMm Size { get; }

    /// <summary>One line of text; <paramref name="at"/> is on its baseline.</summary>
    public void Text(string text, PointMm at, TextStyle style, Align align = Align.Left, TextRole role = TextRole.Paragraph)
    {
        var drawable = TypeFaces.Drawable(text, paper.Missing);
        if (drawable.Length == 0)
            return;
        var width = TypeFaces.WidthMm(drawable, style.Face, style.SizePt);
        var left =
            at.X
            - (
                align == Align.Left ? 0
                : align == Align.Right ? width
                : width / 2
            );
        using (InElement(role))
            graphics.DrawString(
                drawable,
                TypeFaces.Font(style.Face, style.SizePt),
                style.Ink.ToBrush(),
                Outline.ToXPoint(new PointMm(left, at.Y))
            );
    }

    /// <summary>Text broken into lines in a box; returns the height used, which may be more than the box has.</summary>
    public double TextBlock(string text, RectMm box, TextStyle style, Align align = Align.Left, TextRole role = TextRole.Paragraph)
    {
        var lines = style.Wrap(text, box.Width);
        var x =
            align == Align.Left ? box.X
            : align == Align.Right ? box.Right
            : box.Middle.X;
        using (InElement(role))
            for (var i = 0; i < lines.Count; i++)
                Text(lines[i], new PointMm(x, box.Y + Ascent(style) + i * style.LineMm), style, align, role);
        return lines.Count * style.LineMm;
    }

    /// <summary>A straight line.</summary>
    public void Line(PointMm from, PointMm to, Stroke stroke)
    {
        using (InElement(TextRole.Furniture))
            graphics.DrawLine(stroke.ToPen(), Outline.ToXPoint(from), Outline.ToXPoint(to));
    }

    /// <summary>An outline, drawn, filled or both.</summary>
    public void Shape(Outline outline, Stroke? stroke, Ink? fill = null)
    {
        using (InElement(TextRole.Furniture))
            graphics.DrawPath(stroke?.ToPen(), fill?.ToBrush(), outline.ToPath());
    }

    /// <summary>A picture that fills the box, turned as it is to be looked at.</summary>
    public void Picture(PdfPicture picture, RectMm box, string describedAs = "") =>
        Picture(picture, new Motion(box.Width / picture.WidthPx, 0, 0, box.Height / picture.HeightPx, box.X, box.Y), describedAs);

    /// <summary>A picture whose pixels, as looked at, are taken to millimetres by a move.</summary>
    public void Picture(PdfPicture picture, Motion pixelsToMm, string describedAs = "")
    {
        var placed = paper.Place(picture);
        var unitToMm = UnitToPixels(picture).Then(pixelsToMm);
        var (size, unsized) = Split(unitToMm);
        using (InIllustration(describedAs, unitToMm))
        using (Moved(unsized))
            graphics.DrawImage(placed.StandIn, Outline.ToXRect(RectMm.Of(size)));
        placed.Object ??= NewestImage();
    }

    /// <summary>What is drawn until the end of the scope shows only inside the outline.</summary>
    public IDisposable Clipped(Outline outline)
    {
        var state = graphics.Save();
        graphics.IntersectClip(outline.ToPath());
        return new Scope(() => graphics.Restore(state));
    }

    /// <summary>What is drawn until the end of the scope is moved.</summary>
    public IDisposable Moved(Motion motion)
    {
        var state = graphics.Save();
        graphics.MultiplyTransform(motion.ToMatrix());
        return new Scope(() => graphics.Restore(state));
    }

    /// <summary>Height of a line of text above its baseline, where text blocks begin.</summary>
    internal static double Ascent(TextStyle style) => (style.LineMm + style.CapMm) / 2;

    internal IDisposable InTag(PdfBlockLevelElementTag tag)
    {
        paper.Structure?.BeginElement(tag);
        return new Scope(() => paper.Structure?.End());
    }

    internal IDisposable InElement(TextRole role)
    {
        if (paper.Structure is not { } structure || inElement)
            return Scope.Nothing;
        inElement = true;
        if (role == TextRole.Furniture)
            structure.BeginArtifact();
        else
            structure.BeginElement(
                role switch
                {
                    TextRole.Title => PdfBlockLevelElementTag.Heading1,
                    TextRole.Heading => PdfBlockLevelElementTag.Heading2,
                    _ => PdfBlockLevelElementTag.Paragraph,
                }
            );
        return new Scope(() =>
        {
            structure.End();
            inElement = false;
        });
    }

    internal void Finish() => graphics.Dispose();

    private IDisposable InIllustration(string describedAs, Motion unitToMm)
    {
        if (paper.Structure is not { } structure || inElement)
            return Scope.Nothing;
        if (describedAs.Length == 0)
            return InElement(TextRole.Furniture);
        inElement = true;
        var bounds = new Outline.Corners([unitToMm.Apply(new PointMm(0, 0)), unitToMm.Apply(new PointMm(1, 1))]).Bounds;
        structure.BeginElement(PdfIllustrationElementTag.Figure, describedAs, Outline.ToXRect(bounds));
        return new Scope(() =>
        {
            structure.End();
            inElement = false;
        });
    }

    /// <summary>Takes the unit square of the stored picture to its pixels as looked at.</summary>
    private static Motion UnitToPixels(PdfPicture picture)
    {
        var (xx, xy, yx, yy, dx, dy) = picture.Turn switch
        {
            PictureTurn.MirrorAcross => (-1, 0, 0, 1, 1, 0),
            PictureTurn.Half => (-1, 0, 0, -1, 1, 1),
            PictureTurn.MirrorDown => (1, 0, 0, -1, 0, 1),
            PictureTurn.Transpose => (0, 1, 1, 0, 0, 0),
            PictureTurn.Right => (0, 1, -1, 0, 1, 0),
            PictureTurn.Transverse => (0, -1, -1, 0, 1, 1),
            PictureTurn.Left => (0, -1, 1, 0, 0, 1),
            _ => (1, 0, 0, 1, 0, 0),
        };
        var (w, h) = (picture.WidthPx, picture.HeightPx);
        return new Motion(xx * w, xy * h, yx * w, yy * h, dx * w, dy * h);
    }

    /// <summary>
    /// A move of the unit square as a size and the move of a box of that size. (The library writes few decimals of where a picture stands
    /// under its move: were the size in the move, tenths of a millimetre of a large picture would be lost.)
    /// </summary>
    private static (SizeMm Size, Motion Unsized) Split(Motion unitToMm)
    {
        var size = new SizeMm(double.Hypot(unitToMm.Xx, unitToMm.Xy), double.Hypot(unitToMm.Yx, unitToMm.Yy));
        return (
            size,
            unitToMm with
            {
                Xx = unitToMm.Xx / size.Width,
                Xy = unitToMm.Xy / size.Width,
                Yx = unitToMm.Yx / size.Height,
                Yy = unitToMm.Yy / size.Height,
            }
        );
    }

    private PdfItem NewestImage()
    {
        var images = page.Resources.Elements.GetDictionary("/XObject") ?? throw new InvalidOperationException("No picture on the page.");
        return images.Elements[images.Elements.Keys.Last(k => k.StartsWith("/I", StringComparison.Ordinal))]!;
    }

    private sealed class Scope(Action end) : IDisposable
    {
        public static readonly IDisposable Nothing = new Scope(() => { });

        public void Dispose() => end();
    }
}
