using CsCheck;
using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Colour;

public sealed class ColourLawTests
{
    private static readonly Gen<Lab> Labs = Gen.Select(
        Gen.Double[0, 100],
        Gen.Double[-100, 100],
        Gen.Double[-100, 100],
        (l, a, b) => new Lab(l, a, b)
    );

    private static readonly Gen<LinearRgb> Lights = Gen.Select(
        Gen.Double[0, 1],
        Gen.Double[0, 1],
        Gen.Double[0, 1],
        (r, g, b) => new LinearRgb(r, g, b)
    );

    [Fact]
    public void Ciede2000_AnyPair_IsSymmetricAndZeroForEqual() =>
        Gen.Select(Labs, Labs)
            .Sample(
                (first, second) =>
                {
                    var difference = Ciede2000.Difference(first, second);
                    Assert.Equal(difference, Ciede2000.Difference(second, first), 1e-9);
                    Assert.True(difference >= 0);
                    Assert.Equal(0, Ciede2000.Difference(first, first), 1e-9);
                }
            );

    [Fact]
    public void Srgb_EveryByte_RoundTrips()
    {
        for (var v = 0; v <= 255; v++)
        {
            Assert.Equal(v, Srgb.EncodeByte(Srgb.DecodeByte((byte)v)));
        }
    }

    [Fact]
    public void Lab_ThereAndBack_IsTheSameLight() =>
        Lights.Sample(light =>
        {
            var back = light.ToLab().ToLinearRgb();
            Assert.Equal(light.R, back.R, 1e-9);
            Assert.Equal(light.G, back.G, 1e-9);
            Assert.Equal(light.B, back.B, 1e-9);
        });

    [Fact]
    public void OverBacking_ThickerFilm_ComesNearerToTheOpaqueFilm() =>
        Gen.Select(Gen.Double[0.0005, 0.5], Gen.Double[0.1, 10], Gen.Double[0, 1])
            .Sample(
                (ks, power, backing) =>
                {
                    var opaque = KubelkaMunk.OpaqueReflectance(ks);
                    var thin = Math.Abs(KubelkaMunk.OverBacking(ks, power, backing) - opaque);
                    var thick = Math.Abs(KubelkaMunk.OverBacking(ks, power * 1.5, backing) - opaque);
                    Assert.True(thick <= thin + 1e-12);
                    Assert.Equal(backing, KubelkaMunk.OverBacking(ks, 0, backing));
                }
            );

    [Fact]
    public void OverBacking_NoAbsorption_IsTheLimitOfLittle() =>
        Assert.Equal(KubelkaMunk.OverBacking(1e-11, 3, 0.2), KubelkaMunk.OverBacking(0, 3, 0.2), 1e-6);

    [Fact]
    public void Reachable_AnyWantedColour_IsBetweenInkAndGroundAndNoNearerOneExists() =>
        Gen.Select(Lights, Lights)
            .Sample(
                (wanted, print) =>
                {
                    var look = PrintLook.For(Finish.ShowThrough, GroundColours.Stainless);
                    var reachable = look.Reachable(wanted);
                    var any = look.Reflectance(print);
                    Assert.True(Math.Abs(reachable.G - wanted.G) <= Math.Abs(any.G - wanted.G) + 1e-12);
                    Assert.True(Math.Abs(reachable.B - wanted.B) <= Math.Abs(any.B - wanted.B) + 1e-12);
                }
            );

    [Fact]
    public void For_WhiteGroundOnSteel_IsLighterThanTheSteelAndBlackerWithoutIt()
    {
        var bare = GroundColours.Iron;
        var once = PrintLook.For(Finish.WhiteGround, bare, 1).Ground;
        var twice = PrintLook.For(Finish.WhiteGround, bare, 2).Ground;
        Assert.True(once.G > bare.G);
        Assert.True(twice.G > once.G);
    }

    [Fact]
    public void For_MoreMattCoats_LiftBlackFurther()
    {
        LinearRgb Black(int coats) => PrintLook.For(Finish.VelvetMatt, GroundColours.Aluminium, coats).Reflectance(new LinearRgb(0, 0, 0));
        Assert.True(Black(2).G > Black(1).G);
        Assert.True(Black(9).G < PrintLook.FresnelReflectance);
    }

    [Fact]
    public void For_EveryFinish_GivesReflectancesThatExist() =>
        Gen.Select(Gen.Enum<Finish>(), Lights, Lights, Gen.Int[1, 5])
            .Sample(
                (finish, bare, print, coats) =>
                {
                    var seen = PrintLook.For(finish, bare, coats).Reflectance(print);
                    Assert.All(new[] { seen.R, seen.G, seen.B }, v => Assert.InRange(v, 0, 1));
                }
            );

    [Fact]
    public void ForMaterial_EveryShippedKey_IsAColourOrNothing()
    {
        Assert.Equal(GroundColours.Brass, GroundColours.ForMaterial("brass"));
        Assert.Null(GroundColours.ForMaterial("slate"));
    }
}
