using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Workshop;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>By what the workshop lays and judges pictures.</summary>
/// <param name="BleedMillimetres">Picture beyond the edge.</param>
public sealed record PrintRules(decimal BleedMillimetres)
{
    /// <summary>Margin inside the edge for everything important, mm.</summary>
    public double MarginMm { get; init; } = PictureOnFace.UsualSafeMarginMm;

    /// <summary>Pixels per printed inch below which a picture is coarse.</summary>
    public double FloorPpi { get; init; } = PictureResolution.DefaultFloorPpi;

    /// <summary>From how far it is looked at, mm.</summary>
    public double ViewedFromMm { get; init; } = PictureResolution.DefaultDistanceMm;

    /// <summary>As the owner set them.</summary>
    public static PrintRules Of(WorkshopProfile profile) =>
        new(profile.BleedMillimetres)
        {
            MarginMm = (double)profile.Limits.SafeMarginMillimetres,
            FloorPpi = (double)profile.Limits.FloorPpi,
            ViewedFromMm = (double)profile.Limits.ViewedFromMillimetres,
        };

    /// <summary>Whether pixels suffice for a printed size.</summary>
    public Result<Explained<EffectiveResolution>> Judge(double wide, double high, double printedWidthMm, double printedHeightMm) =>
        PictureResolution.Judge(wide, high, printedWidthMm, printedHeightMm, ViewedFromMm, FloorPpi);
}
