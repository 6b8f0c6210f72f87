using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Labels;

/// <summary>Draws what lies where on a shelf or platen, to scale, as seen from above with the front below.</summary>
internal static class LayUpDrawing
{
    private const double HighestMm = 95;

    /// <summary>Height of the whole drawing on so much width.</summary>
    public static double HeightMm(CardSurface surface, double widthMm) => surface.Size.Height * Scale(surface, widthMm) + 12;

    /// <summary>Draws it in the upper left corner of a box.</summary>
    public static void Draw(PdfSheet sheet, RectMm box, CardSurface surface, string near)
    {
        var scale = Scale(surface, box.Width);
        var frame = new RectMm(box.X, box.Y + 6, surface.Size.Width * scale, surface.Size.Height * scale);
        sheet.Text(surface.Name, new PointMm(box.X, box.Y + 4), TextStyle.Strong.At(11), role: TextRole.Heading);
        var size = string.Create(CultureInfo.InvariantCulture, $"{surface.Size.Width:0.#} × {surface.Size.Height:0.#} mm");
        sheet.Text(size, new PointMm(frame.Right, box.Y + 4), TextStyle.Small, Align.Right);
        sheet.Shape(new Outline.Box(frame), new Stroke(0.4, Ink.Black));
        for (var i = 0; i < surface.Places.Count; i++)
            Piece(sheet, frame, surface.Places[i], scale, i + 1);
        sheet.Text(near, new PointMm(frame.Middle.X, frame.Bottom + 4.5), TextStyle.Strong, Align.Centre);
    }

    private static double Scale(CardSurface surface, double widthMm) =>
        Math.Min(widthMm / surface.Size.Width, HighestMm / surface.Size.Height);

    private static void Piece(PdfSheet sheet, RectMm frame, CardPlace place, double scale, int number)
    {
        var box = new RectMm(
            frame.X + place.X * scale,
            frame.Bottom - (place.Y + place.Depth) * scale,
            place.Width * scale,
            place.Depth * scale
        );
        sheet.Shape(new Outline.Box(box), Stroke.Fine, Ink.Wash);
        var big = new TextStyle(TypeFace.Bold, Math.Clamp(box.Height * 2, 5, 26), Ink.Black).Fitted($"{number}", box.Width - 1, 4);
        var code = new TextStyle(TypeFace.SemiBold, Math.Clamp(box.Height * 0.6, 5, 10), Ink.Black).Fitted(place.Code, box.Width - 1, 4.5);
        var both = big.CapMm + 1.2 + code.CapMm;
        var withCode = both < box.Height - 1 && code.WidthMm(place.Code) < box.Width - 0.5;
        var top = box.Middle.Y - (withCode ? both : big.CapMm) / 2;
        sheet.Text($"{number}", new PointMm(box.Middle.X, top + big.CapMm), big, Align.Centre);
        if (withCode)
            sheet.Text(place.Code, new PointMm(box.Middle.X, top + both), code, Align.Centre);
    }
}
