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

    // Begun at once, broken off after 5 min: 10 min later than planned a quarter is left, 0.45 g.
    [Fact]
    public void Now_AfterALoadThatWasBrokenOff_HasLostSolventInTheOvenAndOutsideIt()
    {
        var (pieces, ready) = BrokenOff(minutesInside: 5);
        var load = LoadSolvent.Now(pieces, Closed, ready.AddMinutes(10));
        Assert.Equal((0.45m, 3, false, Minute(ready.AddMinutes(10))), (load.Grams, load.MayGoIn, load.IsTooMuch, load.FlashUntil));
        Assert.Equal(load, LoadSolvent.At(pieces, Closed, ready.AddMinutes(10)));
    }

    // Broken off after 1 min: 1.8 g · 0.5^(1/5) = 1.567 g, 0.522 g each, and one may go in; in 4 min more it is 0.9 g.
    [Fact]
    public void Now_BrokenOffAtOnce_WaitsOnlyForWhatIsLeft()
    {
        var (pieces, ready) = BrokenOff(minutesInside: 1);
        var load = LoadSolvent.Now(pieces, Closed, ready.AddMinutes(1));
        Assert.Equal((1.567m, 1, true, true), (Math.Round(load.Grams, 3), load.MayGoIn, load.IsTooMuch, load.IsWithinRecipe));
        Assert.InRange(load.FlashUntil, ready.AddMinutes(5), Minute(ready.AddMinutes(5)).AddMinutes(1));
    }

    // Two lay in a load that was broken off after 10 min and have 0.15 g each; the third joins them fresh with 0.6 g: 0.9 g, as much as goes in.
    [Fact]
    public void Now_SomeOfABrokenOffLoadAndAFreshOne_AreCountedEachByItsOwnFlash()
    {
        var (broken, ready) = BrokenOff(minutesInside: 10);
        var (fresh, later) = Flashing(wait: 600);
        Assert.Equal(ready.AddMinutes(10), later);
        var load = LoadSolvent.Now([broken[0], broken[1], fresh[0]], Closed, later);
        Assert.Equal((0.9m, 3, false), (load.Grams, load.MayGoIn, load.IsTooMuch));
    }

    private static (IReadOnlyList<(Piece Piece, int Step)> Pieces, DateTimeOffset Ready) BrokenOff(int minutesInside)
    {
        var (pieces, ready) = Flashing();
        foreach (var (piece, step) in pieces)
        {
            piece.Apply(piece.Start(step, ready).Value);
            piece.Apply(piece.BreakOff(step, "power cut", ready.AddMinutes(minutesInside)).Value);
        }
        return (pieces, ready);
    }

    // Said to the minute, and never too early.
    private static DateTimeOffset Minute(DateTimeOffset at) => at.Second == 0 ? at : at.AddSeconds(60 - at.Second);

    private static (IReadOnlyList<(Piece Piece, int Step)> Pieces, DateTimeOffset Ready) Flashing(int longest = 3000, int wait = 0)
    {
        var steps = PieceOnItsWay
            .Steps.Select(s => s.Kind == StepKind.Cure ? s with { VapourGrams = 0.6m } : s)
            .Select(s => s is { Kind: StepKind.Rest, MinSeconds: 2400 } ? s with { MaxSeconds = 2400 + longest } : s)
            .ToList();
        var ways = Enumerable.Range(0, 3).Select(_ => new PieceOnItsWay(steps: steps)).ToList();
        ways.ForEach(w => w.Wait(wait));
        ways.ForEach(w => w.WorkTo(StepKind.Cure));
        return ([.. ways.Select(w => (w.Piece, w.Piece.NextAttended!.Number))], ways[0].Now);
    }
}
