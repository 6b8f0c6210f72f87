using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Reports;
using ShopFloor.Planning.Tests.Exchange;

namespace ShopFloor.Planning.Tests.Reports;

public sealed class TimeSpentTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Of_EveryPieceOfRandomPlans_AddsUpToItsEnd(bool awkward)
    {
        var told = new HashSet<Spent>();
        for (var seed = 1UL; seed <= 12; seed++)
        {
            var day = DayMaker.Make(8 + (int)seed, seed, awkward);
            var plan = DayPlanner.First(day);
            var ends = PlanEnds.Of(plan);
            foreach (var piece in day.Pieces.Where(p => ends.ContainsKey(p.Id)))
            {
                var shares = TimeSpent.Of(day, plan, piece.Id);
                Assert.Equal(ends[piece.Id], shares.Sum(s => s.Seconds));
                told.UnionWith(shares.Select(s => s.What));
            }
        }
        Assert.Superset(new HashSet<Spent> { Spent.Work, Spent.Rest, Spent.Person, Spent.Member }, told);
    }

    /// <summary>By hand from the two plates' plan: P2 is cleaned 120 s after P1, and its steps and rests are written in the day.</summary>
    [Fact]
    public void Of_SecondOfTwoPlates_IsAsReadFromThePlan()
    {
        var plan = DayPlanner.First(TwoPlates.Day, TwoPlates.Sha);
        var shares = TimeSpent.Of(TwoPlates.Day, plan, "P2");
        Assert.Equal(PlanEnds.Of(plan)["P2"], shares.Sum(s => s.Seconds));
        // 600 s flash-off and 900 s cooling.
        Assert.Equal(1_500, shares.Single(s => s.What == Spent.Rest).Seconds);
        // 120 clean, 60 wipe, 40 spray, 50 + 960 + 50 oven, 60 tape, press 20 + 2 · 10 + 62, 30 inspect, 30 pack.
        Assert.Equal(1_502, shares.Single(s => s.What == Spent.Work).Seconds);
    }

    [Fact]
    public void Of_NobodyThereAtFirst_IsClosedTime()
    {
        var day = TwoPlates.Day;
        var late = day with { People = [.. day.People.Select(p => p with { Shifts = [new Shift(5_000, 14_400, 18_000)] })] };
        var shares = TimeSpent.Of(late, DayPlanner.First(late), "P1");
        Assert.Equal(5_000, shares.Single(s => s.What == Spent.Closed).Seconds);
    }

    [Fact]
    public void Of_PieceThatIsLeftOut_IsEmpty()
    {
        var day = TwoPlates.Day;
        var large = day with { Pieces = [.. day.Pieces.Select(p => p.Id == "P1" ? p with { WidthUm = 9_000_000 } : p)] };
        Assert.Empty(TimeSpent.Of(large, DayPlanner.First(large), "P1"));
    }
}
