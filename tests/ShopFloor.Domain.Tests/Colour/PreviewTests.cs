using CsCheck;
using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Colour;

public sealed class PreviewTests
{
    private static readonly PrintLook Stainless = PrintLook.For(Finish.ShowThrough, GroundColours.Stainless);

    [Fact]
    public void Render_EachPixel_IsTheModelToTheNearestByte() =>
        Gen
            .Byte.Array[4 * 50]
            .Sample(pixels =>
            {
                for (var i = 3; i < pixels.Length; i += 4)
                {
                    pixels[i] = 255;
                }

                var result = new byte[pixels.Length];
                new GroundPreview(Stainless).Render(pixels, result);
                for (var i = 0; i < pixels.Length; i += 4)
                {
                    var exact = Stainless.Reflectance(LinearRgb.FromSrgb(pixels[i], pixels[i + 1], pixels[i + 2])).ToSrgb();
                    Assert.Equal((exact.R, exact.G, exact.B, (byte)255), (result[i], result[i + 1], result[i + 2], result[i + 3]));
                }
            });

    [Fact]
    public void Render_WhiteOrTransparent_ShowsTheMetal()
    {
        byte[] pixels = [255, 255, 255, 255, 10, 20, 30, 0];
        var steel = GroundColours.Stainless.ToSrgb();
        new GroundPreview(Stainless).Render(pixels, pixels);
        Assert.Equal([steel.R, steel.G, steel.B, 255, steel.R, steel.G, steel.B, 255], pixels);
    }

    [Fact]
    public void Render_NotWholePixels_IsABug() =>
        Assert.Throws<ArgumentException>(() => new GroundPreview(Stainless).Render(new byte[5], new byte[5]));

    [Fact]
    public void Of_WhitePicture_TurnsToMetalWholly_AndBlackNotAtAll()
    {
        byte[] white = [255, 255, 255, 255];
        byte[] black = [0, 0, 0, 255];
        var reach = PictureReach.Of(white, Stainless).Value.Value;
        Assert.Equal(1, reach.UnreachableShare);
        Assert.Equal(Ciede2000.Difference(LinearRgb.White.ToLab(), GroundColours.Stainless.ToLab()), reach.WorstDeltaE, 1e-9);
        Assert.Equal(default, PictureReach.Of(black, Stainless).Value.Value);
    }

    /// <summary>White on aluminium differs by ΔE₀₀ 2.68 only, and the whole of it is metal all the same: nothing is printed there.</summary>
    [Theory]
    [InlineData("al", 2)]
    [InlineData("al", 5)]
    [InlineData("al", 50)]
    [InlineData("ss", 2)]
    [InlineData("ss", 50)]
    public void Of_WhiteOnBareMetal_TurnsToMetalWhateverDifferenceCounts(string material, double threshold)
    {
        var look = PrintLook.For(Finish.ShowThrough, GroundColours.ForMaterial(material)!.Value);
        byte[] half = [255, 255, 255, 255, 40, 40, 40, 255];
        Assert.Equal(0.5, PictureReach.Of(half, look, threshold).Value.Value.GroundShare);
    }

    [Fact]
    public void Of_WhiteOnAWhiteGroundOverAluminium_IsToldOfAsNothing() =>
        Assert.Equal(
            0,
            PictureReach.Of([255, 255, 255, 255], PrintLook.For(Finish.WhiteGround, GroundColours.Aluminium)).Value.Value.GroundShare
        );

    /// <summary>Matt scatters white light over the deepest ink: black becomes lighter there, and does not turn to the colour of what lies below.</summary>
    [Theory]
    [InlineData(Finish.VelvetMatt, 1)]
    [InlineData(Finish.ShowThrough, 0)]
    public void Of_Black_BecomesLighterOnMattAndNeverTurnsToTheGround(Finish finish, double lightened)
    {
        var reach = PictureReach.Of([0, 0, 0, 255], PrintLook.For(finish, GroundColours.Stainless)).Value.Value;
        Assert.Equal((0, lightened), (reach.GroundShare, reach.LightenedShare));
    }

    [Fact]
    public void Of_WhiteGround_ReachesMoreThanBareMetal()
    {
        byte[] light = [230, 220, 200, 255];
        var ground = PrintLook.For(Finish.WhiteGround, GroundColours.Iron, 2);
        var bare = PrintLook.For(Finish.ShowThrough, GroundColours.Iron);
        Assert.True(PictureReach.Of(light, ground).Value.Value.MeanDeltaE < PictureReach.Of(light, bare).Value.Value.MeanDeltaE);
    }

    [Fact]
    public void Of_ManyPixels_AgreesWithComparingEachOne() =>
        Gen
            .Byte.Array[4 * 400]
            .Sample(
                pixels =>
                {
                    for (var i = 3; i < pixels.Length; i += 4)
                    {
                        pixels[i] = 255;
                    }

                    var exact = Enumerable
                        .Range(0, pixels.Length / 4)
                        .Select(i => LinearRgb.FromSrgb(pixels[4 * i], pixels[(4 * i) + 1], pixels[(4 * i) + 2]))
                        .Average(colour => PictureReach.DeltaE(colour, Stainless));
                    // Six bits a channel move a colour by at most two code values.
                    Assert.Equal(exact, PictureReach.Of(pixels, Stainless).Value.Value.MeanDeltaE, 0.35);
                },
                iter: 20
            );

    [Fact]
    public void Of_HigherThreshold_NeverCountsMore() =>
        Gen.Select(Gen.Byte.Array[4 * 100], Gen.Double[1, 20], Gen.Double[0, 20])
            .Sample(
                (pixels, threshold, more) =>
                    PictureReach.Of(pixels, Stainless, threshold + more).Value.Value.UnreachableShare
                    <= PictureReach.Of(pixels, Stainless, threshold).Value.Value.UnreachableShare,
                iter: 20
            );

    [Fact]
    public void Of_NoPixels_IsRefused() => Assert.Equal("no-pixels", PictureReach.Of([], Stainless).Refusals[0].Code);
}
