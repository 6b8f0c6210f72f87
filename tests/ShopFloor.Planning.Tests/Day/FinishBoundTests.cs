using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>The bound of the finish is never above what a plan reaches, and meets it where the answer is known by hand.</summary>
public sealed class FinishBoundTests
{
    private static long Bound(ShopFloor.Planning.Exchange.Day day)
    {
        var room = new Workroom(day);
        return new FinishBound(room.Shop, room.LeftOut, new FamilyNeed(room.Shop)).Find(0);
    }

    private static long Finish(Plan plan) => plan.Objective.Parts.Single(p => p.Name == "finish_s").Amount;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Find_AnyDay_IsNotAboveItsPlan(bool awkward)
    {
        var compared = 0;
        for (var seed = 1; seed <= 40; seed++)
        {
            var day = DayMaker.Make(1 + (seed * 5 % 23), (ulong)seed, awkward);
            var plan = DayPlanner.First(day);
            if (plan.LeftOut.Count > 0)
                continue;
            compared++;
            Assert.True(Bound(day) <= Finish(plan), $"seed {seed}: {Bound(day)} above {Finish(plan)}");
        }
        Assert.True(compared > 5);
    }

    [Fact]
    public void Find_DayInTheMiddleOfWork_IsNotAboveItsPlan()
    {
        var compared = 0;
        for (var seed = 1; seed <= 12; seed++)
        {
            var day = DayMaker.Make(12, (ulong)seed);
            var later = AtWork.Later(day, DayPlanner.First(day), 2_000 + (700 * seed));
            var plan = DayPlanner.First(later);
            if (plan.LeftOut.Count > 0)
                continue;
            compared++;
            Assert.True(Bound(later) <= Finish(plan), $"seed {seed}: {Bound(later)} above {Finish(plan)}");
        }
        Assert.True(compared > 3);
    }

    /// <summary>A morning of an hour and an afternoon; pieces are cleaned and nothing else.</summary>
    private static ShopFloor.Planning.Exchange.Day Cleaning(int people, params int[] seconds)
    {
        var made = DayMaker.Make(1, 1);
        var piece = made.Pieces[0] with { EarliestS = 0, PromiseS = 80_000 };
        Shift[] shifts = [new(0, 3_600, 3_600), new(7_200, 20_000, 20_000)];
        return made with
        {
            People = [.. Enumerable.Range(0, people).Select(i => made.People[0] with { Id = $"p{i}", Shifts = shifts })],
            Pieces = [.. seconds.Select((s, i) => piece with { Id = $"P{i}", Route = [new Step(StepKind.Clean) { LengthS = s }] })],
        };
    }

    [Fact]
    public void Find_OnePersonsWork_IsItsSum() => Assert.Equal(1_000, Bound(Cleaning(1, 400, 300, 300)));

    [Fact]
    public void Find_WorkOfTwo_IsShared() => Assert.Equal(450, Bound(Cleaning(2, 300, 300, 300)));

    [Fact]
    public void Find_StepThatDoesNotFitBeforeTheBreak_EndsBehindIt() => Assert.Equal(7_200 + 3_700, Bound(Cleaning(1, 3_700)));

    [Fact]
    public void Find_StepsThatDoNotBothFitBeforeTheBreak_OneIsDoneBehindIt() =>
        Assert.Equal(7_200 + 1_850, Bound(Cleaning(1, 1_850, 1_850)));

    [Fact]
    public void Find_LongestStepLast_IsMetByThePlan()
    {
        var day = Cleaning(1, 1_000, 900, 800);
        Assert.Equal(2_700, Bound(day));
        Assert.Equal(2_700, Finish(DayPlanner.First(day)));
    }
}
