using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Labels;

/// <summary>Draws the layers between the platens from the side, as on the screen at the press: papers dashed, the coat black.</summary>
internal static class LayerStack
{
    private const double GapMm = 1;
    private const double LeastMm = 5;
    private const double DrawnMm = 34;

    /// <summary>Height of all layers.</summary>
    public static double HeightMm(IReadOnlyList<CardLayer> layers) => layers.Sum(RowMm);

    /// <summary>Draws them from the top down, each named beside it.</summary>
    public static void Draw(PdfSheet sheet, PointMm at, double widthMm, IReadOnlyList<CardLayer> layers)
    {
        var y = at.Y;
        foreach (var layer in layers)
        {
            var row = RowMm(layer);
            var height = Math.Max(1.2, Math.Min(row - GapMm, layer.Thickness));
            var box = new RectMm(at.X, y + (row - height) / 2, DrawnMm, height);
            var dash =
                layer.Dash is null ? 0
                : layer.Dash[0] == '9' ? 3
                : 1;
            sheet.Shape(new Outline.Box(box), new Stroke(0.35, Ink.Black, dash), layer.IsCoat ? Ink.Black : null);
            sheet.Line(new PointMm(box.Right, box.Middle.Y), new PointMm(box.Right + 4, box.Middle.Y), Stroke.Hair);
            var style = TextStyle.Strong.At(10);
            sheet.Text(style.Cut(layer.Name, widthMm - DrawnMm - 6), new PointMm(box.Right + 6, box.Middle.Y + style.CapMm / 2), style);
            y += row;
        }
    }

    private static double RowMm(CardLayer layer) => Math.Max(LeastMm, layer.Thickness + GapMm);
}
