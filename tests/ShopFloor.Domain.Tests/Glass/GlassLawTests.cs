using CsCheck;
using ShopFloor.Domain.Glass;

namespace ShopFloor.Domain.Tests.Glass;

public sealed class GlassLawTests
{
    [Fact]
    public void Factor_FasterCooling_IsNeverLessAndStaysBelowOne() =>
        Gen.Select(Gen.Double[-2, 2.5], Gen.Double[0.02, 1])
            .Sample(
                (log, more) =>
                {
                    var (slow, fast) = (GlassStress.Factor(Math.Pow(10, log)), GlassStress.Factor(Math.Pow(10, log + more)));
                    Assert.True(slow < fast);
                    Assert.InRange(fast, 0, 1);
                },
                iter: 100
            );

    [Fact]
    public void Step_StillAir_AllowsWhatAWetClothDoesNot()
    {
        var still = GlassStress.Step(GlassKind.Annealed, 4, 190, 20, GlassCooling.StillAir).Value.Value;
        var wet = GlassStress.Step(GlassKind.Annealed, 4, 190, 20, GlassCooling.ColdSolidOrWet).Value.Value;
        Assert.True(still.IsAllowed);
        Assert.False(wet.IsAllowed);
        Assert.Equal(40, wet.AllowedStepKelvin, 1e-9);
    }

    [Fact]
    public void Lines_HotGlass_SaysStillAirOnlyAndNeverOnMetalOrWetCloth()
    {
        var lines = CoolingCard.Lines(GlassKind.Annealed, 4, 190, 20).Value;
        Assert.StartsWith("Still air only", lines[0], StringComparison.Ordinal);
        Assert.Contains("metal", lines[0], StringComparison.Ordinal);
        Assert.Contains("wet cloth", lines[0], StringComparison.Ordinal);
        Assert.Contains(CoolingCard.Hot, lines);
    }

    [Fact]
    public void Lines_NearlyCool_AllowsToLayItDown()
    {
        var lines = CoolingCard.Lines(GlassKind.Annealed, 4, 30, 20).Value;
        Assert.Equal(["The glass may be laid down anywhere."], lines);
    }

    [Fact]
    public void Lines_NoThickness_IsRefused() => Assert.False(CoolingCard.Lines(GlassKind.Annealed, double.NaN, 190, 20).IsOk);
}
