using Google.OrTools.Sat;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Layout;
using Place = ShopFloor.Planning.Exchange.Place;

namespace ShopFloor.Benchmarks.Days;

/// <summary>The solver's answer as a plan, so that the checker can judge the model too.</summary>
internal sealed partial class TinyModel
{
    private readonly List<IntVar> pressedIn = [];
    private FitCheck? ovenTask;
    private FitCheck? platen;
    private Member[] loads = [];
    private Member[] sessions = [];

    private Plan Read(CpSolver solver, long value)
    {
        var (tasks, batches) = (new List<PlanTask>(), new List<Batch>());
        Rests(solver, tasks);
        Rounds(solver, tasks, batches);
        foreach (var (work, from, to, by, present) in attended)
        {
            if (work.Kind is TaskKinds.Shake or TaskKinds.Spray || (present is not null && !solver.BooleanValue(present)))
                continue;
            var task = new PlanTask(work.Kind, work.Station, Who(solver, by), At(solver, from), At(solver, to));
            tasks.Add(
                work.Slot < 0
                    ? task with
                    {
                        Piece = day.Pieces[work.Piece].Id,
                        Step = work.Step + 1,
                    }
                    : task with
                    {
                        Batch = (work.Kind == TaskKinds.Press ? "S" : "L") + (work.Slot + 1).ToString(CultureInfo.InvariantCulture),
                    }
            );
        }
        foreach (var task in tasks.ToList())
            if (task.Kind == TaskKinds.Load)
                Load(solver, task, tasks, batches);
            else if (task.Kind == TaskKinds.Press)
                Session(solver, task, batches);
        foreach (var station in day.Stations.OfType<HeatedStation>())
            Changes(station, tasks, batches);
        return new Plan(
            Fingerprint.Sha256(DayWriter.Write(day)),
            [
                .. tasks
                    .OrderBy(t => t.StartS)
                    .ThenBy(t => t.EndS)
                    .ThenBy(t => t.Station, StringComparer.Ordinal)
                    .ThenBy(t => t.Piece, StringComparer.Ordinal),
            ],
            batches,
            [],
            [],
            new Objective(value, 0, [.. Objective.Names.Select(n => new ObjectivePart(n, 0, 0, 0))]),
            [],
            new SearchNote("constraint model", 1, null, null, 0, false),
            0
        );
    }

    private static int At(CpSolver solver, LinearExpr time) => (int)solver.Value(time);

    private string Who(CpSolver solver, BoolVar[] by) => people[Array.FindIndex(by, b => solver.BooleanValue(b))].Id;

    private void Rests(CpSolver solver, List<PlanTask> tasks)
    {
        foreach (var (p, k) in Steps(s => s.Kind == StepKind.Rest))
            tasks.Add(
                new PlanTask(
                    TaskKinds.Rest,
                    Named(StationKind.Rack),
                    null,
                    At(solver, start[p][k]),
                    At(solver, end[p][k]),
                    day.Pieces[p].Id,
                    k + 1
                )
            );
    }

    private void Rounds(CpSolver solver, List<PlanTask> tasks, List<Batch> batches)
    {
        var round = "";
        foreach (var (work, from, to, by, _) in attended.Where(a => a.Work.Kind == TaskKinds.Spray).OrderBy(a => At(solver, a.From)))
        {
            var (piece, step) = (day.Pieces[work.Piece], work.Step);
            var shake = attended.First(a => a.Work.Kind == TaskKinds.Shake && (a.Work.Piece, a.Work.Step) == (work.Piece, step));
            if (solver.BooleanValue(shake.Present!))
            {
                var coating = day.Coatings.First(c => c.Id == piece.Route[step].Coating);
                round = FormattableString.Invariant($"R{batches.Count + 1}");
                batches.Add(new Batch(round, BatchKinds.Round) { Coating = coating.Id, Can = coating.Cans[0].Id });
                var (begun, over) = (At(solver, shake.From), At(solver, shake.To));
                tasks.Add(new PlanTask(TaskKinds.Shake, work.Station, Who(solver, shake.By), begun, over, Batch: round));
            }
            var (at, end1) = (At(solver, from), At(solver, to));
            tasks.Add(new PlanTask(TaskKinds.Spray, work.Station, Who(solver, by), at, end1, piece.Id, step + 1, round));
        }
    }

    private void Load(CpSolver solver, PlanTask load, List<PlanTask> tasks, List<Batch> batches)
    {
        var unload = tasks.First(t => t.Kind == TaskKinds.Unload && t.Batch == load.Batch);
        tasks.Add(new PlanTask(TaskKinds.Dwell, load.Station, null, load.EndS!.Value, unload.StartS, Batch: load.Batch));
        var inside = Inside(solver, loads, Slot(load));
        batches.Add(new Batch(load.Batch!, BatchKinds.Load) { TenthsC = Of(inside[0]).TenthsC, Places = Lay(ovenTask!, inside, true) });
    }

    private void Session(CpSolver solver, PlanTask press, List<Batch> batches)
    {
        var inside = Inside(solver, sessions, Slot(press));
        batches.Add(
            new Batch(press.Batch!, BatchKinds.Session)
            {
                TenthsC = Of(inside[0]).TenthsC,
                PressS = (int)solver.Value(pressedIn[Slot(press)]),
                Pressure = Of(inside[0]).Pressure,
                LayUp = Of(inside[0]).LayUp,
                Places = Lay(platen!, inside, false),
            }
        );
    }

    private static int Slot(PlanTask task) => int.Parse(task.Batch![1..], CultureInfo.InvariantCulture) - 1;

    private static Member[] Inside(CpSolver solver, Member[] members, int slot) => [.. members.Where(m => solver.BooleanValue(m.In[slot]))];

    private List<Place> Lay(FitCheck fits, Member[] members, bool onShelf) =>
        [
            .. fits.TryPlace([.. members.Select(m => m.Piece)])!
                .Select(p => new Place(
                    day.Pieces[p.Piece].Id,
                    members.First(m => m.Piece == p.Piece).Step + 1,
                    onShelf ? p.Surface + 1 : null,
                    p.X,
                    p.Y,
                    p.Turned
                )),
        ];

    /// <summary>Set points change just before they are needed; the model left the time for it.</summary>
    private static void Changes(HeatedStation station, List<PlanTask> tasks, List<Batch> batches)
    {
        var held = station.Heat.NowTenthsC;
        var uses = tasks.Where(t => t.Station == station.Id && t.Kind is TaskKinds.Load or TaskKinds.Press).OrderBy(t => t.StartS).ToList();
        foreach (var use in uses)
        {
            var wanted = batches.First(b => b.Id == use.Batch).TenthsC!.Value;
            if (wanted == held)
                continue;
            var from = use.StartS - ChangeS(station, held, wanted);
            tasks.Add(new PlanTask(TaskKinds.SetPoint, station.Id, null, from, use.StartS, FromTenthsC: held, ToTenthsC: wanted));
            held = wanted;
        }
    }

    private static int ChangeS(HeatedStation station, int from, int to)
    {
        var rate = to > from ? station.Heat.HeatingMilliCPerMin : station.Heat.CoolingMilliCPerMin;
        return (int)(((6000L * Math.Abs(to - from)) + rate - 1) / rate);
    }
}
