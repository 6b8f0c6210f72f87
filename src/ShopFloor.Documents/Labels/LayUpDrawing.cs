using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Labels;

/// <summary>Draws what lies where on a shelf or platen, to scale, as seen from above with the front below.</summary>
internal static class LayUpDrawing
{
    private const double HighestMm = 95;

    public static void Draw(PaperFlow flow, CardSurface surface, string near)
    {
        var scale = Math.Min(flow.Width / surface.Size.Width, HighestMm / surface.Size.Height);
        var (width, height) = (surface.Size.Width * scale, surface.Size.Height * scale);
        flow.Block(
            height + 13,
            (sheet, box) =>
            {
                sheet.Text(surface.Name, new PointMm(box.X, box.Y + 4), TextStyle.Strong, role: TextRole.Heading);
                var size = string.Create(CultureInfo.InvariantCulture, $"{surface.Size.Width:0.#} × {surface.Size.Height:0.#} mm");
                sheet.Text(size, new PointMm(box.X + width, box.Y + 4), TextStyle.Small, Align.Right);
                var frame = new RectMm(box.X, box.Y + 6, width, height);
                sheet.Shape(new Outline.Box(frame), new Stroke(0.4, Ink.Black));
                for (var i = 0; i < surface.Places.Count; i++)
                    Piece(sheet, frame, surface.Places[i], scale, i + 1);
                sheet.Text(near, new PointMm(frame.Middle.X, frame.Bottom + 4), TextStyle.Small, Align.Centre);
            }
        );
        flow.Space(2);
    }

    private static void Piece(PdfSheet sheet, RectMm frame, CardPlace place, double scale, int number)
    {
        var box = new RectMm(
            frame.X + place.X * scale,
            frame.Bottom - (place.Y + place.Depth) * scale,
            place.Width * scale,
            place.Depth * scale
        );
        sheet.Shape(new Outline.Box(box), Stroke.Fine, Ink.Wash);
        var style = new TextStyle(TypeFace.SemiBold, Math.Clamp(box.Height * 1.4, 5, 11), Ink.Black);
        var text = $"{number} · {place.Code}";
        if (style.Fitted(text, box.Width - 1, 5).WidthMm(text) > box.Width - 0.5)
            text = $"{number}";
        var fitted = style.Fitted(text, box.Width - 1, 4);
        sheet.Text(text, new PointMm(box.Middle.X, box.Middle.Y + fitted.CapMm / 2), fitted, Align.Centre);
    }
}
