using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>A picture laid on a face, ready to be drawn and judged.</summary>
/// <param name="Placed">Where its pixels lie.</param>
/// <param name="Resolution">Whether its pixels suffice.</param>
/// <param name="Part">The part of the picture that is shown, in shares.</param>
public sealed record LaidPicture(
    PicturePlacement Placed,
    Explained<EffectiveResolution> Resolution,
    (double Left, double Top, double Width, double Height) Part
)
{
    /// <summary>Lays the picture of a line; null while the face has no size.</summary>
    public static LaidPicture? Of(LineEntry line, LengthUnit unit, PrintRules rules)
    {
        if (line.Picture is not { } picture || EntryReading.FaceMillimetres(line, unit) is not { } face)
            return null;
        var on = EntryReading.Line(line, unit, rules.BleedMillimetres).Placement;
        var bleed = (double)rules.BleedMillimetres;
        var placed = PicturePlacement.From(on.Choice(picture.Wide, picture.High, face.Wide, face.High, bleed, rules.MarginMm));
        if (!placed.IsOk)
            return null;
        var crop = on.Crop;
        var (width, height) = on.Turn is QuarterTurn.Right or QuarterTurn.Left
            ? (picture.High * crop.Height, picture.Wide * crop.Width)
            : (picture.Wide * crop.Width, picture.High * crop.Height);
        var judged = rules.Judge(width, height, placed.Value.Picture.WidthMm, placed.Value.Picture.HeightMm);
        return judged.IsOk ? new LaidPicture(placed.Value, judged.Value, (crop.Left, crop.Top, crop.Width, crop.Height)) : null;
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
}
