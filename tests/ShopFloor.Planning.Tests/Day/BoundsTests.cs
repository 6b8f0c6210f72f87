using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>The bound of each part of the objective is never above a plan's part, and meets it where the answer is known by hand.</summary>
public sealed class BoundsTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Find_AnyDay_NoPartIsAboveThePlans(bool awkward)
    {
        var compared = 0;
        for (var seed = 101; seed <= 140; seed++)
        {
            var day = DayMaker.Make(1 + (seed * 7 % 29), (ulong)seed, awkward);
            var plan = DayPlanner.First(day);
            if (plan.LeftOut.Count > 0)
                continue;
            compared++;
            var bounds = new Bounds(new Workroom(day)).Find(true, keepPins: false);
            Assert.All(
                plan.Objective.Parts.Zip(bounds),
                p => Assert.True(p.Second <= p.First.Points, $"seed {seed}, {p.First.Name}: {p.Second} above {p.First.Points}")
            );
        }
        Assert.True(compared > 5);
    }

    /// <summary>The search ended at once wherever something ran: bounds counted running loads, dwells and shakes, costs did not.</summary>
    [Fact]
    public void First_WhileSomethingRuns_CostsWhatItsPlanCosts()
    {
        var (running, searched) = (0, 0);
        for (var seed = 1; seed <= 12; seed++)
        {
            var day = DayMaker.Make(4 + seed, (ulong)seed);
            var later = AtWork.Later(day, DayPlanner.First(day), 700 + (seed * 600));
            running += later.Running.Batches.Count;
            var room = new Workroom(later);
            var first = room.WithoutIdleWaits(room.First(out _));
            var note = new SearchNote("test", 1, 1, 0, 0, false);
            var plan = room.Plan(first, new string('0', 64), note, PartBounds.None, leeway: false);
            Assert.Equal(plan.Objective.Value, room.Evaluate(first));
            Assert.True(DayPlanner.First(later).Objective.Value <= plan.Objective.Value);
            if (later.Running.Batches.Count > 0 && searched < 2)
                searched += DayPlanner.Plan(later, new PlanOptions { Rounds = 1, Chains = 1 }).Search.Rounds!.Value;
        }
        Assert.True(running > 4, $"{running} batches ran");
        Assert.Equal(2, searched);
    }

    [Fact]
    public void Plan_PieceThatIsPinnedToTomorrow_IsNotCountedAsRoomForBetter()
    {
        var day = DayMaker.Make(4, 1);
        var first = day.Pieces[0];
        var pin = new Pin(first.Route.Count) { NotBeforeS = 100_000 };
        var pinned = day with { Pieces = [first with { Pins = [pin], PromiseS = 90_000 }, .. day.Pieces.Skip(1)] };
        var plan = DayPlanner.Plan(pinned, new PlanOptions { Rounds = 1 });

        Assert.Empty(plan.UnmetPins);
        long Bound(string part) => plan.Objective.Parts.Single(p => p.Name == part).Bound;
        Assert.InRange(Bound("finish_s"), 100_000, plan.Objective.Parts.Single(p => p.Name == "finish_s").Points);
        Assert.Equal((day.Weights.LatePieces, true), (Bound("late_pieces"), Bound("late_s") >= 10_000 * first.Weight * day.Weights.LateS));
        Assert.True(new Bounds(new Workroom(pinned)).Find(true, keepPins: false).Sum() < 100_000);
    }

    [Fact]
    public void Plan_PinThatCannotBeKept_IsJudgedByWhatHoldsForAllPlans()
    {
        var day = DayMaker.Make(4, 1);
        var first = day.Pieces[0];
        Pin[] pins = [new Pin(1) { AtS = 50_000 }, new Pin(2) { AtS = 100 }];
        var pinned = day with { Pieces = [first with { Pins = pins }, .. day.Pieces.Skip(1)] };
        var plan = DayPlanner.Plan(pinned, new PlanOptions { Rounds = 1 });

        Assert.NotEmpty(plan.UnmetPins);
        Assert.True(plan.Objective.Bound <= new Bounds(new Workroom(pinned)).FindAcross(keepPins: false).Sum);
    }

    [Fact]
    public void Find_PieceWhosePromiseIsOver_CountsWhatMustBeLate()
    {
        var day = DayMaker.Make(6, 3);
        var late = day with { Pieces = [day.Pieces[0] with { PromiseS = 0 }, .. day.Pieces.Skip(1)] };
        var bounds = new Bounds(new Workroom(late)).Find(true, keepPins: false);
        var plan = DayPlanner.Plan(late, new PlanOptions { Rounds = 2 });

        Assert.True(bounds[1] > 0);
        Assert.Equal(day.Weights.LatePieces, bounds[2]);
        Assert.All(plan.Objective.Parts.Zip(bounds), p => Assert.True(p.Second <= p.First.Points, $"{p.First.Name}: {p.Second}"));
    }

    /// <summary>One load would wait for the second piece and keep the first from its long work by hand; two loads cost a load and its dwell.
    /// The second piece alone is done at 10,000 + 40 + 600 + 40 + 10; a load of both is out at 10,700, and then all is cleaned.</summary>
    [Theory]
    [InlineData(8_000, 3_000 + 600)]
    [InlineData(1_500, 1_520)]
    public void FindAcross_OneOfTwoComesLate_CountsTheLaterFinishOrTheLoadMore(int byHand, long more)
    {
        var day = Curing(300, 600, 600);
        var (soon, late) = (day.Pieces[0], day.Pieces[1] with { EarliestS = 10_000 });
        var clean = new Step(StepKind.Clean) { LengthS = byHand };
        var waits = day with
        {
            People = [day.People[0] with { Shifts = [new Shift(0, 80_000, 80_000)] }],
            Pieces = [soon with { Route = [.. soon.Route, clean] }, late with { Route = [.. late.Route, clean with { LengthS = 10 }] }],
        };
        var bounds = new Bounds(new Workroom(waits));
        var across = bounds.FindAcross(keepPins: false);
        Assert.Equal(bounds.Find(true, keepPins: false).Sum() + more, across.Sum);
        Assert.Equal(across.Sum, across.Apart.Sum());
        var plan = DayPlanner.Plan(waits, new PlanOptions { Rounds = 2 });
        Assert.Equal(across.Sum, plan.Objective.Bound);
        Assert.True(plan.Objective.Value >= across.Sum);
    }

    [Fact]
    public void FindAcross_AnyDay_IsNotAboveThePlan()
    {
        var (compared, higher) = (0, 0);
        for (var seed = 101; seed <= 160; seed++)
        {
            var day = DayMaker.Make(4 + (seed * 7 % 29), (ulong)seed);
            var plan = DayPlanner.First(day);
            if (plan.LeftOut.Count > 0)
                continue;
            var bounds = new Bounds(new Workroom(day));
            var across = bounds.FindAcross(keepPins: false);
            (compared, higher) = (compared + 1, higher + (across.Sum > bounds.Find(true, keepPins: false).Sum() ? 1 : 0));
            Assert.True(across.Sum <= plan.Objective.Value, $"seed {seed}: {across.Sum} above {plan.Objective.Value}");
            Assert.Equal(across.Sum, across.Under([.. plan.Objective.Parts.Select(p => p.Points)]).Sum());
        }
        Assert.True(compared > 40 && higher > 3, $"{higher} of {compared}");
    }

    [Theory]
    [InlineData(100, 900 + 600 + 300)]
    [InlineData(200, 900 + 300)]
    [InlineData(300, 900)]
    public void Dwell_PiecesOfOneSize_CountsTheLongestOfEachLoad(int shelfMm, long dwell)
    {
        // Room for one, two and three pieces of 90 by 90 mm with their gaps; a shelf loses its margin and wins a gap.
        var shop = new Workroom(Curing(shelfMm, 600, 900, 300)).Shop;
        Assert.Equal(dwell, new FamilyNeed(shop).Dwell(shop.Nodes));
    }

    /// <summary>Pieces of 90 by 90 mm that are cured and nothing else, one shelf of 100 mm depth, margin 5 and gap 10.</summary>
    private static ShopFloor.Planning.Exchange.Day Curing(int shelfMm, params int[] seconds)
    {
        var made = DayMaker.Make(1, 1);
        var oven = made.Stations.OfType<Oven>().First();
        var cure = made.Pieces[0].Route.First(s => s.Kind == StepKind.Cure) with { MaxS = 2_000 };
        var piece = made.Pieces[0] with { EarliestS = 0, WidthUm = 90_000, DepthUm = 90_000, Route = [] };
        return made with
        {
            Stations =
            [
                .. made.Stations.Where(s => s is not Oven),
                oven with
                {
                    MarginUm = 5_000,
                    GapUm = 10_000,
                    Shelves = [new Shelf(shelfMm * 1_000, 100_000, 200_000)],
                },
            ],
            Pieces = [.. seconds.Select((s, i) => piece with { Id = $"P{i}", Route = [cure with { MinS = s }] })],
        };
    }
}
