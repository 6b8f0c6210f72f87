using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Letters;

/// <summary>What stands on each page outside the text: the workshop's head on the first, a short one on the others, foot and page number on all.</summary>
internal sealed class LetterFurniture(Letterhead head, Letter letter, SizeMm size)
{
    private const double HeadTopMm = 14;
    private const double LogoHeightMm = 20;
    private const double LogoWidthMm = 62;

    public static InsetsMm Margins => new(22, 46, 20, 30);

    private double Right => size.Width - Margins.Right;

    public void Draw(PdfSheet sheet, int page, int pages)
    {
        if (page == 1)
            FirstHead(sheet);
        else
            LaterHead(sheet);
        Foot(sheet, page, pages);
        if (letter.Mark.Length > 0)
            Mark(sheet);
    }

    private void Mark(PdfSheet sheet)
    {
        var style = TextStyle.Strong.At(12);
        var box = new RectMm(Margins.Left, 4, Right - Margins.Left, 8);
        sheet.Line(new PointMm(box.X, box.Y), new PointMm(box.Right, box.Y), new Stroke(0.5, Ink.Black));
        sheet.Line(new PointMm(box.X, box.Bottom), new PointMm(box.Right, box.Bottom), new Stroke(0.5, Ink.Black));
        sheet.Text(style.Cut(letter.Mark, box.Width), new PointMm(box.X, box.Y + 1.4 + PdfSheet.Ascent(style)), style);
    }

    private void FirstHead(PdfSheet sheet)
    {
        if (head.Logo is { } logo)
            sheet.Picture(logo, LogoBox(logo), head.Name);
        else
            Name(sheet);
        var y = HeadTopMm;
        IEnumerable<string> lines = head.Logo is null ? head.Address.Concat(head.Contact) : [head.Name, .. head.Address, .. head.Contact];
        var style = TextStyle.Small.At(8);
        foreach (var line in lines.Take(7))
        {
            sheet.Text(style.Cut(line, 70), new PointMm(Right, y + PdfSheet.Ascent(style)), style, Align.Right);
            y += style.LineMm;
        }
    }

    private void Name(PdfSheet sheet)
    {
        const double width = 92;
        var style = TextStyle.Title.At(20).Fitted(head.Name, width, 11);
        var y = HeadTopMm;
        foreach (var line in style.Wrap(head.Name, width).Take(3))
        {
            sheet.Text(line, new PointMm(Margins.Left, y + PdfSheet.Ascent(style)), style);
            y += style.LineMm;
        }
    }

    private static RectMm LogoBox(PdfPicture logo)
    {
        var scale = Math.Min(LogoWidthMm / logo.WidthPx, LogoHeightMm / logo.HeightPx);
        return new RectMm(Margins.Left, HeadTopMm, logo.WidthPx * scale, logo.HeightPx * scale);
    }

    private void LaterHead(PdfSheet sheet)
    {
        var style = TextStyle.Small.At(8.5);
        sheet.Text(style.Cut(head.Name, 90), new PointMm(Margins.Left, 15), style);
        sheet.Text(style.Cut(letter.Title, 70), new PointMm(Right, 15), style, Align.Right);
        sheet.Line(new PointMm(Margins.Left, 18), new PointMm(Right, 18), Stroke.Hair);
    }

    private void Foot(PdfSheet sheet, int page, int pages)
    {
        var top = size.Height - Margins.Bottom + 6;
        var style = TextStyle.Small;
        sheet.Line(new PointMm(Margins.Left, top), new PointMm(Right, top), Stroke.Hair);
        var y = top + 1.5;
        foreach (var line in head.Foot.Take(3))
        {
            sheet.Text(style.Cut(line, Right - Margins.Left - 30), new PointMm(Margins.Left, y + PdfSheet.Ascent(style)), style);
            y += style.LineMm;
        }
        var (no, of) = (page.ToString(CultureInfo.InvariantCulture), pages.ToString(CultureInfo.InvariantCulture));
        sheet.Text(
            letter.Reader.Say("Page {0} of {1}", no, of),
            new PointMm(Right, top + 1.5 + PdfSheet.Ascent(style)),
            style,
            Align.Right
        );
    }
}
