using CsCheck;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain.Materials;

namespace ShopFloor.Documents.Tests.Sheets;

/// <summary>A text on a face lies inside its outline, whatever the outline.</summary>
public sealed class FaceTextTests
{
    private static readonly Gen<FaceOutline> Faces =
        from shape in Gen.Enum<FaceShape>()
        from wide in Gen.Double[30, 400]
        from high in Gen.Double[30, 400]
        from corner in Gen.Double[0, 60]
        from hole in Gen.Double[0.1, 0.6]
        select new FaceOutline(
            shape,
            wide,
            shape is FaceShape.Disc or FaceShape.Ring ? wide : high,
            Math.Min(corner, Math.Min(wide, high) / 2),
            shape == FaceShape.Ring ? wide * hole : 0
        );

    // Told without the rule: is a point inside the shape?
    private static bool IsInside(FaceOutline face, double x, double y)
    {
        var (wide, high) = (face.Box.Width, face.Box.Height);
        var (dx, dy) = (Math.Abs(x - wide / 2), Math.Abs(y - high / 2));
        if (face.Shape is FaceShape.Disc or FaceShape.Ring or FaceShape.Ellipse)
        {
            var hole = face.Shape == FaceShape.Ring && Math.Sqrt(dx * dx + dy * dy) < face.HoleMm / 2;
            return !hole && Math.Pow(2 * dx / wide, 2) + Math.Pow(2 * dy / high, 2) <= 1;
        }
        if (dx > wide / 2 || dy > high / 2)
            return false;
        var r = face.Shape == FaceShape.RoundedRectangle ? face.CornerMm : 0;
        var (cx, cy) = (dx - (wide / 2 - r), dy - (high / 2 - r));
        return cx <= 0 || cy <= 0 || cx * cx + cy * cy <= r * r + 1e-9;
    }

    [Fact]
    public void On_AnyFace_TheLettersLieInside() =>
        Gen.Select(Faces, Gen.String[Gen.Char['A', 'z'], 1, 24], Gen.Bool)
            .Sample(
                (face, text, under) =>
                {
                    var laid = FaceText.On(face, text, under, light: false);
                    // The smallest letters may stick out where nothing could be read any more; the refusal of such texts is told elsewhere.
                    if (laid.Style.SizePt <= FaceText.SmallestPt)
                        return;
                    var half = laid.Style.WidthMm(text) / 2;
                    foreach (var x in (double[])[laid.At.X - half, laid.At.X, laid.At.X + half])
                    foreach (var y in (double[])[laid.At.Y, laid.At.Y - laid.Style.CapMm])
                        Assert.True(IsInside(face, x, y), $"{face} {text} {laid}");
                }
            );

    [Fact]
    public void On_Plate_StandsInTheMiddleAloneAndLowUnderAPicture()
    {
        var plate = new FaceOutline(FaceShape.Rectangle, 100, 60);
        var alone = FaceText.On(plate, "Ida", underPicture: false, light: false);
        var under = FaceText.On(plate, "Ida", underPicture: true, light: true);
        Assert.Equal(30, alone.At.Y - alone.Style.CapMm / 2, 6);
        Assert.True(under.At.Y is > 50 and < 58);
        Assert.Equal(Ink.White, under.Style.Ink);
    }
}
