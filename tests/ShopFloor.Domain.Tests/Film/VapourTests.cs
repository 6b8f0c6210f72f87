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

    [Fact]
    public void Check_NoOven_IsRefused() =>
        Assert.Equal("ovenLitres", SolventVapour.Check(new FreshLoad(20, 60, 5), Solvent.Xylene, 0, 160).Refusals[0].Field);
}
