using System.Diagnostics.CodeAnalysis;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Checking;

/// <summary>Ways to break the rules about the plan as a whole, routes, people and stations, for any plan.</summary>
internal static class WaysOfThePlan
{
    public static IEnumerable<(string Rule, string Name, Func<Changed, IEnumerable<Changed>> Make)> All =>
        [.. Whole, .. Route, .. People, .. Stations];

    private static PlanTask Moved(PlanTask t, int by) => t with { StartS = t.StartS + by, EndS = t.EndS + by };

    [SuppressMessage("Design", "MA0051:Method is too long", Justification = "A list of ways to break rules, one after the other.")]
    private static (string, string, Func<Changed, IEnumerable<Changed>>)[] Whole =>
        [
            ("unknown-name", "station", c => c.Plan.Tasks.Select(t => c.Task(t, x => x with { Station = "nowhere" }))),
            ("unknown-name", "person", c => c.Bench().Select(t => c.Task(t, x => x with { Person = "nobody" }))),
            ("unknown-name", "piece", c => c.Bench().Select(t => c.Task(t, x => x with { Piece = "nothing" }))),
            ("unknown-name", "step", c => c.Bench().Select(t => c.Task(t, x => x with { Step = 99 }))),
            ("unknown-name", "kind", c => c.Bench().Select(t => c.Task(t, x => x with { Kind = "glue" }))),
            ("unknown-name", "batch", c => c.Of(TaskKinds.Press, TaskKinds.Load).Select(t => c.Task(t, x => x with { Batch = "X99" }))),
            ("unknown-name", "can", c => c.Batches(BatchKinds.Round).Select(b => c.Batch(b, x => x with { Can = "none" }))),
            ("unknown-name", "coating", c => c.Batches(BatchKinds.Round).Select(b => c.Batch(b, x => x with { Coating = "none" }))),
            ("unknown-name", "kind of batch", c => c.Plan.Batches.Select(b => c.Batch(b, x => x with { Kind = "dip" }))),
            ("unknown-name", "shelf", c => c.Batches(BatchKinds.Load).Select(b => c.Place(b, 0, p => p with { Shelf = 99 }))),
            ("unknown-name", "member", c => c.Batches(BatchKinds.Load).Select(b => c.Place(b, 0, p => p with { Piece = "nothing" }))),
            ("time-invalid", "empty", c => c.Plan.Tasks.Select(t => c.Task(t, x => x with { EndS = x.StartS }))),
            ("time-invalid", "backwards", c => c.Plan.Tasks.Select(t => c.Task(t, x => x with { EndS = x.StartS - 5 }))),
            ("time-invalid", "before the plan", c => c.Plan.Tasks.Select(t => c.Task(t, x => Moved(x, -x.StartS - 1)))),
            (
                "time-invalid",
                "past the horizon",
                c => [c with { Day = c.Day with { HorizonS = c.Plan.Tasks.Max(t => t.EndS!.Value) - 1 } }]
            ),
            (
                "kind-wrong",
                "another step's",
                c => c.Bench().Select(t => c.Task(t, x => x with { Kind = x.Kind == "mask" ? "clean" : "mask" }))
            ),
            ("kind-wrong", "spray without a round", c => c.Of(TaskKinds.Spray).Select(t => c.Task(t, x => x with { Batch = null }))),
            ("kind-wrong", "bench step with a batch", c => c.Bench().Select(t => c.Task(t, x => x with { Batch = c.Plan.Batches[0].Id }))),
            (
                "kind-wrong",
                "member at its last step",
                c => Loaded(c, 1).Select(b => c.Place(b, 0, p => p with { Step = c.Piece(p.Piece).Route.Count }))
            ),
            ("piece-missing", "never mentioned", c => c.Day.Pieces.Select(p => Twin(c, p))),
            ("left-out-planned", "both", c => c.Plan.Tasks.Where(t => t.Piece is not null).Select(t => LeftOut(c, t.Piece!))),
            ("step-missing", "by hand", c => c.Bench().Concat(c.Of(TaskKinds.Spray, TaskKinds.Rest)).Select(c.Without)),
            ("step-missing", "member", c => Loaded(c, 2).Select(b => c.Batch(b, x => x with { Places = [.. x.Places.Skip(1)] }))),
            ("step-twice", "two tasks", c => c.Bench().Select(t => c.More(Moved(t, 90_000)))),
            ("step-twice", "two places", c => Loaded(c, 1).Select(b => c.Batch(b, x => x with { Places = [.. x.Places, x.Places[0]] }))),
            (
                "step-twice",
                "done already",
                c => c.Bench().Where(t => t.Step == 1).Select(t => c.Piece(t.Piece!, p => p with { Done = 1, LastEndS = 0 }))
            ),
            ("batch-incomplete", "a task gone", c => c.Of("load", "dwell", "unload", "press", "shake").Select(c.Without)),
            (
                "batch-incomplete",
                "a task twice",
                c => c.Of("load", "dwell", "unload", "press", "shake").Select(t => c.More(Moved(t, 90_000)))
            ),
            ("batch-incomplete", "nobody in it", c => Loaded(c, 1).Select(b => c.Batch(b, x => x with { Places = [] }))),
            (
                "batch-incomplete",
                "nothing sprayed",
                c =>
                    c.Batches(BatchKinds.Round)
                        .Select(b => c with { Plan = c.Plan with { Batches = [.. c.Plan.Batches, b with { Id = "R999" }] } })
            ),
            ("length-wrong", "longer", c => Fixed(c).Select(t => c.Task(t, x => x with { EndS = x.EndS + 1 }))),
            (
                "length-wrong",
                "shorter",
                c => Fixed(c).Where(t => t.EndS - t.StartS > 1).Select(t => c.Task(t, x => x with { EndS = x.EndS - 1 }))
            ),
        ];

    private static IEnumerable<PlanTask> Fixed(Changed c) =>
        c.Bench().Concat(c.Of(TaskKinds.Spray, TaskKinds.Shake, TaskKinds.Load, TaskKinds.Unload, TaskKinds.Press));

    private static IEnumerable<Batch> Loaded(Changed c, int least) => c.Plan.Batches.Where(b => b.Places.Count >= least);

    private static Changed Twin(Changed c, Piece piece) =>
        c with
        {
            Day = c.Day with { Pieces = [.. c.Day.Pieces, piece with { Id = "twin" }] },
        };

    private static Changed LeftOut(Changed c, string piece) =>
        c with
        {
            Plan = c.Plan with { LeftOut = [new LeftOut(piece, "no time", "")] },
        };

    private static (string, string, Func<Changed, IEnumerable<Changed>>)[] Route =>
        [
            (
                "route-order",
                "before the step before",
                c => Followed(c).Select(f => c.Task(f.Next, x => Moved(x, f.Task.StartS - x.StartS)))
            ),
            ("rest-gap", "starts late", c => c.Of(TaskKinds.Rest).Select(t => c.Task(t, x => x with { StartS = x.StartS + 1 }))),
            ("rest-gap", "ends soon", c => c.Of(TaskKinds.Rest).Select(t => c.Task(t, x => x with { EndS = x.EndS - 1 }))),
            ("rest-gap", "ends late", c => c.Of(TaskKinds.Rest).Select(t => c.Task(t, x => x with { EndS = x.EndS + 1 }))),
            (
                "rest-too-short",
                "by a second",
                c => c.Of(TaskKinds.Rest).Select(t => c.Step(t, s => s with { MinS = Length(t) + 1, MaxS = null }))
            ),
            (
                "rest-too-long",
                "by a second",
                c => c.Of(TaskKinds.Rest).Select(t => c.Step(t, s => s with { MinS = 0, MaxS = Length(t) - 1 }))
            ),
            (
                "wait-too-long",
                "by a second",
                c =>
                    Followed(c)
                        .Where(f => f.Next.StartS > f.Task.EndS)
                        .Select(f => c.Step(f.Task, s => s with { MaxWaitS = f.Next.StartS - f.Task.EndS!.Value - 1 }))
            ),
            (
                "too-early",
                "by a second",
                c => c.Bench().Where(t => t.Step == 1).Select(t => c.Piece(t.Piece!, p => p with { EarliestS = t.StartS + 1 }))
            ),
            ("transfer-not-ready", "by a second", c => c.Of("tape").Select(t => c.Step(t, s => s with { ReadyS = t.StartS + 1 }))),
            (
                "after-piece",
                "another that ends later",
                c =>
                    Firsts(c)
                        .SelectMany(a =>
                            Firsts(c).Where(b => b.Piece != a.Piece).Select(b => c.Piece(a.Piece!, p => p with { After = [b.Piece!] }))
                        )
            ),
        ];

    private static int Length(PlanTask t) => t.EndS!.Value - t.StartS;

    private static IEnumerable<PlanTask> Firsts(Changed c) => c.Bench().Where(t => t.Step == 1 && t.StartS < 1_000).Take(4);

    /// <summary>Steps by hand that another step by hand of the same piece follows at once.</summary>
    private static IEnumerable<(PlanTask Task, PlanTask Next)> Followed(Changed c) =>
        from task in c.Bench()
        let next = c.Bench().FirstOrDefault(n => n.Piece == task.Piece && n.Step == task.Step + 1)
        where next is not null
        select (task, next);

    private static (string, string, Func<Changed, IEnumerable<Changed>>)[] People =>
        [
            ("person-missing", "attended", c => Fixed(c).Select(t => c.Task(t, x => x with { Person = null }))),
            (
                "person-not-wanted",
                "unattended",
                c => c.Of("rest", "dwell", "set point").Select(t => c.Task(t, x => x with { Person = c.Day.People[0].Id }))
            ),
            ("person-busy", "two tasks at once", c => Pairs(c).Select(p => c.Task(p.Later, x => Moved(x, p.First.StartS - x.StartS)))),
            (
                "person-absent",
                "comes a second late",
                c => Fixed(c).Select(t => c.Person(t.Person!, p => p with { Shifts = [new Shift(t.StartS + 1, 9_000_000, 9_000_000)] }))
            ),
            (
                "person-absent",
                "goes a second early",
                c =>
                    Fixed(c).Select(t => c.Person(t.Person!, p => p with { Shifts = [new Shift(-1, t.EndS!.Value - 1, t.EndS.Value - 1)] }))
            ),
            (
                "person-cannot",
                "skill gone",
                c => Fixed(c).Select(t => c.Person(t.Person!, p => p with { Can = [.. p.Can.Where(k => k != c.Station(t.Station).Kind)] }))
            ),
        ];

    private static IEnumerable<(PlanTask First, PlanTask Later)> Pairs(Changed c) =>
        c.Bench().GroupBy(t => t.Person).SelectMany(g => g.Zip(g.Skip(1)));

    private static (string, string, Func<Changed, IEnumerable<Changed>>)[] Stations =>
        [
            ("station-wrong", "another kind", c => c.Plan.Tasks.Select(t => c.Task(t, x => x with { Station = Other(c, x.Station) }))),
            ("station-busy", "bench too small", c => Crowded(c).Select(b => c.At<Bench>(b, x => x with { Places = 1 }))),
            ("station-busy", "set point in a load", c => c.Of(TaskKinds.Dwell).Select(t => c.More(SetPoint(c, t)))),
            (
                "station-busy",
                "two at once",
                c => c.Of(TaskKinds.Press, TaskKinds.Shake).Select(t => c.More(t with { StartS = t.StartS - 1, EndS = t.EndS - 1 }))
            ),
            ("station-busy", "two loads at once", c => c.Of(TaskKinds.Load).Skip(1).Select(t => Onto(c, c.Of(TaskKinds.Load).First(), t))),
            (
                "station-down",
                "one second",
                c =>
                    c.Plan.Tasks.Where(t => t.Kind != "set point")
                        .Select(t => c.At<Station>(t.Station, s => s with { Down = [new Span(t.StartS, t.StartS + 1)] }))
            ),
            (
                "rack-full",
                "no room",
                c => c.Of(TaskKinds.Rest).Select(t => c.At<Rack>(t.Station, r => r with { AreaUm2 = Area(c.Piece(t.Piece!), r) - 1 }))
            ),
            ("oven-hot", "held", c => Hot(c)),
        ];

    private static Changed Onto(Changed c, PlanTask first, PlanTask load) =>
        c with
        {
            Plan = c.Plan with
            {
                Tasks =
                [
                    .. c.Plan.Tasks.Select(t =>
                        t.Batch == load.Batch ? Moved(t, first.StartS - load.StartS) with { Station = first.Station } : t
                    ),
                ],
            },
        };

    private static string Other(Changed c, string station) => c.Day.Stations.First(s => s.Kind != c.Station(station).Kind).Id;

    private static IEnumerable<string> Crowded(Changed c) =>
        c.Bench()
            .Where(t => c.Bench().Any(o => o != t && o.Station == t.Station && o.StartS < t.EndS && t.StartS < o.EndS))
            .Select(t => t.Station)
            .Distinct();

    private static PlanTask SetPoint(Changed c, PlanTask dwell)
    {
        var held = c.Plan.Batches.First(b => b.Id == dwell.Batch).TenthsC!.Value + ((Oven)c.Station(dwell.Station)).Heat.ErrorTenthsC;
        return new PlanTask("set point", dwell.Station, null, dwell.StartS + 1, dwell.StartS + 9, FromTenthsC: held, ToTenthsC: held);
    }

    private static long Area(Piece p, Rack r) => (long)(p.WidthUm + r.GapUm) * (p.DepthUm + r.GapUm);

    // Where every oven counts as hot from far below zero, each spray beside one is beside a hot one.
    private static IEnumerable<Changed> Hot(Changed c) =>
        c
            .Day.Stations.OfType<Oven>()
            .SelectMany(o =>
                c.Of(TaskKinds.Spray)
                    .Select(t => t.Station)
                    .Distinct()
                    .Select(b =>
                        c.At<Oven>(o.Id, x => x with { HotAboveTenthsC = -1_000 }).At<Booth>(b, x => x with { SharesAirWith = [o.Id] })
                    )
            );
}
