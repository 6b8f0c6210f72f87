using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using PlannedDay = ShopFloor.Planning.Exchange.Day;

namespace ShopFloor.Planning.Tests.Day;

public sealed class PromiseTests
{
    private static List<Piece> Order(PlannedDay day, int count, ulong seed) =>
        [.. DayMaker.Make(count, seed + 1000).Pieces.Select(p => p with { Order = "new", PromiseS = day.HorizonS })];

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Ask_RandomDay_BreaksNoRuleAndMakesNobodyLate(bool awkward)
    {
        var answered = 0;
        for (var seed = 1UL; seed <= 25; seed++)
        {
            var day = DayMaker.Make(5 + (int)seed, seed, awkward);
            var plan = DayPlanner.First(day);
            var order = Order(day, 1 + ((int)seed % 5), seed);
            var promise = Promises.Prepare(day, plan).Ask([order])[0];
            if (Promises.Prepare(day, plan).With(order) is not var (with, made))
            {
                Assert.Null(promise.EndS);
                continue;
            }
            answered++;
            Assert.Empty(PlanChecker.Check(with, made));
            var (before, after) = (PlanEnds.Of(plan), PlanEnds.Of(made));
            var promised = day.Pieces.ToDictionary(p => p.Id, p => p.PromiseS);
            Assert.All(before, was => Assert.True(after[was.Key] <= Math.Max(was.Value, promised[was.Key]), $"seed {seed}: {was.Key}"));
            AssertNearStays(plan, made);
            Assert.Equal(promise.EndS, after.Where(e => e.Key[0] == '~').Max(e => e.Value));
        }
        Assert.True(answered >= (awkward ? 8 : 25), $"{answered} answered");
    }

    [Fact]
    public void Ask_RunningShop_BreaksNoRuleAndMakesNobodyLate()
    {
        var path = Path.Combine(AppContext.BaseDirectory, "Fixtures", "running-shop.day.json");
        var day = DayReader.Read(File.ReadAllBytes(path), path).Value;
        var plan = DayPlanner.First(day);
        var template = day.Pieces.First(p => p.Done == 0);
        var order = new List<Piece> { template with { Order = "new", PromiseS = day.HorizonS, EarliestS = 60 } };
        var (with, made) = Promises.Prepare(day, plan).With(order)!.Value;
        Assert.Empty(PlanChecker.Check(with, made));
        var (before, after) = (PlanEnds.Of(plan), PlanEnds.Of(made));
        var promised = day.Pieces.ToDictionary(p => p.Id, p => p.PromiseS);
        Assert.All(before, was => Assert.True(after[was.Key] <= Math.Max(was.Value, promised[was.Key]), was.Key));
    }

    /// <summary>Handling of a batch that took more members may begin some seconds earlier; all else of the next two hours stays.</summary>
    private static void AssertNearStays(Plan before, Plan after)
    {
        var now = after.Tasks.Where(t => t.Piece is not null).ToDictionary(t => (t.Piece, t.Step), t => (t.StartS, t.Station));
        foreach (var task in before.Tasks.Where(t => t.Piece is not null && t.Kind != TaskKinds.Rest && t.StartS < 7_200))
            Assert.Equal((task.StartS, task.Station), now[(task.Piece, task.Step)]);
    }

    [Fact]
    public void Ask_SeveralAlternatives_AnswersEachAsIfItWereAlone()
    {
        var day = DayMaker.Make(20, 4);
        var promises = Promises.Prepare(day, DayPlanner.First(day));
        var (one, two) = (Order(day, 3, 1), Order(day, 5, 2));
        var together = promises.Ask([one, two, one]);
        Assert.Equal([promises.Ask([one])[0], promises.Ask([two])[0], promises.Ask([one])[0]], together);
        Assert.Equal(together[0], together[2]);
    }

    [Fact]
    public void Taking_OrderAfterOrder_BreaksNoRuleAndMakesNobodyLate()
    {
        for (var seed = 1UL; seed <= 8; seed++)
        {
            var day = DayMaker.Make(12, seed);
            var promises = Promises.Prepare(day, DayPlanner.First(day));
            var taken = new List<int>();
            for (var n = 1; n <= 4; n++)
            {
                var order = Order(day, n, seed * 10 + (ulong)n);
                if (promises.Ask([order])[0].EndS is not { } end)
                    break;
                // Promised for the very second at which it would be finished.
                promises = promises.Taking(order.ConvertAll(p => p with { PromiseS = end }))!;
                taken.Add(end);
                var (with, made) = promises.With(Order(day, 1, 500))!.Value;
                Assert.Empty(PlanChecker.Check(with, made));
                var ends = PlanEnds.Of(made);
                Assert.All(with.Pieces.Where(p => p.Id[0] == '~' && p.PromiseS < day.HorizonS), p => Assert.True(ends[p.Id] <= p.PromiseS));
            }
            Assert.NotEmpty(taken);
        }
    }

    [Fact]
    public void Place_LoadWithRoomJustBeforeItCloses_JoinsIt()
    {
        var day = DayMaker.Make(6, 2);
        // Transfers come late, so that what leaves the oven has time; and a third pair of hands is free.
        day = day with
        {
            Pieces =
            [
                .. day.Pieces.Select(p =>
                    p with
                    {
                        EarliestS = 3_000,
                        Route = [.. p.Route.Select(s => s.Kind == StepKind.Tape ? s with { ReadyS = 12_000 } : s)],
                    }
                ),
            ],
        };
        var plan = DayPlanner.First(day);
        var helped = day with { People = [.. day.People, day.People[0] with { Id = "zoe" }] };
        var load = plan.Tasks.First(t => t.Kind == TaskKinds.Load);
        var piece = day.Pieces.First(p => p.Route.Count(s => s.Kind == StepKind.Cure) == 1) with { WidthUm = 40_000, DepthUm = 30_000 };
        var shop = ShopBuilder.Build(
            helped with
            {
                Pieces = [.. helped.Pieces, piece with { Id = "Z", EarliestS = load.StartS - 1_900, PromiseS = day.HorizonS }],
            }
        );
        var maker = new GroupMaker(shop, 400);
        var decoder = new Decoder(shop, maker);
        decoder.Load(plan);
        Assert.True(new Insertion(shop, maker, decoder).Place([shop.Pieces.Length - 1]));
        Assert.Equal(plan.Batches.Count(b => b.Kind == BatchKinds.Load), decoder.Placed.Count(b => shop.Heated[b.Place].IsOven));
        var left = new LeftOut?[shop.Pieces.Length];
        var note = new SearchNote("insertion", 0, 1, 0, 0, false);
        var sha = Fingerprint.Sha256(DayWriter.Write(shop.Day));
        Assert.Empty(PlanChecker.Check(shop.Day, PlanMaker.Make(shop, maker, decoder, left, sha, PartBounds.None, note)));
    }

    [Fact]
    public void Ask_PieceLargerThanEveryOven_SaysWhy()
    {
        var day = DayMaker.Make(6, 2);
        var order = new List<Piece> { day.Pieces[0] with { WidthUm = 4_000_000 } };
        var promise = Promises.Prepare(day, DayPlanner.First(day)).Ask([order])[0];
        Assert.Null(promise.EndS);
        Assert.NotEmpty(promise.Text);
    }

    [Fact]
    public void Rush_FullShopWithTightPromises_NamesThePiecesThatItMakesLate()
    {
        var pushing = 0;
        for (var seed = 1; seed <= 6; seed++)
        {
            var day = DayMaker.Make(24, (ulong)seed);
            var plan = DayPlanner.First(day);
            var ends = PlanEnds.Of(plan);
            // Everything is promised for the very second at which the plan finishes it: whatever moves is late.
            day = day with
            {
                Pieces = [.. day.Pieces.Select(p => p with { PromiseS = ends[p.Id] })],
            };
            var order = Order(day, 12, 9);
            var promises = Promises.Prepare(day, plan);
            var (rush, asked) = (promises.Rush(order), promises.Ask([order])[0]);
            Assert.True(rush.EndS <= asked.EndS, $"seed {seed}: {rush.EndS} after {asked.EndS}");
            Assert.All(rush.Pushed, p => Assert.Equal(p.EndS - p.PromiseS, p.LateS));
            if (rush.EndS == asked.EndS)
                continue;
            Assert.NotEmpty(rush.Pushed);
            pushing++;
        }
        Assert.True(pushing >= 2, $"{pushing} of 6 days");
    }
}
