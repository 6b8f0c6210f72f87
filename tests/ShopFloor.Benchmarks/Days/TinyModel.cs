using Google.OrTools.Sat;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Layout;

namespace ShopFloor.Benchmarks.Days;

/// <summary>What the solver says about a day.</summary>
/// <param name="Value">Value of its best plan; null when it found none.</param>
/// <param name="Bound">What no plan can go below.</param>
/// <param name="Proved">Whether the value is the optimum.</param>
/// <param name="Plan">Its best plan, for the checker.</param>
internal sealed record TinyAnswer(long? Value, double Bound, bool Proved, Plan? Plan);

/// <summary>
/// The whole day as one constraint model, written from the rules and sharing nothing with the planner but the day. For the ordinary seeded
/// days of up to <see cref="MostPieces"/> pieces, where some rules cannot bind and are therefore no part of the model: the rack is larger
/// than all pieces, benches have as many places as there are people, one can of each coating lasts, nothing is down, and all the pieces
/// lie in the oven together (asserted). Overtime is not used: it costs more a second than the second of lateness or finish it could save
/// while nothing is late.
/// </summary>
internal sealed partial class TinyModel
{
    /// <summary>Pieces that a day may have.</summary>
    public const int MostPieces = 6;

    private readonly Day day;
    private readonly CpModel model = new();
    private readonly int horizon;
    private readonly Person[] people;
    private readonly List<IntervalVar>[] busy;
    private readonly IntVar[][] start;
    private readonly IntVar[][] end;
    private readonly List<(LinearExpr What, long Points)> cost = [];
    private readonly IntVar finish;
    private readonly List<(Work Work, LinearExpr From, LinearExpr To, BoolVar[] By, BoolVar? Present)> attended = [];

    /// <summary>Which task an attended span is; a slot is the load's or session's.</summary>
    private sealed record Work(string Kind, string Station, int Piece = -1, int Step = -1, int Slot = -1);

    /// <summary>A node with the slot variables of what it may join.</summary>
    private sealed record Member(int Piece, int Step, BoolVar[] In);

    public TinyModel(Day day, int horizon)
    {
        (this.day, this.horizon) = (day, horizon);
        people = [.. day.People];
        busy = [.. people.Select(OffTimes)];
        start = [.. day.Pieces.Select(p => p.Route.Select(_ => model.NewIntVar(0, horizon, "")).ToArray())];
        end = [.. day.Pieces.Select(p => p.Route.Select(_ => model.NewIntVar(0, horizon, "")).ToArray())];
        finish = model.NewIntVar(0, horizon, "finish");
        cost.Add((finish, day.Weights.FinishS));
    }

    public TinyAnswer Solve(double seconds, int workers, long hint)
    {
        Routes();
        Sprays();
        foreach (var oven in day.Stations.OfType<Oven>().Take(1))
            Loads(oven);
        foreach (var press in day.Stations.OfType<Press>().Take(1))
            Sessions(press);
        foreach (var intervals in busy)
            model.AddNoOverlap(intervals);
        Lateness();
        var value = LinearExpr.WeightedSum(cost.Select(c => c.What), cost.Select(c => c.Points));
        model.Add(value <= hint);
        model.Minimize(value);
        var solver = new CpSolver
        {
            StringParameters = FormattableString.Invariant($"max_time_in_seconds:{seconds} num_workers:{workers} random_seed:1"),
        };
        var status = solver.Solve(model);
        var found = status is CpSolverStatus.Optimal or CpSolverStatus.Feasible;
        // Nothing at or below the value that was given: it is the optimum, or the model is wrong, which the caller can tell by the bound.
        if (status == CpSolverStatus.Infeasible)
            return new TinyAnswer(null, hint + 1, true, null);
        return new TinyAnswer(
            found ? (long)Math.Round(solver.ObjectiveValue) : null,
            solver.BestObjectiveBound,
            status == CpSolverStatus.Optimal,
            found ? Read(solver, (long)Math.Round(solver.ObjectiveValue)) : null
        );
    }

    private string Named(StationKind kind) => day.Stations.First(s => s.Kind == kind).Id;

    private List<IntervalVar> OffTimes(Person person)
    {
        var (off, from) = (new List<IntervalVar>(), 0);
        foreach (var shift in person.Shifts)
        {
            if (shift.FromS > from && from < horizon)
                off.Add(model.NewFixedSizeIntervalVar(from, Math.Min(shift.FromS, horizon + 1) - from, ""));
            from = shift.NormalToS;
        }
        if (from <= horizon)
            off.Add(model.NewFixedSizeIntervalVar(from, horizon + 100_000 - from, ""));
        return off;
    }

    /// <summary>One of the people does it, for its whole length.</summary>
    private BoolVar[] Attend(Work work, LinearExpr from, LinearExpr length, LinearExpr to, BoolVar? present = null)
    {
        BoolVar[] by = [.. people.Select(_ => model.NewBoolVar(""))];
        attended.Add((work, from, to, by, present));
        var kind = day.Stations.First(s => s.Id == work.Station).Kind;
        for (var p = 0; p < people.Length; p++)
            if (people[p].Can.Contains(kind))
                busy[p].Add(model.NewOptionalIntervalVar(from, length, to, by[p], ""));
            else
                model.Add(by[p] == 0);
        if (present is null)
        {
            model.AddExactlyOne(by);
            model.Add(finish >= to);
        }
        else
        {
            model.Add(LinearExpr.Sum(by) == 1).OnlyEnforceIf(present);
            model.Add(LinearExpr.Sum(by) == 0).OnlyEnforceIf(present.Not());
            model.Add(finish >= to).OnlyEnforceIf(present);
        }
        return by;
    }

    private void Routes()
    {
        for (var p = 0; p < day.Pieces.Count; p++)
        for (var k = 0; k < day.Pieces[p].Route.Count; k++)
        {
            var (piece, step) = (day.Pieces[p], day.Pieces[p].Route[k]);
            var (s, e) = (start[p][k], end[p][k]);
            if (k == 0)
                model.Add(s >= piece.EarliestS);
            else if (step.Kind == StepKind.Rest || piece.Route[k - 1].Kind == StepKind.Rest)
                model.Add(s == end[p][k - 1]);
            else
                model.Add(s >= end[p][k - 1]);
            if (k > 0 && piece.Route[k - 1].MaxWaitS is { } wait)
                model.Add(s <= end[p][k - 1] + wait);
            if (step.Kind == StepKind.Rest)
            {
                model.Add(e >= s + Math.Max(1, step.MinS));
                if (step.MaxS is { } most)
                    model.Add(e <= s + most);
            }
            else if (step.Station == StationKind.Bench)
            {
                model.Add(e == s + step.LengthS);
                model.Add(s >= step.ReadyS);
                Attend(new Work(TaskKinds.Of(step.Kind), Named(StationKind.Bench), p, k), s, LinearExpr.Constant(step.LengthS), e);
            }
        }
    }

    /// <summary>Sprays follow each other in the one booth; each joins the round before it or opens one with a shake.</summary>
    private void Sprays()
    {
        var all = Steps(s => s.Kind == StepKind.Spray);
        var by = new List<BoolVar[]>();
        var (shakes, news) = (new List<(IntVar Start, IntVar End)>(), new List<BoolVar>());
        foreach (var (p, k) in all)
        {
            var step = day.Pieces[p].Route[k];
            var coating = day.Coatings.First(c => c.Id == step.Coating);
            model.Add(end[p][k] == start[p][k] + step.LengthS);
            by.Add(
                Attend(new Work(TaskKinds.Spray, Named(StationKind.Booth), p, k), start[p][k], LinearExpr.Constant(step.LengthS), end[p][k])
            );
            var (from, to, opens) = (model.NewIntVar(0, horizon, ""), model.NewIntVar(0, horizon, ""), model.NewBoolVar(""));
            model.Add(to == from + coating.ShakeS);
            model.Add(start[p][k] >= to).OnlyEnforceIf(opens);
            model.Add(start[p][k] <= to + coating.ShakeAgainAfterS).OnlyEnforceIf(opens);
            var shaker = Attend(
                new Work(TaskKinds.Shake, Named(StationKind.Booth), p, k),
                from,
                LinearExpr.Constant(coating.ShakeS),
                to,
                opens
            );
            for (var w = 0; w < people.Length; w++)
                model.Add(shaker[w] == by[^1][w]).OnlyEnforceIf(opens);
            shakes.Add((from, to));
            news.Add(opens);
            cost.Add((opens, day.Weights.Shakes));
        }
        var circuit = model.AddCircuit();
        for (var j = 0; j < all.Count; j++)
        {
            var first = model.NewBoolVar("");
            circuit.AddArc(0, j + 1, first);
            circuit.AddArc(j + 1, 0, model.NewBoolVar(""));
            model.AddImplication(first, news[j]);
            for (var i = 0; i < all.Count; i++)
                if (i != j)
                    Follow(circuit, (i, j), all, by, shakes, news);
        }
    }

    private void Follow(
        CircuitConstraint circuit,
        (int I, int J) pair,
        List<(int Piece, int Step)> all,
        List<BoolVar[]> by,
        List<(IntVar Start, IntVar End)> shakes,
        List<BoolVar> news
    )
    {
        var (i, j) = pair;
        var (a, b) = (all[i], all[j]);
        var opened = model.NewBoolVar("");
        circuit.AddArc(i + 1, j + 1, opened);
        model.AddImplication(opened, news[j]);
        model.Add(shakes[j].Start >= end[a.Piece][a.Step]).OnlyEnforceIf(opened);
        var coating = day.Pieces[a.Piece].Route[a.Step].Coating;
        if (coating != day.Pieces[b.Piece].Route[b.Step].Coating)
            return;
        var joined = model.NewBoolVar("");
        circuit.AddArc(i + 1, j + 1, joined);
        model.AddImplication(joined, news[j].Not());
        var again = day.Coatings.First(c => c.Id == coating).ShakeAgainAfterS;
        model.Add(start[b.Piece][b.Step] >= end[a.Piece][a.Step]).OnlyEnforceIf(joined);
        model.Add(start[b.Piece][b.Step] <= end[a.Piece][a.Step] + again).OnlyEnforceIf(joined);
        for (var w = 0; w < people.Length; w++)
            model.Add(by[i][w] == by[j][w]).OnlyEnforceIf(joined);
    }

    private List<(int Piece, int Step)> Steps(Func<Step, bool> which) =>
        [
            .. Enumerable
                .Range(0, day.Pieces.Count)
                .SelectMany(p =>
                    Enumerable.Range(0, day.Pieces[p].Route.Count).Where(k => which(day.Pieces[p].Route[k])).Select(k => (p, k))
                ),
        ];

    private void Lateness()
    {
        for (var p = 0; p < day.Pieces.Count; p++)
        {
            var piece = day.Pieces[p];
            var (over, late) = (model.NewIntVar(0, horizon, ""), model.NewBoolVar(""));
            model.Add(over >= end[p][^1] - piece.PromiseS);
            model.Add(over == 0).OnlyEnforceIf(late.Not());
            cost.Add((over, day.Weights.LateS * piece.Weight));
            cost.Add((late, day.Weights.LatePieces));
        }
    }
}
