using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>A picture laid on a face, ready to be drawn and judged.</summary>
/// <param name="Placed">Where its pixels lie.</param>
/// <param name="Resolution">Whether its pixels suffice.</param>
/// <param name="Part">The part of the picture that is shown, in shares.</param>
public sealed record LaidPicture(
    PicturePlacement Placed,
    EffectiveResolution Resolution,
    (double Left, double Top, double Width, double Height) Part
)
{
    /// <summary>Margin inside the edge for everything important, mm: common practice, no source.</summary>
    public const double UsualSafeMarginMm = 3;

    /// <summary>The margin on a face: the usual one, on small faces a tenth of the shorter side.</summary>
    public static double SafeMargin(double wide, double high) => Math.Min(UsualSafeMarginMm, Math.Min(wide, high) / 10);

    /// <summary>Lays the picture of a line; null while the face has no size.</summary>
    public static LaidPicture? Of(LineEntry line, LengthUnit unit, decimal bleedMillimetres)
    {
        if (line.Picture is not { } picture || EntryReading.FaceMillimetres(line, unit) is not { } face)
            return null;
        var on = EntryReading.Line(line, unit, bleedMillimetres).Placement;
        var placed = PicturePlacement.From(Choice(picture, on, face, (double)bleedMillimetres));
        if (!placed.IsOk)
            return null;
        var crop = on.Crop;
        var (width, height) = on.Turn is QuarterTurn.Right or QuarterTurn.Left
            ? (picture.High * crop.Height, picture.Wide * crop.Width)
            : (picture.Wide * crop.Width, picture.High * crop.Height);
        var judged = PictureResolution.Judge(width, height, placed.Value.Picture.WidthMm, placed.Value.Picture.HeightMm);
        return judged.IsOk ? new LaidPicture(placed.Value, judged.Value.Value, (crop.Left, crop.Top, crop.Width, crop.Height)) : null;
    }

    /// <summary>The transform from pixels to millimetres on the face, as SVG writes it.</summary>
    public string Matrix
    {
        get
        {
            var m = Placed.PixelToFace;
            return string.Create(
                CultureInfo.InvariantCulture,
                $"matrix({m.Xx:0.######} {m.Yx:0.######} {m.Xy:0.######} {m.Yy:0.######} {m.Dx:0.####} {m.Dy:0.####})"
            );
        }
    }

    private static PictureChoice Choice(PictureEntry picture, PictureOnFace on, (double Wide, double High) face, double bleed) =>
        new(
            picture.Wide,
            picture.High,
            face.Wide,
            face.High,
            on.Fit,
            on.Turn,
            on.Crop,
            bleed,
            SafeMargin(face.Wide, face.High),
            on.ShiftX,
            on.ShiftY
        );
}
