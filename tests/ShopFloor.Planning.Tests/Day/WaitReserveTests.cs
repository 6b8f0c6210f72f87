using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Reports;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>Of every longest wait a part is kept for hands that are slower or faster than planned.</summary>
public sealed class WaitReserveTests
{
    [Theory]
    [InlineData(0, 600, 480)]
    [InlineData(300, 1800, 1620)]
    [InlineData(120, 300, 240)]
    [InlineData(600, 640, 620)]
    [InlineData(600, 600, 600)]
    [InlineData(0, 86_400, 86_220)]
    public void Of_RestToCome_KeepsTheLeastOfThreeParts(int shortest, int longest, int planned)
    {
        var piece = Resting(shortest, longest, done: 0, lastEnd: null);
        Assert.Equal(planned, WaitReserve.Of(piece).Route[1].MaxS);
    }

    [Theory]
    [InlineData(0, 1620)]
    [InlineData(1320, 1620)]
    [InlineData(1400, 1700)]
    [InlineData(1500, 1800)]
    [InlineData(1700, 1800)]
    [InlineData(9000, 1800)]
    public void Of_RestThatRuns_KeepsWhatCanStillBeKept(int since, int planned)
    {
        var piece = Resting(300, 1800, done: 1, lastEnd: -since);
        Assert.Equal(planned, WaitReserve.Of(piece).Route[1].MaxS);
    }

    [Fact]
    public void Of_WipedPiece_HasLessToTheSprayAndTheSameDwell()
    {
        var step = new Step(StepKind.Wipe) { LengthS = 60, MaxWaitS = 600 };
        var cure = new Step(StepKind.Cure)
        {
            MinS = 1200,
            MaxS = 1500,
            TenthsC = 1600,
        };
        var piece = Resting(0, 60, 0, null) with { Route = [step, cure] };
        var kept = WaitReserve.Of(piece);
        Assert.Equal((480, 1200, 1500), (kept.Route[0].MaxWaitS, kept.Route[1].MinS, kept.Route[1].MaxS));
        Assert.Null(WaitReserve.Of(piece with { Route = [step with { MaxWaitS = null }] }).Route[0].MaxWaitS);
    }

    /// <summary>A plan with reserve keeps the true limits, of a day from its beginning and in the middle of work.</summary>
    [Theory]
    [InlineData(20, 1)]
    [InlineData(35, 7)]
    public void Plan_WithReserve_KeepsTheTrueLimits(int pieces, ulong seed)
    {
        var day = DayMaker.Make(pieces, seed);
        Assert.Empty(Broken(day, DayPlanner.First(WaitReserve.Of(day))));
        var later = AtWork.Later(day, DayPlanner.First(WaitReserve.Of(day)), 5_400);
        var plan = DayPlanner.First(WaitReserve.Of(later));
        Assert.Empty(plan.LeftOut);
        Assert.Empty(Broken(later, plan));
    }

    /// <summary>That more of a running wait may be used is no change of the piece's recipe; less of a wait to come is.</summary>
    [Fact]
    public void Of_RestThatRuns_GrowsWithoutAChangeOfTheRecipe()
    {
        var maker = DayMaker.Make(4, 1);
        var (before, after) = (At(1400), At(1500));
        Assert.NotEqual(before.Pieces[0].Route[1], after.Pieces[0].Route[1]);
        Assert.DoesNotContain(CauseKind.RouteChanged, Kinds(after));
        var other = Resting(300, 1500, done: 0, lastEnd: null);
        Assert.Contains(CauseKind.RouteChanged, Kinds(after with { Pieces = [other] }));

        ShopFloor.Planning.Exchange.Day At(int since) =>
            maker with
            {
                Zero = maker.Zero.AddSeconds(since),
                Pieces = [WaitReserve.Of(Resting(300, 1800, done: 1, lastEnd: -since))],
            };
        IEnumerable<CauseKind> Kinds(ShopFloor.Planning.Exchange.Day now) =>
            PlanReport.Happened(new PlannedDay(before, DayPlanner.First(before)), now, 120).Select(c => c.Kind);
    }

    /// <summary>The oven comes back when the reserve is used up and the wait is not over: better a wait without reserve than a piece that is given up.</summary>
    [Theory]
    [InlineData(1_200, false, 0)]
    [InlineData(1_600, true, 0)]
    [InlineData(1_750, true, 1)]
    public void First_OvenComesBackLate_UsesTheRunningWaitOnlyWhereThePieceWouldBeLeftOut(int downUntil, bool uses, int left)
    {
        var day = Waiting(since: 100, downUntil);
        var (planned, plan, usesRunning) = WaitReserve.First(u => WaitReserve.Of(day, u));
        Assert.Equal((uses, left), (usesRunning, plan.LeftOut.Count));
        Assert.Equal(left, WaitReserve.LeftWaiting(planned, plan));
        Assert.Equal(uses && left == 0 ? 1_800 : 1_620, planned.Pieces[0].Route[1].MaxS);
        Assert.Empty(PlanChecker.Check(planned, plan));
        Assert.Empty(Broken(day, plan));
    }

    [Fact]
    public void LeftWaiting_WaitIsOver_CountsNoPieceThatNobodyCanSave()
    {
        var day = Waiting(since: 1_900, downUntil: 10);
        var (planned, plan, usesRunning) = WaitReserve.First(u => WaitReserve.Of(day, u));
        Assert.Equal((1, 0, false), (plan.LeftOut.Count, WaitReserve.LeftWaiting(planned, plan), usesRunning));
    }

    // A sprayed piece on the rack, and an oven at its temperature that is down until then.
    private static ShopFloor.Planning.Exchange.Day Waiting(int since, int downUntil)
    {
        var made = DayMaker.Make(4, 1);
        var piece = Resting(300, 1800, done: 1, lastEnd: -since) with { EarliestS = 0, Pins = [], After = [] };
        var rack = made.Stations.First(s => s.Kind == StationKind.Rack).Id;
        return made with
        {
            Pieces = [piece],
            Published = null,
            Stations =
            [
                .. made.Stations.Select(s =>
                    s is Oven oven ? oven with { Heat = oven.Heat with { NowTenthsC = 1_600 }, Down = [new Span(0, downUntil)] } : s
                ),
            ],
            Running = new Running([new PlanTask(TaskKinds.Rest, rack, null, -since, null, piece.Id, 2)], []),
        };
    }

    // The plan was made for the day with reserve, and says so.
    private static IEnumerable<Finding> Broken(ShopFloor.Planning.Exchange.Day day, Plan plan) =>
        PlanChecker.Check(day, plan).Where(f => f.Rule != "day-differs");

    private static Piece Resting(int shortest, int longest, int done, int? lastEnd) =>
        DayMaker.Make(4, 1).Pieces[0] with
        {
            Route =
            [
                new Step(StepKind.Spray) { LengthS = 60, Coating = "clear" },
                new Step(StepKind.Rest) { MinS = shortest, MaxS = longest },
                new Step(StepKind.Cure)
                {
                    MinS = 1200,
                    MaxS = 1500,
                    TenthsC = 1600,
                },
            ],
            Done = done,
            LastEndS = lastEnd,
        };
}
