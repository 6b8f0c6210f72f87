using ShopFloor.Documents.Pdf;
using ShopFloor.Domain.Materials;

namespace ShopFloor.Documents.Sheets;

/// <summary>The outline of a face that gets a picture.</summary>
/// <param name="Shape">Kind of outline.</param>
/// <param name="WidthMm">Width of the box around it; the diameter of a disc or ring.</param>
/// <param name="HeightMm">Height of the box around it; not used for a disc or ring.</param>
/// <param name="CornerMm">Corner radius of a rounded rectangle.</param>
/// <param name="HoleMm">Diameter of a ring's hole.</param>
public sealed record FaceOutline(FaceShape Shape, double WidthMm, double HeightMm, double CornerMm = 0, double HoleMm = 0)
{
    /// <summary>Size of the box around it.</summary>
    public SizeMm Box => new(WidthMm, Shape is FaceShape.Disc or FaceShape.Ring ? WidthMm : HeightMm);

    /// <summary>The outline with its box at the origin, grown by a bleed; a hole becomes smaller by it.</summary>
    public Outline Grown(double bleedMm)
    {
        var area = RectMm.Of(Box).Grown(bleedMm);
        return Shape switch
        {
            FaceShape.RoundedRectangle => new Outline.RoundedBox(area, CornerMm + bleedMm),
            FaceShape.Disc or FaceShape.Ellipse => new Outline.Oval(area),
            FaceShape.Ring => new Outline.OvalRing(area, new SizeMm(HoleMm - 2 * bleedMm, HoleMm - 2 * bleedMm)),
            _ => new Outline.Box(area),
        };
    }
}
