using ShopFloor.Documents.Pdf;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Documents.Sheets;

/// <summary>
/// One transfer, or a tile of one, with all that is printed round it: a free rim with ticks at the middles of the face, below it a strip
/// with the code, and the line to cut along. Everything but the picture lies outside the bleed, so that nothing of it reaches the piece.
/// </summary>
/// <param name="Transfer">The transfer.</param>
/// <param name="Window">The part of it that is printed here, from the face's upper left corner; bleed lies at negative places.</param>
/// <param name="Tile">Number of the tile, from 1; 0 for a transfer in one part.</param>
/// <param name="Tiles">Number of tiles.</param>
public sealed record TransferCell(Transfer Transfer, RectMm Window, int Tile = 0, int Tiles = 0)
{
    /// <summary>Free rim round the print.</summary>
    public const double RimMm = 3;

    /// <summary>Height of the strip with the code.</summary>
    public const double StripMm = 4;

    /// <summary>Narrowest cell, so that the code can be read.</summary>
    public const double NarrowestMm = 24;

    /// <summary>Size of the cell.</summary>
    public SizeMm Size => new(Math.Max(NarrowestMm, Window.Width + 2 * RimMm), Window.Height + 2 * RimMm + StripMm);

    /// <summary>Where the print stands in the cell.</summary>
    public RectMm Print => new((Size.Width - Window.Width) / 2, RimMm, Window.Width, Window.Height);

    /// <summary>Draws the cell with its corner at the origin.</summary>
    public void Draw(PdfSheet sheet)
    {
        DrawPrint(sheet);
        DrawTicks(sheet);
        DrawStrip(sheet);
        sheet.Shape(new Outline.Box(RectMm.Of(Size)), new Stroke(0.1, new Ink(90, 90, 90), 1.5));
    }

    private void DrawPrint(PdfSheet sheet)
    {
        using var place = sheet.Moved(Motion.Shift(Print.X - Window.X, Print.Y - Window.Y));
        using var mirror = Transfer.Finish.PrintIsMirrored() ? sheet.Moved(Motion.MirrorAbout(Window.Middle.X)) : null;
        using var window = sheet.Clipped(new Outline.Box(Window));
        using var face = sheet.Clipped(Transfer.Face.Grown(Transfer.BleedMm));
        if (Transfer.Picture is { } p)
            sheet.Picture(
                p.Picture,
                new Motion(p.PixelToFace.Xx, p.PixelToFace.Yx, p.PixelToFace.Xy, p.PixelToFace.Yy, p.PixelToFace.Dx, p.PixelToFace.Dy)
            );
        foreach (var text in Transfer.Texts)
            sheet.Text(text.Text, text.At, text.Style, text.Align);
    }

    private void DrawTicks(PdfSheet sheet)
    {
        if (Tile != 0)
            return;
        var (print, stroke) = (Print, new Stroke(0.15, Ink.Black));
        const double from = 0.6;
        const double to = 2.4;
        sheet.Line(new PointMm(print.Middle.X, print.Y - from), new PointMm(print.Middle.X, print.Y - to), stroke);
        sheet.Line(new PointMm(print.Middle.X, print.Bottom + from), new PointMm(print.Middle.X, print.Bottom + to), stroke);
        sheet.Line(new PointMm(print.X - from, print.Middle.Y), new PointMm(print.X - to, print.Middle.Y), stroke);
        sheet.Line(new PointMm(print.Right + from, print.Middle.Y), new PointMm(print.Right + to, print.Middle.Y), stroke);
    }

    private void DrawStrip(PdfSheet sheet)
    {
        var code = new TextStyle(TypeFace.Bold, 7.5, Ink.Black);
        var caption = new TextStyle(TypeFace.Regular, 6, Ink.Quiet);
        var baseline = Size.Height - 1.4;
        code = code.Fitted(Transfer.Code, Size.Width - 2.4, 4);
        sheet.Text(Transfer.Code, new PointMm(1.2, baseline), code);
        var left = 1.2 + code.WidthMm(Transfer.Code) + 2;
        var words = Tile == 0 ? Transfer.Caption : string.Create(CultureInfo.InvariantCulture, $"{Tile}/{Tiles}  {Transfer.Caption}");
        if (Size.Width - left > 6)
            sheet.Text(caption.Cut(words, Size.Width - left - 1.2), new PointMm(left, baseline), caption);
    }
}
