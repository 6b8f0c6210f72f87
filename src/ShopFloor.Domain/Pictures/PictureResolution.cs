using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Pictures;

/// <summary>Whether the pixels suffice for the printed size.</summary>
public enum PictureVerdict
{
    /// <summary>The eye cannot see the pixels at that distance.</summary>
    Good,

    /// <summary>A keen eye can, most will not mind.</summary>
    Acceptable,

    /// <summary>Everyone sees them: another picture, or a smaller print.</summary>
    Poor,
}

/// <summary>Pixels per printed inch, with the verdict.</summary>
/// <param name="HorizontalPpi">Pixels per inch across.</param>
/// <param name="VerticalPpi">Pixels per inch down.</param>
/// <param name="NeededPpi">Pixels per inch that the eye can tell apart at the viewing distance.</param>
/// <param name="Verdict">The verdict on the poorer axis.</param>
public readonly record struct EffectiveResolution(double HorizontalPpi, double VerticalPpi, double NeededPpi, PictureVerdict Verdict)
{
    /// <summary>The poorer axis.</summary>
    public double LowerPpi => Math.Min(HorizontalPpi, VerticalPpi);
}

/// <summary>Effective resolution of a picture as printed.</summary>
public static class PictureResolution
{
    /// <summary>Millimetres in an inch, exact (international inch).</summary>
    public const double MillimetresPerInch = 25.4;

    /// <summary>Distance over size at one arc minute, the eye's usual limit: 1/tan(1/60°) = 3437.75.</summary>
    public const double DistanceOverSizeAtOneArcMinute = 3437.7466;

    /// <summary>Pixels per inch below which the owner prints nothing: 100, common practice, no source.</summary>
    public const double DefaultFloorPpi = 100;

    /// <summary>A hand-held piece is looked at from here: 400 mm, common practice, no source.</summary>
    public const double DefaultDistanceMm = 400;

    /// <summary>Pixels per inch that the eye tells apart at one arc minute.</summary>
    /// <param name="distanceMm">Viewing distance in mm, above 0.</param>
    public static double NeededPpi(double distanceMm) => DistanceOverSizeAtOneArcMinute * MillimetresPerInch / distanceMm;

    /// <summary>Pixels per printed inch.</summary>
    /// <param name="pixels">Pixels along an axis, after the crop.</param>
    /// <param name="printedMm">Printed size along it in mm, above 0.</param>
    public static double Ppi(double pixels, double printedMm) => pixels / (printedMm / MillimetresPerInch);

    /// <summary>Whole pixels that a printed size takes at a resolution, rounded half away from zero.</summary>
    /// <param name="printedMm">Printed size in mm, above 0.</param>
    /// <param name="ppi">Pixels per inch, above 0.</param>
    public static int PixelsFor(double printedMm, double ppi) =>
        (int)Math.Round(printedMm / MillimetresPerInch * ppi, MidpointRounding.AwayFromZero);

    /// <summary>
    /// Effective resolution and verdict: good when the eye cannot tell the pixels apart (one arc minute), acceptable down to half of that,
    /// never below the owner's floor; else poor.
    /// </summary>
    /// <param name="pixelsWide">Pixels across after the crop, above 0 to 100 000.</param>
    /// <param name="pixelsHigh">Pixels down after the crop, above 0 to 100 000.</param>
    /// <param name="printedWidthMm">Printed width in mm, above 0 to 3000.</param>
    /// <param name="printedHeightMm">Printed height in mm, above 0 to 3000.</param>
    /// <param name="viewingDistanceMm">Viewing distance in mm, 100 to 10 000.</param>
    /// <param name="floorPpi">The owner's floor in pixels per inch, 30 to 600.</param>
    public static Result<Explained<EffectiveResolution>> Judge(
        double pixelsWide,
        double pixelsHigh,
        double printedWidthMm,
        double printedHeightMm,
        double viewingDistanceMm = DefaultDistanceMm,
        double floorPpi = DefaultFloorPpi
    ) =>
        new Entered()
            .Positive(pixelsWide, 100_000, "The picture's width", "pixels")
            .Positive(pixelsHigh, 100_000, "The picture's height", "pixels")
            .Positive(printedWidthMm, 3000, "The printed width", "mm")
            .Positive(printedHeightMm, 3000, "The printed height", "mm")
            .Between(viewingDistanceMm, 100, 10_000, "The viewing distance", "mm")
            .Between(floorPpi, 30, 600, "The lowest resolution", "ppi")
            .Then<Explained<EffectiveResolution>>(() =>
            {
                var (across, down) = (Ppi(pixelsWide, printedWidthMm), Ppi(pixelsHigh, printedHeightMm));
                var needed = NeededPpi(viewingDistanceMm);
                var resolution = new EffectiveResolution(across, down, needed, Verdict(Math.Min(across, down), needed, floorPpi));
                return Explain.As(
                    resolution,
                    $"{resolution.LowerPpi:0} ppi",
                    [
                        ExplainedInput.Of("pixels across", pixelsWide),
                        ExplainedInput.Of("pixels down", pixelsHigh),
                        ExplainedInput.Of("printed width", printedWidthMm, "mm"),
                        ExplainedInput.Of("printed height", printedHeightMm, "mm"),
                        ExplainedInput.Of("viewing distance", viewingDistanceMm, "mm"),
                        ExplainedInput.Of("needed for it", needed, "ppi"),
                        ExplainedInput.Of("lowest allowed", floorPpi, "ppi"),
                    ],
                    "pixels ÷ printed inches, the poorer axis; good from one arc minute per pixel, acceptable from two, never below the floor",
                    "one arc minute of visual acuity (published viewing-distance tables); the floor and the factor two: "
                        + Explanation.CommonPractice
                );
            });

    private static PictureVerdict Verdict(double ppi, double needed, double floor)
    {
        if (ppi < Math.Max(floor, needed / 2))
        {
            return PictureVerdict.Poor;
        }

        return ppi < needed ? PictureVerdict.Acceptable : PictureVerdict.Good;
    }
}
