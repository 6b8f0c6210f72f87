using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Tests.Exchange;

namespace ShopFloor.Planning.Tests.Checking;

/// <summary>From a good plan one rule at a time is broken; the checker must name that rule. The day and the plan are the two plates',
/// worked by hand, changed where a rule needs more than they have.</summary>
public sealed class MutationTests
{
    private static readonly ShopFloor.Planning.Exchange.Day Day = TwoPlates.Day;
    private static readonly Plan Plan = TwoPlates.Plan;

    private static Plan Each(Func<PlanTask, bool> which, Func<PlanTask, PlanTask> change) =>
        Plan with
        {
            Tasks = [.. Plan.Tasks.Select(t => which(t) ? change(t) : t)],
        };

    private static Plan Kind(string kind, Func<PlanTask, PlanTask> change) => Each(t => t.Kind == kind, change);

    private static Plan Step(string piece, int step, Func<PlanTask, PlanTask> change) =>
        Each(t => t.Piece == piece && t.Step == step, change);

    private static PlanTask Moved(PlanTask t, int by) => t with { StartS = t.StartS + by, EndS = t.EndS + by };

    private static Plan AllMoved(int by) => Each(_ => true, t => Moved(t, by));

    private static Plan Batch(string id, Func<Batch, Batch> change) =>
        Plan with
        {
            Batches = [.. Plan.Batches.Select(b => b.Id == id ? change(b) : b)],
        };

    private static Batch Laid(Batch batch, string piece, Func<Place, Place> change) =>
        batch with
        {
            Places = [.. batch.Places.Select(p => p.Piece == piece ? change(p) : p)],
        };

    private static Plan With(Plan plan, params PlanTask[] more) => plan with { Tasks = [.. plan.Tasks, .. more] };

    private static Plan Without(Func<PlanTask, bool> which) => Plan with { Tasks = [.. Plan.Tasks.Where(t => !which(t))] };

    private static ShopFloor.Planning.Exchange.Day Stations(Func<Station, Station> change) =>
        Day with
        {
            Stations = [.. Day.Stations.Select(change)],
        };

    private static ShopFloor.Planning.Exchange.Day Pieces(string id, Func<Piece, Piece> change) =>
        Day with
        {
            Pieces = [.. Day.Pieces.Select(p => p.Id == id ? change(p) : p)],
        };

    private static ShopFloor.Planning.Exchange.Day Route(string id, int step, Func<Step, Step> change) =>
        Pieces(id, p => p with { Route = [.. p.Route.Select((s, i) => i == step - 1 ? change(s) : s)] });

    private static ShopFloor.Planning.Exchange.Day Ada(Func<Person, Person> change) => Day with { People = [change(Day.People[0])] };

    private static ShopFloor.Planning.Exchange.Day Clear(Func<Coating, Coating> change) =>
        Day with
        {
            Coatings = [change(Day.Coatings[0])],
        };

    private static ShopFloor.Planning.Exchange.Day Oven(Func<Oven, Oven> change) => Stations(s => s is Oven o ? change(o) : s);

    private static ShopFloor.Planning.Exchange.Day Press(Func<Press, Press> change) => Stations(s => s is Press p ? change(p) : s);

    private static readonly List<(string Rule, string Name, ShopFloor.Planning.Exchange.Day Day, Plan Plan)> Cases =
    [
        ("unknown-name", "kind of task", Day, Kind("tape", t => t with { Kind = "glue" })),
        ("unknown-name", "station", Day, Kind("tape", t => t with { Station = "bench-9" })),
        ("unknown-name", "person", Day, Kind("tape", t => t with { Person = "zoe" })),
        ("unknown-name", "piece", Day, Step("P1", 1, t => t with { Piece = "P9" })),
        ("unknown-name", "step", Day, Step("P1", 1, t => t with { Step = 11 })),
        ("unknown-name", "step 0", Day, Step("P1", 1, t => t with { Step = 0 })),
        ("unknown-name", "batch", Day, Kind("press", t => t with { Batch = "S9" })),
        ("unknown-name", "shelf", Day, Batch("L1", b => Laid(b, "P1", p => p with { Shelf = 2 }))),
        ("unknown-name", "can", Day, Batch("R1", b => b with { Can = "can-8" })),
        ("unknown-name", "coating", Day, Batch("R1", b => b with { Coating = "matt" })),
        ("unknown-name", "kind of batch", Day, Batch("R1", b => b with { Kind = "dip" })),
        ("unknown-name", "left out", Day, Plan with { LeftOut = [new LeftOut("P9", "no time", "")] }),
        ("unknown-name", "unmet pin", Day, Plan with { UnmetPins = [new UnmetPin("P1", 12, "")] }),
        ("time-invalid", "backwards", Day, Step("P1", 1, t => t with { EndS = t.StartS })),
        ("time-invalid", "past the horizon", Day with { HorizonS = 3401 }, Plan),
        ("time-invalid", "before the plan", Day, AllMoved(-1)),
        ("kind-wrong", "another step's kind", Day, Step("P1", 1, t => t with { Kind = "mask" })),
        ("kind-wrong", "batch of another kind", Day, Kind("press", t => t with { Batch = "L1" })),
        ("kind-wrong", "spray without batch", Day, Step("P1", 3, t => t with { Batch = null })),
        ("kind-wrong", "load with a piece", Day, Kind("load", t => t with { Piece = "P1", Step = 5 })),
        ("kind-wrong", "member at another step", Day, Batch("L1", b => Laid(b, "P1", p => p with { Step = 8 }))),
        ("piece-missing", "no task", Day with { Pieces = [.. Day.Pieces, Day.Pieces[0] with { Id = "P3" }] }, Plan),
        ("left-out-planned", "both", Day, Plan with { LeftOut = [new LeftOut("P1", "no time", "")] }),
        ("step-missing", "bench", Day, Without(t => t.Piece == "P1" && t.Step == 9)),
        ("step-missing", "member", Day, Batch("L1", b => b with { Places = [b.Places[0]] })),
        ("step-twice", "two tasks", Day, With(Plan, Moved(Plan.Tasks.First(t => t.Kind == "pack"), 300))),
        ("step-twice", "two places", Day, Batch("L1", b => b with { Places = [.. b.Places, b.Places[0] with { XUm = 210_000 }] })),
        ("step-twice", "already done", Pieces("P1", p => p with { Done = 1, LastEndS = 0 }), Plan),
        ("batch-incomplete", "no unload", Day, Without(t => t.Kind == "unload")),
        ("batch-incomplete", "no dwell", Day, Without(t => t.Kind == "dwell")),
        ("batch-incomplete", "no load", Day, Without(t => t.Kind == "load")),
        ("batch-incomplete", "no press", Day, Without(t => t.Kind == "press")),
        ("batch-incomplete", "no shake", Day, Without(t => t.Kind == "shake")),
        (
            "batch-incomplete",
            "no spray",
            Day,
            Plan with
            {
                Batches = [.. Plan.Batches, new Batch("R2", BatchKinds.Round) { Coating = "clear", Can = "can-7" }],
            }
        ),
        ("batch-incomplete", "no member", Day, Batch("S1", b => b with { Places = [] })),
        ("batch-incomplete", "two shakes", Day, With(Plan, Moved(Plan.Tasks.First(t => t.Kind == "shake"), 4000))),
        ("length-wrong", "bench", Day, Step("P2", 10, t => t with { EndS = t.EndS + 1 })),
        ("length-wrong", "spray", Route("P1", 3, s => s with { LengthS = 39 }), Plan),
        ("length-wrong", "shake", Clear(c => c with { ShakeS = 61 }), Plan),
        ("length-wrong", "load", Oven(o => o with { LoadEachS = 11 }), Plan),
        ("length-wrong", "unload", Oven(o => o with { UnloadS = 31 }), Plan),
        ("length-wrong", "press", Press(p => p with { LayUpS = 21 }), Plan),
        ("route-order", "too soon", Day, Step("P1", 9, t => Moved(t, -1))),
        ("rest-gap", "starts late", Day, Step("P1", 4, t => t with { StartS = t.StartS + 1 })),
        ("rest-gap", "ends early", Day, Step("P1", 4, t => t with { EndS = t.EndS - 1 })),
        ("rest-gap", "after a load", Day, Step("P2", 6, t => t with { StartS = t.StartS + 1 })),
        ("rest-too-short", "flash", Route("P2", 4, s => s with { MinS = 601 }), Plan),
        ("rest-too-long", "flash", Route("P1", 4, s => s with { MaxS = 639 }), Plan),
        ("wait-too-long", "wipe to spray", Route("P2", 2, s => s with { MaxWaitS = 99 }), Plan),
        ("wait-too-long", "tape to press", Route("P1", 7, s => s with { MaxWaitS = 59 }), Plan),
        ("too-early", "first step", Pieces("P2", p => p with { EarliestS = 121 }), Plan),
        ("transfer-not-ready", "tape", Route("P1", 7, s => s with { ReadyS = 3061 }), Plan),
        ("after-piece", "before it is finished", Pieces("P2", p => p with { After = ["P1"] }), Plan),
        (
            "after-piece",
            "never finished",
            Pieces("P2", p => p with { After = ["P1"] }),
            Plan with
            {
                LeftOut = [new LeftOut("P1", "no time", "")],
            }
        ),
        ("person-missing", "bench", Day, Step("P1", 1, t => t with { Person = null })),
        ("person-missing", "unload", Day, Kind("unload", t => t with { Person = null })),
        ("person-not-wanted", "dwell", Day, Kind("dwell", t => t with { Person = "ada" })),
        ("person-not-wanted", "set point", Day, Kind("set point", t => t with { Person = "ada" })),
        ("person-not-wanted", "rest", Day, Kind("rest", t => t with { Person = "ada" })),
        ("person-busy", "two at once", Day, Step("P2", 1, t => Moved(t, -1))),
        ("person-absent", "before the shift", Ada(p => p with { Shifts = [new Shift(1, 14_400, 18_000)] }), Plan),
        ("person-absent", "over two shifts", Ada(p => p with { Shifts = [new Shift(0, 100, 100), new Shift(101, 14_400, 18_000)] }), Plan),
        ("person-cannot", "press", Ada(p => p with { Can = [StationKind.Bench, StationKind.Booth, StationKind.Oven] }), Plan),
        ("station-wrong", "tape in the booth", Day, Kind("tape", t => t with { Station = "booth-1" })),
        ("station-wrong", "rest on a bench", Day, Step("P1", 4, t => t with { Station = "bench-1" })),
        ("station-busy", "bench", Day, Step("P2", 1, t => Moved(t, -1))),
        (
            "station-busy",
            "set point during a load",
            Day,
            With(Plan, new PlanTask("set point", "oven-1", null, 1500, 1600, FromTenthsC: 1600, ToTenthsC: 1600))
        ),
        ("station-busy", "unload before the dwell is over", Day, Kind("unload", t => Moved(t, -5))),
        ("station-down", "dwell", Oven(o => o with { Down = [new Span(2000, 2001)] }), Plan),
        ("station-down", "rest", Stations(s => s is Rack r ? r with { Down = [new Span(700, 800)] } : s), Plan),
        ("rack-full", "one gap too much", Stations(s => s is Rack r ? r with { AreaUm2 = 13_099_999_999 } : s), Plan),
        ("oven-hot", "held", HotBefore(), Plan),
        ("oven-hot", "changing", Shared(), Kind("set point", t => t.Station == "oven-1" ? t with { StartS = 499 } : t)),
        ("set-point-wrong", "from another", Day, Kind("set point", t => t with { FromTenthsC = 210 })),
        ("set-point-wrong", "load at another", Day, Batch("L1", b => b with { TenthsC = 1601 })),
        ("set-point-wrong", "session without change", Day, Without(t => t.Kind == "set point" && t.Station == "press-1")),
        ("set-point-too-fast", "heating", Oven(o => o with { Heat = o.Heat with { HeatingMilliCPerMin = 13_999 } }), Plan),
        ("round-mixed", "people", Two(), Step("P2", 3, t => t with { Person = "bob" })),
        ("round-mixed", "coating of a piece", Matt(), Plan),
        ("round-mixed", "something between", Day, With(Plan, new PlanTask("shake", "booth-1", "ada", 430, 440, Batch: "L1"))),
        ("round-unshaken", "shake last", Day, Kind("shake", t => Moved(t, 600))),
        ("round-unshaken", "spray in the shake", Day, Step("P1", 3, t => Moved(t, -1))),
        ("round-unshaken", "long pause", Clear(c => c with { ShakeAgainAfterS = 0 }), Step("P2", 3, t => Moved(t, 1))),
        ("can-empty", "by one", Clear(c => c with { Cans = [c.Cans[0] with { LeftUl = 6_999 }] }), Plan),
        ("can-expired", "by one", Clear(c => c with { Cans = [c.Cans[0] with { UseByS = 499 }] }), Plan),
        ("temperature-out", "oven", Oven(o => o with { Heat = o.Heat with { HighestTenthsC = 1639 } }), Plan),
        ("temperature-out", "press", Press(p => p with { Heat = p.Heat with { LowestTenthsC = 1901 } }), Plan),
        ("temperature-mixed", "tenth", Route("P2", 5, s => s with { TenthsC = 1601 }), Plan),
        ("temperature-mixed", "dry with cure", Route("P2", 5, s => s with { Kind = StepKind.Dry }), Plan),
        ("dwell-outside", "too short", Route("P2", 5, s => s with { MinS = 961 }), Plan),
        ("dwell-outside", "too long", Route("P1", 5, s => s with { MaxS = 959 }), Plan),
        ("dwell-outside", "press", Route("P2", 8, s => s with { MinS = 63 }), Plan),
        ("oven-opened", "gap", Day, Kind("dwell", t => t with { StartS = t.StartS + 1 })),
        ("oven-opened", "late unload", Day, Kind("unload", t => Moved(t, 1))),
        ("oven-too-heavy", "heat", Oven(o => o with { HeaterW = 7 }), Plan),
        ("oven-vapour", "limit", Oven(o => o with { VapourLimitMg = 899 }), Plan),
        ("press-mixed", "pressure", Route("P2", 8, s => s with { Pressure = "light" }), Plan),
        ("press-mixed", "lay-up", Route("P2", 8, s => s with { LayUp = "print below" }), Plan),
        ("press-thickness", "tolerance", Press(p => p with { ThicknessToleranceUm = 499 }), Plan),
        ("press-thickness", "limit", Press(p => p with { ThickestUm = 1_499 }), Plan),
        ("place-outside", "left", Day, Batch("L1", b => Laid(b, "P1", p => p with { XUm = 9_999 }))),
        ("place-outside", "front", Day, Batch("S1", b => Laid(b, "P1", p => p with { YUm = 9_999 }))),
        ("place-outside", "right", Day, Batch("L1", b => Laid(b, "P2", p => p with { XUm = 210_001 }))),
        ("place-outside", "back", Day, Batch("S1", b => Laid(b, "P2", p => p with { YUm = 220_001 }))),
        ("place-overlap", "gap in x", Day, Batch("L1", b => Laid(b, "P2", p => p with { XUm = 119_999 }))),
        ("place-overlap", "gap in the press", Press(p => p with { GapUm = 5_001 }), Plan),
        ("place-too-high", "shelf", Oven(o => o with { Shelves = [o.Shelves[0] with { ClearUm = 1_499 }] }), Plan),
        ("place-turned", "not allowed", Day, Batch("L1", b => Laid(b, "P2", p => p with { Turned = true }))),
        ("running-moved", "task", Runs(0), Step("P1", 1, t => t with { Person = "zoe" })),
        ("running-moved", "end", Runs(1), Plan),
        (
            "running-moved",
            "batch gone",
            Day with
            {
                Running = new Running([], [new Batch("L9", BatchKinds.Load) { TenthsC = 1600 }]),
            },
            Plan
        ),
        ("pin-broken", "not before", Pinned(new Pin(7, NotBeforeS: 3_121)), Plan),
        ("pin-broken", "at", Pinned(new Pin(7, AtS: 3_121)), Plan),
        ("pin-broken", "station", Pinned(new Pin(7, Station: "booth-1")), Plan),
        ("pin-broken", "with", Pinned(new Pin(7, With: "P1")), Plan),
        ("objective-wrong", "value", Day, Plan with { Objective = Plan.Objective with { Value = 10_361 } }),
        ("objective-wrong", "amount", Day, Part(p => p with { Amount = p.Amount + 1 })),
        ("objective-wrong", "points", Day, Part(p => p with { Points = p.Points + 1 })),
        ("bound-wrong", "sum", Day, Plan with { Objective = Plan.Objective with { Bound = 9_933 } }),
        ("bound-wrong", "above its points", Day, Part(p => p with { Bound = p.Points + 1 })),
    ];

    private static ShopFloor.Planning.Exchange.Day Shared() => Stations(s => s is Booth b ? b with { SharesAirWith = ["oven-1"] } : s);

    private static ShopFloor.Planning.Exchange.Day HotBefore() =>
        Shared() with
        {
            Stations = [.. Shared().Stations.Select(s => s is Oven o ? o with { Heat = o.Heat with { NowTenthsC = 1600 } } : s)],
        };

    private static ShopFloor.Planning.Exchange.Day Two() => Day with { People = [.. Day.People, Day.People[0] with { Id = "bob" }] };

    private static ShopFloor.Planning.Exchange.Day Matt() =>
        Route("P2", 3, s => s with { Coating = "matt" }) with
        {
            Coatings = [.. Day.Coatings, Day.Coatings[0] with { Id = "matt" }],
        };

    private static ShopFloor.Planning.Exchange.Day Runs(int longer) =>
        Day with
        {
            Running = new Running([new PlanTask("clean", "bench-1", "ada", 0, 120 + longer, "P1", 1)], []),
        };

    private static ShopFloor.Planning.Exchange.Day Pinned(Pin pin) => Pieces("P2", p => p with { Pins = [pin] });

    private static Plan Part(Func<ObjectivePart, ObjectivePart> change) =>
        Plan with
        {
            Objective = Plan.Objective with { Parts = [.. Plan.Objective.Parts.Select(p => p.Name == "oven_s" ? change(p) : p)] },
        };

    public static TheoryData<string, string> Names()
    {
        var data = new TheoryData<string, string>();
        foreach (var (rule, name, _, _) in Cases)
            data.Add(rule, name);
        return data;
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Check_OneRuleBroken_NamesIt(string rule, string name)
    {
        var (_, _, day, plan) = Cases.Find(c => c.Rule == rule && c.Name == name);
        var sha = ReferenceEquals(day, Day) ? TwoPlates.Sha : Fingerprint.Sha256(DayWriter.Write(day));
        var findings = PlanChecker.Check(day, plan with { DaySha256 = sha }, sha);
        Assert.Contains(rule, findings.Select(f => f.Rule));
    }

    [Fact]
    public void Check_PlanOfAnotherDay_IsNamed() => Assert.Contains("day-differs", PlanChecker.Check(Day, Plan, "0").Select(f => f.Rule));

    /// <summary>Every task of made plans is moved by a second, made longer, given to nobody, and taken out: never unseen.</summary>
    [Fact]
    public void Check_AnyTaskOfARandomPlanTouched_HasFindings()
    {
        for (var seed = 1UL; seed <= 4; seed++)
        {
            var day = DayMaker.Make(6, seed, seed % 2 == 0);
            var plan = DayPlanner.First(day);
            Assert.Empty(PlanChecker.Check(day, plan));
            for (var i = 0; i < plan.Tasks.Count; i++)
                foreach (var broken in Broken(plan.Tasks[i]))
                {
                    var tasks = plan.Tasks.ToList();
                    tasks.RemoveAt(i);
                    tasks.InsertRange(i, broken);
                    Assert.True(PlanChecker.Check(day, plan with { Tasks = tasks }).Count > 0, $"seed {seed}, {plan.Tasks[i]}");
                }
        }
    }

    private static IEnumerable<PlanTask[]> Broken(PlanTask t)
    {
        yield return [];
        yield return [t, t];
        if (t.Kind != "set point")
            yield return [t with { EndS = t.EndS + 1 }];
        yield return [t with { Person = t.Person is null ? "ada" : null }];
        yield return [t with { Station = "nowhere" }];
    }
}
