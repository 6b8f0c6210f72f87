using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Domain.Tests.Pieces;

/// <summary>
/// Three pieces with 0.6 g each after the shortest flash-off bring 1.8 g: twice the 0.9 g of a closed oven of 60 l (15 g/m³, Swiss ordinance
/// 832.312.17). Half leaves in 5 min (common practice, no source).
/// </summary>
public sealed class LoadSolventTests
{
    private static readonly OvenSettings Closed = new() { VolumeLitres = 60 };

    [Fact]
    public void At_TheEndOfTheShortestFlash_SaysHowManyMayGoInAndWhenAllMay()
    {
        var (pieces, ready) = Flashing();
        var load = LoadSolvent.At(pieces, Closed, ready);
        Assert.Equal((1.8m, 0.9m, 1, true, true), (load.Grams, load.LimitGrams, load.MayGoIn, load.IsTooMuch, load.IsWithinRecipe));
        Assert.Equal(Minute(ready.AddMinutes(5)), load.FlashUntil);
    }

    [Fact]
    public void At_BeforeTheShortestFlashIsOver_CountsFromItsEnd()
    {
        var (pieces, ready) = Flashing();
        var load = LoadSolvent.At(pieces, Closed, ready.AddMinutes(-20));
        Assert.Equal((1.8m, Minute(ready.AddMinutes(5))), (load.Grams, load.FlashUntil));
    }

    [Fact]
    public void Now_FiveMinutesLonger_MayBegin()
    {
        var (pieces, ready) = Flashing();
        var load = LoadSolvent.Now(pieces, Closed, ready.AddMinutes(5));
        Assert.Equal((0.9m, 3, false), (load.Grams, load.MayGoIn, load.IsTooMuch));
    }

    [Fact]
    public void Now_CutShortByFiveMinutes_IsTwiceAsMuch() =>
        Assert.Equal(3.6m, LoadSolvent.Now(Flashing().Pieces, Closed, Flashing().Ready.AddMinutes(-5)).Grams);

    [Fact]
    public void At_AFlashLongerThanTheRecipes_IsNoWay()
    {
        var (pieces, ready) = Flashing(longest: 240);
        Assert.False(LoadSolvent.At(pieces, Closed, ready).IsWithinRecipe);
    }

    // 20 m³/h bring 1.667 m³ in 5 min: 25 g.
    [Fact]
    public void At_WithFreshAir_AllMayGoIn()
    {
        var (pieces, ready) = Flashing();
        var load = LoadSolvent.At(pieces, Closed with { FreshAir = 20 }, ready);
        Assert.Equal((25m, 3, false, Minute(ready)), (load.LimitGrams, load.MayGoIn, load.IsTooMuch, load.FlashUntil));
    }

    // Said to the minute, and never too early.
    private static DateTimeOffset Minute(DateTimeOffset at) => at.Second == 0 ? at : at.AddSeconds(60 - at.Second);

    private static (IReadOnlyList<(Piece Piece, int Step)> Pieces, DateTimeOffset Ready) Flashing(int longest = 3000)
    {
        var steps = PieceOnItsWay
            .Steps.Select(s => s.Kind == StepKind.Cure ? s with { VapourGrams = 0.6m } : s)
            .Select(s => s is { Kind: StepKind.Rest, MinSeconds: 2400 } ? s with { MaxSeconds = 2400 + longest } : s)
            .ToList();
        var ways = Enumerable.Range(0, 3).Select(_ => new PieceOnItsWay(steps: steps)).ToList();
        ways.ForEach(w => w.WorkTo(StepKind.Cure));
        return ([.. ways.Select(w => (w.Piece, w.Piece.NextAttended!.Number))], ways[0].Now);
    }
}
