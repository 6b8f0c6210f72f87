using System.Diagnostics.CodeAnalysis;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Checking;

/// <summary>Ways to break the rules about set points, rounds, loads, sessions, places, what is given and the objective, for any plan.</summary>
internal static class WaysOfTheBatches
{
    public static IEnumerable<(string Rule, string Name, Func<Changed, IEnumerable<Changed>> Make)> All =>
        [.. SetPoints, .. Rounds, .. Heated, .. Places, .. Given];

    private static IEnumerable<PlanTask> Up(Changed c) => c.Of("set point").Where(t => t.ToTenthsC > t.FromTenthsC);

    private static Changed Heat(Changed c, string station, Func<Heat, Heat> change) =>
        c.At<HeatedStation>(station, s => s with { Heat = change(s.Heat) });

    private static (string, string, Func<Changed, IEnumerable<Changed>>)[] SetPoints =>
        [
            (
                "set-point-wrong",
                "from another",
                c => c.Of("set point").Select(t => c.Task(t, x => x with { FromTenthsC = x.FromTenthsC + 1 }))
            ),
            ("set-point-wrong", "to another", c => Up(c).Select(t => c.Task(t, x => x with { ToTenthsC = x.ToTenthsC + 1 }))),
            ("set-point-wrong", "load at another", c => Hot(c).Select(b => c.Batch(b, x => x with { TenthsC = x.TenthsC + 1 }))),
            ("set-point-wrong", "no change", c => Up(c).Select(c.Without)),
            (
                "set-point-too-fast",
                "heating",
                c => Up(c).Select(t => Heat(c, t.Station, h => h with { HeatingMilliCPerMin = Rate(t) - 1 }))
            ),
            ("set-point-too-fast", "cooling", c => Up(c).Select(t => c.More(SwitchedOff(c, t.Station)))),
        ];

    /// <summary>The slowest rate at which a change is still fast enough, rounded down.</summary>
    private static int Rate(PlanTask t) =>
        (int)(60L * 100 * Math.Abs(t.ToTenthsC!.Value - t.FromTenthsC!.Value) / (t.EndS!.Value - t.StartS));

    /// <summary>Off after the last work, and cold a second later.</summary>
    private static PlanTask SwitchedOff(Changed c, string station)
    {
        var (held, end) = (
            c.Of("set point").Last(t => t.Station == station).ToTenthsC,
            c.Plan.Tasks.Where(t => t.Station == station).Max(t => t.EndS!.Value)
        );
        return new PlanTask("set point", station, null, end, end + 1, FromTenthsC: held, ToTenthsC: c.Day.RoomTenthsC);
    }

    private static IEnumerable<Batch> Hot(Changed c) => c.Plan.Batches.Where(b => b.Places.Count > 0);

    private static IEnumerable<PlanTask> Sprays(Changed c, Batch round) => c.Of(TaskKinds.Spray).Where(t => t.Batch == round.Id);

    private static (string, string, Func<Changed, IEnumerable<Changed>>)[] Rounds =>
        [
            (
                "round-mixed",
                "people",
                c =>
                    c.Of(TaskKinds.Spray)
                        .Where(_ => c.Day.People.Count > 1)
                        .Select(t => c.Task(t, x => x with { Person = c.Day.People.First(p => p.Id != x.Person).Id }))
            ),
            (
                "round-mixed",
                "coating",
                c => c.Batches(BatchKinds.Round).Where(_ => c.Day.Coatings.Count > 1).Select(b => c.Batch(b, x => Recoated(c, x)))
            ),
            ("round-mixed", "something between", c => c.Batches(BatchKinds.Round).Select(b => c.More(Between(c, b)))),
            ("round-mixed", "two booths", c => c.Of(TaskKinds.Spray).Select(t => TwoBooths(c, t))),
            (
                "round-unshaken",
                "shake last",
                c =>
                    c.Of(TaskKinds.Shake)
                        .Select(t =>
                            c.Task(t, x => After(x, Sprays(c, c.Plan.Batches.First(b => b.Id == x.Batch)).Max(s => s.EndS!.Value)))
                        )
            ),
            (
                "round-unshaken",
                "long pause",
                c =>
                    c.Batches(BatchKinds.Round)
                        .Select(b =>
                            c.Task(
                                Sprays(c, b).Last(),
                                x => After(x, x.StartS + c.Day.Coatings.First(k => k.Id == b.Coating).ShakeAgainAfterS + 1)
                            )
                        )
            ),
            (
                "can-empty",
                "by one",
                c => c.Batches(BatchKinds.Round).Select(b => c.Can(b, k => k with { LeftUl = Sprays(c, b).Sum(t => c.StepOf(t).Ul) - 1 }))
            ),
            (
                "can-expired",
                "by a second",
                c => c.Batches(BatchKinds.Round).Select(b => c.Can(b, k => k with { UseByS = Sprays(c, b).Max(t => t.EndS!.Value) - 1 }))
            ),
        ];

    private static PlanTask After(PlanTask t, int at) => t with { StartS = at, EndS = at + (t.EndS - t.StartS) };

    private static Batch Recoated(Changed c, Batch round)
    {
        var other = c.Day.Coatings.First(k => k.Id != round.Coating && k.Cans.Count > 0);
        return round with { Coating = other.Id, Can = other.Cans[0].Id };
    }

    private static PlanTask Between(Changed c, Batch round)
    {
        var shake = c.TaskOf(round.Id, TaskKinds.Shake);
        return shake with { StartS = shake.StartS + 1, EndS = shake.StartS + 2, Batch = c.Plan.Batches.First(b => b.Id != round.Id).Id };
    }

    private static Changed TwoBooths(Changed c, PlanTask spray)
    {
        var booth = c.Station(spray.Station);
        var more = c with { Day = c.Day with { Stations = [.. c.Day.Stations, booth with { Id = "booth-more" }] } };
        return more.Task(spray, x => x with { Station = "booth-more" });
    }

    private static IEnumerable<(Batch Batch, Place Place)> Members(Changed c, int least, string? kind = null) =>
        c.Plan.Batches.Where(b => b.Places.Count >= least && (kind is null || b.Kind == kind)).Select(b => (b, b.Places[^1]));

    private static Changed Member(Changed c, Place place, Func<Step, Step> change) => c.Step(place.Piece, place.Step, change);

    private static int Dwell(Changed c, Batch batch) =>
        batch.PressS ?? (c.TaskOf(batch.Id, TaskKinds.Dwell).EndS!.Value - c.TaskOf(batch.Id, TaskKinds.Dwell).StartS);

    private static Changed Where(Changed c, Batch batch, Func<Heat, int, Heat> change)
    {
        var station = (HeatedStation)c.Station(c.Plan.Tasks.First(t => t.Batch == batch.Id).Station);
        return Heat(c, station.Id, h => change(h, batch.TenthsC!.Value + h.ErrorTenthsC));
    }

    [SuppressMessage("Design", "MA0051:Method is too long", Justification = "A list of ways to break rules, one after the other.")]
    private static (string, string, Func<Changed, IEnumerable<Changed>>)[] Heated =>
        [
            ("temperature-out", "too hot", c => Hot(c).Select(b => Where(c, b, (h, dial) => h with { HighestTenthsC = dial - 1 }))),
            ("temperature-out", "too cold", c => Hot(c).Select(b => Where(c, b, (h, dial) => h with { LowestTenthsC = dial + 1 }))),
            (
                "temperature-mixed",
                "by a tenth",
                c => Members(c, 2).Select(m => Member(c, m.Place, s => s with { TenthsC = s.TenthsC + 1 }))
            ),
            (
                "temperature-mixed",
                "cure with dry",
                c =>
                    Members(c, 2, BatchKinds.Load)
                        .Select(m => Member(c, m.Place, s => s with { Kind = s.Kind == StepKind.Cure ? StepKind.Dry : StepKind.Cure }))
            ),
            (
                "dwell-outside",
                "too short",
                c => Members(c, 1).Select(m => Member(c, m.Place, s => s with { MinS = Dwell(c, m.Batch) + 1, MaxS = 90_000 }))
            ),
            (
                "dwell-outside",
                "too long",
                c => Members(c, 1).Select(m => Member(c, m.Place, s => s with { MinS = 1, MaxS = Dwell(c, m.Batch) - 1 }))
            ),
            ("oven-opened", "before the dwell", c => c.Of(TaskKinds.Dwell).Select(t => c.Task(t, x => x with { StartS = x.StartS + 1 }))),
            ("oven-opened", "after the dwell", c => c.Of(TaskKinds.Dwell).Select(t => c.Task(t, x => x with { EndS = x.EndS - 1 }))),
            ("oven-opened", "another oven", c => c.Of(TaskKinds.Unload).Select(t => OtherOven(c, t))),
            (
                "oven-too-heavy",
                "weak heater",
                c =>
                    Members(c, 1, BatchKinds.Load)
                        .Select(m =>
                            Member(c, m.Place, s => s with { HeatJ = 1_000_000_000 })
                                .At<Oven>(c.TaskOf(m.Batch.Id, TaskKinds.Load).Station, o => o with { HeaterW = 1 })
                        )
            ),
            (
                "oven-vapour",
                "by a milligram",
                c =>
                    Members(c, 1, BatchKinds.Load)
                        .Select(m =>
                            Member(c, m.Place, s => s with { VapourMg = 5_001 })
                                .At<Oven>(c.TaskOf(m.Batch.Id, TaskKinds.Load).Station, o => o with { VapourLimitMg = 5_000 })
                        )
            ),
            (
                "press-mixed",
                "pressure",
                c => Members(c, 1, BatchKinds.Session).Select(m => Member(c, m.Place, s => s with { Pressure = "none" }))
            ),
            (
                "press-mixed",
                "lay-up",
                c => Members(c, 1, BatchKinds.Session).Select(m => Member(c, m.Place, s => s with { LayUp = "none" }))
            ),
            (
                "press-thickness",
                "limit",
                c => Members(c, 1, BatchKinds.Session).Select(m => c.Piece(m.Place.Piece, p => p with { ThicknessUm = 90_000_000 }))
            ),
            ("press-thickness", "tolerance", c => Members(c, 2, BatchKinds.Session).Select(m => Thicker(c, m.Batch))),
        ];

    private static Changed OtherOven(Changed c, PlanTask unload)
    {
        var more = c with { Day = c.Day with { Stations = [.. c.Day.Stations, c.Station(unload.Station) with { Id = "oven-more" }] } };
        return more.Task(unload, x => x with { Station = "oven-more" });
    }

    private static Changed Thicker(Changed c, Batch session)
    {
        var press = (Press)c.Station(c.TaskOf(session.Id, TaskKinds.Press).Station);
        var thinnest = session.Places.Min(p => c.Piece(p.Piece).ThicknessUm);
        var last = session.Places.MaxBy(p => c.Piece(p.Piece).ThicknessUm)!;
        return c.Piece(last.Piece, p => p with { ThicknessUm = thinnest + press.ThicknessToleranceUm + 1 })
            .At<Press>(press.Id, p => p with { ThickestUm = 90_000_000 });
    }

    private static (string, string, Func<Changed, IEnumerable<Changed>>)[] Places =>
        [
            ("place-outside", "left", c => Hot(c).Select(b => c.Place(b, 0, p => p with { XUm = 0 })).Where(_ => Margins(c))),
            ("place-outside", "front", c => Hot(c).Select(b => c.Place(b, 0, p => p with { YUm = 0 })).Where(_ => Margins(c))),
            ("place-outside", "right", c => Hot(c).Select(b => c.Place(b, 0, p => p with { XUm = 90_000_000 }))),
            ("place-outside", "back", c => Hot(c).Select(b => c.Place(b, 0, p => p with { YUm = 90_000_000 }))),
            (
                "place-overlap",
                "on another",
                c =>
                    Members(c, 2)
                        .Select(m => c.Place(m.Batch, 0, p => p with { Shelf = m.Place.Shelf, XUm = m.Place.XUm, YUm = m.Place.YUm }))
            ),
            (
                "place-too-high",
                "shelf",
                c => Members(c, 1, BatchKinds.Load).Select(m => c.Piece(m.Place.Piece, p => p with { ThicknessUm = 90_000_000 }))
            ),
            (
                "place-turned",
                "not allowed",
                c =>
                    Hot(c)
                        .Select(b => c.Piece(b.Places[0].Piece, p => p with { MayTurn = false }).Place(b, 0, p => p with { Turned = true }))
            ),
        ];

    private static bool Margins(Changed c) => c.Day.Stations.OfType<HeatedStation>().All(s => s.MarginUm > 0);

    private static (string, string, Func<Changed, IEnumerable<Changed>>)[] Given =>
        [
            (
                "running-moved",
                "another end",
                c =>
                    c.Bench()
                        .Where(t => t.StartS == 0)
                        .Select(t => c with { Day = c.Day with { Running = new Running([t with { EndS = t.EndS + 1 }], []) } })
            ),
            (
                "running-moved",
                "another person",
                c =>
                    c.Bench()
                        .Where(t => t.StartS == 0)
                        .Select(t => c with { Day = c.Day with { Running = new Running([t with { Person = "gone" }], []) } })
            ),
            (
                "running-moved",
                "another station",
                c =>
                    c.Bench()
                        .Where(t => t.StartS == 0)
                        .Select(t => c with { Day = c.Day with { Running = new Running([t with { Station = "gone" }], []) } })
            ),
            (
                "running-moved",
                "batch changed",
                c => Hot(c).Select(b => c with { Day = c.Day with { Running = new Running([], [b with { TenthsC = b.TenthsC + 1 }]) } })
            ),
            (
                "running-moved",
                "member taken out",
                c =>
                    Hot(c)
                        .Select(b => c with { Day = c.Day with { Running = new Running([], [b with { Places = [.. b.Places.Skip(1)] }]) } })
            ),
            ("pin-broken", "not before", c => c.Bench().Select(t => c.Pin(t, s => new Pin(s, NotBeforeS: t.StartS + 1)))),
            ("pin-broken", "at", c => c.Bench().Select(t => c.Pin(t, s => new Pin(s, AtS: t.StartS + 1)))),
            ("pin-broken", "station", c => c.Bench().Select(t => c.Pin(t, s => new Pin(s, Station: "elsewhere")))),
            (
                "pin-broken",
                "with",
                c => c.Bench().Select(t => c.Pin(t, s => new Pin(s, With: c.Day.Pieces.First(p => p.Id != t.Piece).Id)))
            ),
            (
                "objective-wrong",
                "value",
                c => [c with { Plan = c.Plan with { Objective = c.Plan.Objective with { Value = c.Plan.Objective.Value - 1 } } }]
            ),
            ("objective-wrong", "amount", c => Objective.Names.Select(n => c.Part(n, p => p with { Amount = p.Amount + 1 }))),
            ("objective-wrong", "points", c => Objective.Names.Select(n => c.Part(n, p => p with { Points = p.Points + 1 }))),
            (
                "bound-wrong",
                "sum",
                c => [c with { Plan = c.Plan with { Objective = c.Plan.Objective with { Bound = c.Plan.Objective.Bound + 1 } } }]
            ),
            ("bound-wrong", "above its points", c => Objective.Names.Select(n => c.Part(n, p => p with { Bound = p.Points + 1 }))),
        ];
}
