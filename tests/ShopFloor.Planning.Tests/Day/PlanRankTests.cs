using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>What comes first when plans are compared.</summary>
public sealed class PlanRankTests
{
    private static readonly Planning.Exchange.Day Pinned = Read("pinned-to-a-time");

    [Fact]
    public void Of_DayWithoutPins_IsTheObjectiveAlone()
    {
        var day = Pinned with { Pieces = [.. Pinned.Pieces.Select(p => p with { Pins = [] })] };
        var plan = DayPlanner.First(day);
        Assert.Equal(new PlanRank(0, 0, plan.Objective.Value), PlanRank.Of(day, plan with { UnmetPins = [new UnmetPin("P0", 4, "")] }));
    }

    [Fact]
    public void Of_PinnedDay_APieceLeftOutWeighsMoreThanAPinAndAPinMoreThanPoints()
    {
        var plan = DayPlanner.First(Pinned);
        var dear = plan with { UnmetPins = [], Objective = plan.Objective with { Value = 100 * plan.Objective.Value } };
        var noPin = plan with { UnmetPins = [new UnmetPin("P0", 4, "")] };
        var noPiece = plan with { UnmetPins = [], LeftOut = [new LeftOut("P0", "no time", "")] };
        Assert.Equal([dear, noPin, noPiece], new[] { noPiece, noPin, dear }.OrderBy(p => PlanRank.Of(Pinned, p)));
    }

    [Fact]
    public void Of_LeavingOutCostsNothing_DoesNotCountWhoIsLeftOut()
    {
        var day = Pinned with { Weights = Pinned.Weights with { LeftOut = 0 } };
        Assert.Equal(0, PlanRank.Of(day, DayPlanner.First(day) with { LeftOut = [new LeftOut("P0", "no time", "")] }).LeftOut);
    }

    private static Planning.Exchange.Day Read(string name) =>
        DayReader.Read(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Fixtures", name + ".day.json")), name).Value;
}
