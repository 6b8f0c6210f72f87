using CsCheck;
using ShopFloor.Domain.Pictures;

namespace ShopFloor.Domain.Tests.Pictures;

public sealed class PictureLawTests
{
    private static readonly Gen<PictureChoice> Choices =
        from pixels in Gen.Select(Gen.Int[20, 6000], Gen.Int[20, 6000])
        from face in Gen.Select(Gen.Double[30, 500], Gen.Double[30, 500])
        from fit in Gen.Enum<PictureFit>()
        from turn in Gen.Enum<QuarterTurn>()
        from crop in Gen.Select(Gen.Double[0, 0.4], Gen.Double[0, 0.4], Gen.Double[0.2, 0.6], Gen.Double[0.2, 0.6])
        from margins in Gen.Select(Gen.Double[0, 5], Gen.Double[0, 10])
        from shift in Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1])
        select new PictureChoice(
            pixels.Item1,
            pixels.Item2,
            face.Item1,
            face.Item2,
            fit,
            turn,
            new PictureCrop(crop.Item1, crop.Item2, crop.Item3, crop.Item4),
            margins.Item1,
            margins.Item2,
            shift.Item1,
            shift.Item2
        );

    [Fact]
    public void From_AnyChoice_TheArtworkIsNeverFlipped() =>
        Choices.Sample(choice => !PicturePlacement.From(choice).Value.PixelToFace.IsMirrored);

    [Fact]
    public void From_Fill_CoversFaceAndBleed() =>
        Choices.Sample(choice =>
        {
            var placement = PicturePlacement.From(choice with { Fit = PictureFit.Fill }).Value;
            Assert.Equal(choice.FaceWidthMm + (2 * choice.BleedMm), placement.Printed.WidthMm, 1e-6);
            Assert.Equal(choice.FaceHeightMm + (2 * choice.BleedMm), placement.Printed.HeightMm, 1e-6);
        });

    [Fact]
    public void From_Fit_StaysInsideTheSafeAreaAndLosesNothing() =>
        Choices.Sample(choice =>
        {
            var placement = PicturePlacement.From(choice with { Fit = PictureFit.Fit }).Value;
            var (picture, safe) = (placement.Picture, placement.Safe);
            Assert.True(picture.XMm >= safe.XMm - 1e-6 && picture.YMm >= safe.YMm - 1e-6);
            Assert.True(picture.XMm + picture.WidthMm <= safe.XMm + safe.WidthMm + 1e-6);
            Assert.True(picture.YMm + picture.HeightMm <= safe.YMm + safe.HeightMm + 1e-6);
            Assert.Equal(picture.WidthMm, placement.Printed.WidthMm, 1e-6);
            Assert.Equal(picture.HeightMm, placement.Printed.HeightMm, 1e-6);
        });

    [Fact]
    public void From_FitWithAShare_IsThatMuchSmallerAboutThePlaceItWasGiven() =>
        Gen.Select(Choices, Gen.Double[0.05, 1])
            .Sample(
                (choice, share) =>
                {
                    var whole = PicturePlacement.From(choice with { Fit = PictureFit.Fit }).Value;
                    var smaller = PicturePlacement.From(choice with { Fit = PictureFit.Fit, Share = share }).Value;
                    Assert.Equal(whole.Picture.WidthMm * share, smaller.Picture.WidthMm, 1e-6);
                    Assert.Equal(whole.Picture.HeightMm * share, smaller.Picture.HeightMm, 1e-6);
                    Assert.Equal(whole.PixelsPerMm / share, smaller.PixelsPerMm, 1e-6 * smaller.PixelsPerMm);
                    Assert.True(smaller.Picture.XMm >= smaller.Safe.XMm - 1e-6 && smaller.Picture.YMm >= smaller.Safe.YMm - 1e-6);
                }
            );

    [Fact]
    public void From_AnyChoice_TheUsedPartFillsItsBox() =>
        Choices.Sample(choice =>
        {
            var placement = PicturePlacement.From(choice).Value;
            var first = placement.PixelToFace.Apply(
                new PlanePoint(choice.PixelsWide * choice.Crop.Left, choice.PixelsHigh * choice.Crop.Top)
            );
            var last = placement.PixelToFace.Apply(
                new PlanePoint(
                    choice.PixelsWide * (choice.Crop.Left + choice.Crop.Width),
                    choice.PixelsHigh * (choice.Crop.Top + choice.Crop.Height)
                )
            );
            Assert.Equal(placement.Picture.XMm, Math.Min(first.X, last.X), 1e-6);
            Assert.Equal(placement.Picture.YMm, Math.Min(first.Y, last.Y), 1e-6);
            Assert.Equal(placement.Picture.WidthMm, Math.Abs(first.X - last.X), 1e-6);
            Assert.Equal(placement.Picture.HeightMm, Math.Abs(first.Y - last.Y), 1e-6);
        });

    [Fact]
    public void From_QuarterTurnRight_MovesTheUpperLeftCornerToTheUpperRight()
    {
        var choice = new PictureChoice(100, 100, 50, 50, PictureFit.Fill, QuarterTurn.Right, PictureCrop.Whole, 0, 0);
        Assert.Equal(new PlanePoint(50, 0), PicturePlacement.From(choice).Value.PixelToFace.Apply(new PlanePoint(0, 0)));
    }

    [Fact]
    public void Judge_FourHundredPixelsOnA4_IsPoor()
    {
        var answer = PictureResolution.Judge(400, 566, 210, 297).Value;
        Assert.Equal(PictureVerdict.Poor, answer.Value.Verdict);
        Assert.Equal(48.4, answer.Value.LowerPpi, 0.1);
    }

    [Fact]
    public void Judge_FartherAway_IsNeverWorse() =>
        Gen.Select(Gen.Double[200, 6000], Gen.Double[50, 400], Gen.Double[100, 3000], Gen.Double[1, 3])
            .Sample(
                (pixels, mm, distance, factor) =>
                {
                    var near = PictureResolution.Judge(pixels, pixels, mm, mm, distance).Value.Value.Verdict;
                    var far = PictureResolution.Judge(pixels, pixels, mm, mm, distance * factor).Value.Value.Verdict;
                    return far <= near;
                }
            );

    [Fact]
    public void Judge_OwnersFloor_HoldsHoweverFarAway() =>
        Assert.Equal(PictureVerdict.Poor, PictureResolution.Judge(400, 400, 200, 200, 5000, 100).Value.Value.Verdict);

    [Fact]
    public void Judge_OneAxisPoor_TheVerdictFollowsIt() =>
        Assert.Equal(PictureVerdict.Poor, PictureResolution.Judge(3000, 100, 100, 100).Value.Value.Verdict);

    [Fact]
    public void From_CropOutsideOrMarginTooWide_IsRefusedAtItsField()
    {
        var choice = new PictureChoice(100, 100, 50, 50, PictureFit.Fill, QuarterTurn.None, new(0.5, 0, 0.6, 1), 0, 25);
        Assert.Equal(["Crop", "SafeMarginMm"], PicturePlacement.From(choice).Refusals.Select(r => r.Field!));
    }
}
