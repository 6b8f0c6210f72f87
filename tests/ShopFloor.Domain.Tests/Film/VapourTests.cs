using CsCheck;
using ShopFloor.Domain.Film;

namespace ShopFloor.Domain.Tests.Film;

public sealed class VapourTests
{
    private static readonly Gen<Solvent> Solvents = Gen.OneOf(Solvent.Acetone, Solvent.Toluene, Solvent.Xylene, Solvent.UnknownMix);

    [Fact]
    public void Check_FlashedAsLongAsItSays_IsWithinTheLimit() =>
        Gen.Select(Solvents, Gen.Double[0.1, 100], Gen.Double[5, 95], Gen.Double[20, 500])
            .Sample(
                (solvent, millilitres, share, litres) =>
                {
                    var wet = SolventVapour.Check(new FreshLoad(millilitres, share, 0), solvent, litres, 160).Value.Value;
                    var flashed = SolventVapour
                        .Check(new FreshLoad(millilitres, share, wet.FlashMinutesNeeded), solvent, litres, 160)
                        .Value.Value;
                    Assert.True(flashed.ShareOfLimit <= 1 + 1e-9);
                    Assert.Equal(wet.IsWithinLimit, wet.FlashMinutesNeeded <= 0);
                }
            );

    [Fact]
    public void Check_LongerFlash_LeavesLess() =>
        Gen.Select(Gen.Double[0, 60], Gen.Double[0.1, 60])
            .Sample(
                (minutes, more) =>
                {
                    double Left(double flash) =>
                        SolventVapour.Check(new FreshLoad(20, 60, flash), Solvent.Xylene, 60, 160).Value.Value.SolventGrams;
                    return Left(minutes + more) < Left(minutes);
                }
            );

    [Fact]
    public void Check_OverTheLimit_SaysWhatToDo()
    {
        var answer = SolventVapour.Check(new FreshLoad(20, 60, 5), Solvent.Xylene, 60, 160).Value;
        Assert.False(answer.Value.IsWithinLimit);
        Assert.Contains("Flash off for", answer.Why.Notes[0], StringComparison.Ordinal);
        Assert.Contains("data sheet", answer.Why.Notes[^1], StringComparison.Ordinal);
    }

    // 10 000 ft³ of fresh air for a gallon are 75 m³ for a litre (Fire Code of the Philippines p. 411, read; NFPA 86), 440 ft³ a minute for a gallon in
    // a batch oven are 3.29 m³ a minute for a litre (NFPA 86, from memory): the rule spreads the solvent over 75 / 3.29 = 23 min.
    [Fact]
    public void AllowedGrams_FreshAirOfTheBatchOvenRule_IsStricterThanTheRule()
    {
        Assert.InRange(SolventVapour.EvaporationMinutes, 1, 75 / 3.29);
        foreach (var solvent in new[] { Solvent.Acetone, Solvent.Toluene, Solvent.Xylene, Solvent.UnknownMix })
            Assert.True(SolventVapour.AllowedGrams(solvent, 60, 160, 3.29 * 60) < 1000 * solvent.DensityGMl);
    }

    [Fact]
    public void AllowedGrams_MoreFreshAir_NeverAllowsLessAndNoneIsTheClosedOven() =>
        Gen.Select(Solvents, Gen.Double[1, 10_000], Gen.Double[0, 1000], Gen.Double[0, 1000])
            .Sample(
                (solvent, litres, air, more) =>
                {
                    double Allowed(double fresh) => SolventVapour.AllowedGrams(solvent, litres, 160, fresh);
                    return Allowed(air + more) >= Allowed(air) && Allowed(air) >= Allowed(0);
                }
            );

    [Theory]
    [InlineData(-1)]
    [InlineData(2001)]
    public void Check_FreshAirThatCannotBe_IsRefused(double air) =>
        Assert.Equal("freshAir", SolventVapour.Check(new FreshLoad(20, 60, 5), Solvent.Xylene, 60, 160, air).Refusals[0].Field);

    [Fact]
    public void Check_NoOven_IsRefused() =>
        Assert.Equal("ovenLitres", SolventVapour.Check(new FreshLoad(20, 60, 5), Solvent.Xylene, 0, 160).Refusals[0].Field);
}
