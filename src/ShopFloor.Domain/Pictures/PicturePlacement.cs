using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Pictures;

/// <summary>How the picture meets the face.</summary>
public enum PictureFit
{
    /// <summary>Covers the face and its bleed; what sticks out is cut off.</summary>
    Fill,

    /// <summary>Lies wholly inside the safe area; the rest stays free.</summary>
    Fit,
}

/// <summary>Quarter turns of the picture, clockwise as seen.</summary>
public enum QuarterTurn
{
    /// <summary>As it is.</summary>
    None,

    /// <summary>A quarter to the right.</summary>
    Right,

    /// <summary>Upside down.</summary>
    Half,

    /// <summary>A quarter to the left.</summary>
    Left,
}

/// <summary>The part of the picture that is used, in shares of its width and height.</summary>
/// <param name="Left">Left edge, 0 to below 1.</param>
/// <param name="Top">Upper edge, 0 to below 1.</param>
/// <param name="Width">Width, above 0; left plus width is at most 1.</param>
/// <param name="Height">Height, above 0; top plus height is at most 1.</param>
public readonly record struct PictureCrop(double Left, double Top, double Width, double Height)
{
    /// <summary>The whole picture.</summary>
    public static PictureCrop Whole => new(0, 0, 1, 1);
}

/// <summary>What a person chose for a picture on a face.</summary>
/// <param name="PixelsWide">Picture width in pixels, 1 to 100 000.</param>
/// <param name="PixelsHigh">Picture height in pixels, 1 to 100 000.</param>
/// <param name="FaceWidthMm">Width of the face's bounding box in mm, above 0 to 3000.</param>
/// <param name="FaceHeightMm">Height of the face's bounding box in mm, above 0 to 3000.</param>
/// <param name="Fit">Fill or fit.</param>
/// <param name="Turn">Quarter turns.</param>
/// <param name="Crop">The part that is used.</param>
/// <param name="BleedMm">How far the print goes past the edge, 0 to 50 mm.</param>
/// <param name="SafeMarginMm">How far inside the edge nothing important may lie, 0 to 100 mm.</param>
/// <param name="ShiftX">Where the cut-off or free part lies: 0 left, 0.5 middle, 1 right.</param>
/// <param name="ShiftY">The same downwards: 0 top, 0.5 middle, 1 bottom.</param>
/// <param name="Share">Of a picture that is fitted: its size as a share of the largest that fits, 0.05 to 1.</param>
public sealed record PictureChoice(
    int PixelsWide,
    int PixelsHigh,
    double FaceWidthMm,
    double FaceHeightMm,
    PictureFit Fit,
    QuarterTurn Turn,
    PictureCrop Crop,
    double BleedMm,
    double SafeMarginMm,
    double ShiftX = 0.5,
    double ShiftY = 0.5,
    double Share = 1
);

/// <summary>A box in millimetres on the face, origin at the face's upper left corner as seen; bleed lies at negative places.</summary>
/// <param name="XMm">Left edge.</param>
/// <param name="YMm">Upper edge.</param>
/// <param name="WidthMm">Width.</param>
/// <param name="HeightMm">Height.</param>
public readonly record struct FaceBox(double XMm, double YMm, double WidthMm, double HeightMm);

/// <summary>Where each pixel of the picture lies on the face as the viewer sees it. What is printed may be its mirror image (<see cref="MirrorRule"/>).</summary>
/// <param name="PixelToFace">From pixels of the whole picture to millimetres on the face as seen.</param>
/// <param name="Picture">The box the used part takes on the face, cut-off parts included.</param>
/// <param name="Printed">The box that is printed: the picture's box within face and bleed.</param>
/// <param name="Safe">The box for everything important.</param>
/// <param name="FaceWidthMm">Width of the face in mm.</param>
/// <param name="PixelsPerMm">Scale: pixels per millimetre, the same on both axes.</param>
public sealed record PicturePlacement(
    PlaneTransform PixelToFace,
    FaceBox Picture,
    FaceBox Printed,
    FaceBox Safe,
    double FaceWidthMm,
    double PixelsPerMm
)
{
    /// <summary>Effective resolution in pixels per inch.</summary>
    public double Ppi => PixelsPerMm * PictureResolution.MillimetresPerInch;

    /// <summary>Places a picture on a face.</summary>
    public static Result<PicturePlacement> From(PictureChoice choice) =>
        new Entered()
            .Between(choice.PixelsWide, 1, 100_000, "The picture's width", "pixels")
            .Between(choice.PixelsHigh, 1, 100_000, "The picture's height", "pixels")
            .Positive(choice.FaceWidthMm, 3000, "The face's width", "mm")
            .Positive(choice.FaceHeightMm, 3000, "The face's height", "mm")
            .Between(choice.BleedMm, 0, 50, "The bleed", "mm")
            .Between(choice.SafeMarginMm, 0, 100, "The safe margin", "mm")
            .Between(choice.ShiftX, 0, 1, "The shift across")
            .Between(choice.ShiftY, 0, 1, "The shift down")
            .Between(choice.Share, 0.05, 1, "The picture's share of the face")
            .That(
                choice.Crop is { Left: >= 0, Top: >= 0, Width: > 0, Height: > 0 }
                    && choice.Crop.Left + choice.Crop.Width <= 1 + 1e-9
                    && choice.Crop.Top + choice.Crop.Height <= 1 + 1e-9,
                "crop-outside",
                "The used part must lie inside the picture.",
                nameof(choice.Crop)
            )
            .That(
                !(2 * choice.SafeMarginMm >= Math.Min(choice.FaceWidthMm, choice.FaceHeightMm)),
                "margin-too-wide",
                "The safe margin leaves nothing of the face.",
                nameof(choice.SafeMarginMm)
            )
            .Then<PicturePlacement>(() => Place(choice));

    private static PicturePlacement Place(PictureChoice c)
    {
        var (usedWide, usedHigh) = (c.PixelsWide * c.Crop.Width, c.PixelsHigh * c.Crop.Height);
        var (seenWide, seenHigh) = c.Turn is QuarterTurn.Right or QuarterTurn.Left ? (usedHigh, usedWide) : (usedWide, usedHigh);
        var safe = Grown(c, -c.SafeMarginMm);
        var reach = Grown(c, c.BleedMm);
        var target = c.Fit == PictureFit.Fill ? reach : safe;
        var (across, down) = (target.WidthMm / seenWide, target.HeightMm / seenHigh);
        var scale = c.Fit == PictureFit.Fill ? Math.Max(across, down) : Math.Min(across, down) * c.Share;
        var picture = new FaceBox(
            target.XMm + ((target.WidthMm - (seenWide * scale)) * c.ShiftX),
            target.YMm + ((target.HeightMm - (seenHigh * scale)) * c.ShiftY),
            seenWide * scale,
            seenHigh * scale
        );
        var pixelToFace = PlaneTransform
            .Shift(-c.PixelsWide * c.Crop.Left, -c.PixelsHigh * c.Crop.Top)
            .Then(Turned(c.Turn, usedWide, usedHigh))
            .Then(PlaneTransform.Scale(scale))
            .Then(PlaneTransform.Shift(picture.XMm, picture.YMm));
        return new PicturePlacement(pixelToFace, picture, Overlap(picture, reach), safe, c.FaceWidthMm, 1 / scale);
    }

    private static PlaneTransform Turned(QuarterTurn turn, double width, double height) =>
        turn switch
        {
            QuarterTurn.None => PlaneTransform.None,
            QuarterTurn.Right => new PlaneTransform(0, -1, height, 1, 0, 0),
            QuarterTurn.Half => new PlaneTransform(-1, 0, width, 0, -1, height),
            QuarterTurn.Left => new PlaneTransform(0, 1, 0, -1, 0, width),
            _ => throw new ArgumentOutOfRangeException(nameof(turn), turn, "No such turn."),
        };

    private static FaceBox Grown(PictureChoice c, double byMm) =>
        new(-byMm, -byMm, c.FaceWidthMm + (2 * byMm), c.FaceHeightMm + (2 * byMm));

    private static FaceBox Overlap(FaceBox a, FaceBox b)
    {
        var (left, top) = (Math.Max(a.XMm, b.XMm), Math.Max(a.YMm, b.YMm));
        var (right, bottom) = (Math.Min(a.XMm + a.WidthMm, b.XMm + b.WidthMm), Math.Min(a.YMm + a.HeightMm, b.YMm + b.HeightMm));
        return new FaceBox(left, top, right - left, bottom - top);
    }
}
