using Google.OrTools.Sat;

namespace ShopFloor.Planning.Loads;

/// <summary>
/// The load problem for the constraint solver. Jobs are numbered by falling shortest dwell, and the lowest-numbered job of a load leads it,
/// so that a load's dwell is its leader's, a constant. One circuit per oven orders the loads; the last arc of a circuit may lead to a load
/// that stays as it is, which lets a window of a larger plan be solved.
/// </summary>
internal sealed class LoadSolver
{
    private readonly CpModel cp = new();
    private readonly LoadModel model;
    private readonly LoadWindow window;
    private readonly int[] jobs;
    private readonly BoolVar?[,] inLoad;
    private readonly IntVar[] start;
    private readonly BoolVar?[,] onOven;
    private readonly List<(BoolVar Literal, int From, int To, int Oven)> arcs = [];
    private readonly LinearExprBuilder objective = LinearExpr.NewBuilder();

    public LoadSolver(LoadModel model, LoadWindow window)
    {
        this.model = model;
        this.window = window;
        jobs = [.. window.Jobs.OrderByDescending(j => model.MinDwell[j]).ThenBy(j => j)];
        inLoad = new BoolVar[jobs.Length, jobs.Length];
        onOven = new BoolVar[jobs.Length, model.M];
        var horizon = window.Ovens.SelectMany(o => o.Available).Select(s => s.To).DefaultIfEmpty(0).Max();
        start = [.. jobs.Select((_, k) => cp.NewIntVar(0, horizon, $"s{k}"))];
        AddMembership();
        for (var o = 0; o < model.M; o++)
            AddOven(o);
        AddLateness();
        cp.Minimize(objective);
    }

    /// <summary>Solves from a plan of the same jobs.</summary>
    /// <param name="warm">Loads of exactly these jobs, by the model's job numbers.</param>
    /// <param name="parameters">Solver parameters.</param>
    /// <param name="cancel">Ends the search early.</param>
    /// <returns>The loads, or null when nothing was found, and whether it is proven that no plan is cheaper.</returns>
    public (List<PlannedLoad>? Loads, bool Proven, double Bound) Solve(
        IReadOnlyList<PlannedLoad> warm,
        string parameters,
        CancellationToken cancel
    )
    {
        Hint(warm);
        using var solver = new CpSolver { StringParameters = parameters };
        using var stop = cancel.Register(solver.StopSearch);
        var status = solver.Solve(cp);
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
            return (null, false, double.NegativeInfinity);
        return (Read(solver), status is CpSolverStatus.Optimal, solver.BestObjectiveBound);
    }

    private void AddMembership()
    {
        for (var i = 0; i < jobs.Length; i++)
        {
            var leaders = new List<ILiteral>();
            for (var l = 0; l <= i; l++)
            {
                if (i != l && !MayShare(jobs[l], jobs[i]))
                    continue;
                var literal = cp.NewBoolVar($"x{i}_{l}");
                inLoad[i, l] = literal;
                leaders.Add(literal);
                if (i != l)
                    cp.AddImplication(literal, inLoad[l, l]!);
                cp.Add(start[l] >= model.Release[jobs[i]]).OnlyEnforceIf(literal);
            }
            cp.AddExactlyOne(leaders);
            objective.AddTerm(inLoad[i, i]!, model.DwellPrice * model.MinDwell[jobs[i]] + model.LoadPrice);
        }
    }

    private bool MayShare(int leader, int j) =>
        model.Family[leader] == model.Family[j]
        && model.MaxDwell[j] >= model.MinDwell[leader]
        && (model.Eligible[leader] & model.Eligible[j]) != 0;

    private void AddOven(int o)
    {
        var graph = cp.AddCircuit();
        var oven = window.Ovens[o];
        var intervals = new List<IntervalVar>();
        var empty = cp.NewBoolVar($"e{o}");
        graph.AddArc(0, 0, empty);
        AddEnd(oven, oven.First, oven.From, empty);
        for (var l = 0; l < jobs.Length; l++)
        {
            if (((model.Eligible[jobs[l]] >> o) & 1) == 0)
                continue;
            var here = cp.NewBoolVar($"y{l}_{o}");
            onOven[l, o] = here;
            cp.AddImplication(here, empty.Not());
            graph.AddArc(l + 1, l + 1, here.Not());
            intervals.Add(cp.NewOptionalFixedSizeIntervalVar(start[l], model.MinDwell[jobs[l]], here, $"i{l}_{o}"));
            AddMembersOn(o, l, here);
            var setup = AddArcsTo(graph, o, l, here);
            AddAvailability(oven, o, l, here, setup);
        }
        cp.AddNoOverlap(intervals);
    }

    private void AddMembersOn(int o, int l, BoolVar here)
    {
        var load = LinearExpr.NewBuilder();
        for (var i = l; i < jobs.Length; i++)
        {
            if (inLoad[i, l] is not { } member)
                continue;
            if (((model.Eligible[jobs[i]] >> o) & 1) == 0)
                cp.AddBoolOr([member.Not(), here.Not()]);
            load.AddTerm(member, model.Size[jobs[i]]);
        }
        cp.Add(load <= model.Capacity[o]).OnlyEnforceIf(here);
    }

    private LinearExpr AddArcsTo(CircuitConstraint graph, int o, int l, BoolVar here)
    {
        var oven = window.Ovens[o];
        var setup = LinearExpr.NewBuilder();
        void Arc(int from, int fromFamily)
        {
            var literal = cp.NewBoolVar($"a{o}_{from}_{l}");
            graph.AddArc(from + 1, l + 1, literal);
            arcs.Add((literal, from, l, o));
            var pair = fromFamily * model.A + model.Family[jobs[l]];
            setup.AddTerm(literal, model.SetupTime[pair]);
            objective.AddTerm(literal, model.SetupPrice[pair]);
            var ready = from < 0 ? LinearExpr.Constant(oven.From) : start[from] + model.MinDwell[jobs[from]];
            cp.Add(start[l] >= ready + model.SetupTime[pair]).OnlyEnforceIf(literal);
        }
        Arc(-1, oven.First);
        for (var from = 0; from < jobs.Length; from++)
            if (from != l && ((model.Eligible[jobs[from]] >> o) & 1) != 0)
                Arc(from, model.Family[jobs[from]]);
        var last = cp.NewBoolVar($"a{o}_{l}_end");
        graph.AddArc(l + 1, 0, last);
        arcs.Add((last, l, -1, o));
        AddEnd(oven, model.Family[jobs[l]], start[l] + model.MinDwell[jobs[l]], last);
        cp.AddImplication(last, here);
        return setup;
    }

    // The load after the window keeps its start: the set-up to it must find room.
    private void AddEnd(LoadWindow.Oven oven, int family, LinearExpr end, BoolVar literal)
    {
        if (oven.Next < 0)
            return;
        var pair = family * model.A + oven.Next;
        objective.AddTerm(literal, model.SetupPrice[pair]);
        cp.Add(end + model.SetupTime[pair] <= oven.NextStart).OnlyEnforceIf(literal);
        if (oven.NextStart - model.SetupTime[pair] < oven.NextFrom)
            cp.Add(literal == 0);
    }

    private void AddEnd(LoadWindow.Oven oven, int family, int end, BoolVar literal) =>
        AddEnd(oven, family, LinearExpr.Constant(end), literal);

    private void AddAvailability(LoadWindow.Oven oven, int o, int l, BoolVar here, LinearExpr setup)
    {
        var chosen = new List<BoolVar>();
        foreach (var (from, to) in oven.Available)
        {
            var literal = cp.NewBoolVar($"v{l}_{o}_{from}");
            chosen.Add(literal);
            cp.Add(start[l] >= setup + from).OnlyEnforceIf(literal);
            cp.Add(start[l] <= to - model.MinDwell[jobs[l]]).OnlyEnforceIf(literal);
        }
        cp.Add(LinearExpr.Sum(chosen) == here);
    }

    private void AddLateness()
    {
        for (var l = 0; l < jobs.Length; l++)
        {
            var here = Enumerable.Range(0, model.M).Select(o => onOven[l, o]).OfType<BoolVar>().ToArray();
            cp.Add(LinearExpr.Sum(here) == inLoad[l, l]!);
        }
        for (var i = 0; i < jobs.Length; i++)
        {
            var (j, late) = (jobs[i], cp.NewBoolVar($"t{i}"));
            objective.AddTerm(late, model.LatePrice);
            var over = model.CountsLateness ? cp.NewIntVar(0, int.MaxValue / 2, $"o{i}") : null;
            if (over is not null)
                objective.AddTerm(over, model.LateWeight[j]);
            for (var l = 0; l <= i; l++)
            {
                if (inLoad[i, l] is not { } member)
                    continue;
                var latest = model.Due[j] - model.MinDwell[jobs[l]];
                cp.Add(start[l] <= latest).OnlyEnforceIf([member, late.Not()]);
                if (over is not null)
                    cp.Add(over >= start[l] - latest).OnlyEnforceIf(member);
            }
        }
    }

    private void Hint(IReadOnlyList<PlannedLoad> warm)
    {
        var number = jobs.Select((j, i) => (j, i)).ToDictionary(p => p.j, p => p.i);
        var leaderOf = new int[jobs.Length];
        var ovenOf = new Dictionary<int, int>();
        var next = new HashSet<(int Oven, int From, int To)>();
        foreach (var oven in warm.GroupBy(w => w.Oven))
        {
            var before = -1;
            foreach (var load in oven.OrderBy(w => w.Start))
            {
                var leader = load.Jobs.Min(j => number[j]);
                foreach (var j in load.Jobs)
                    leaderOf[number[j]] = leader;
                cp.AddHint(start[leader], load.Start);
                ovenOf[leader] = load.Oven;
                next.Add((load.Oven, before, leader));
                before = leader;
            }
            next.Add((oven.Key, before, -1));
        }
        for (var i = 0; i < jobs.Length; i++)
        {
            for (var l = 0; l <= i; l++)
                if (inLoad[i, l] is { } member)
                    cp.AddHint(member, leaderOf[i] == l);
            for (var o = 0; o < model.M; o++)
                if (onOven[i, o] is { } here)
                    cp.AddHint(here, ovenOf.TryGetValue(i, out var at) && at == o);
        }
        foreach (var (literal, from, to, o) in arcs)
            cp.AddHint(literal, next.Contains((o, from, to)));
    }

    private List<PlannedLoad> Read(CpSolver solver)
    {
        var loads = new List<PlannedLoad>();
        for (var l = 0; l < jobs.Length; l++)
        {
            if (!solver.BooleanValue(inLoad[l, l]!))
                continue;
            var o = Enumerable.Range(0, model.M).First(k => onOven[l, k] is { } here && solver.BooleanValue(here));
            var at = (int)solver.Value(start[l]);
            var members = Enumerable
                .Range(l, jobs.Length - l)
                .Where(i => inLoad[i, l] is { } m && solver.BooleanValue(m))
                .Select(i => jobs[i])
                .Order();
            loads.Add(new(o, model.Family[jobs[l]], at, at + model.MinDwell[jobs[l]], [.. members]));
        }
        return [.. loads.OrderBy(l => l.Oven).ThenBy(l => l.Start)];
    }
}

/// <summary>A part of a plan to be solved anew while the rest stays.</summary>
/// <param name="Jobs">The jobs to plan, by the model's numbers.</param>
/// <param name="Ovens">What each oven leaves for them.</param>
internal sealed record LoadWindow(IReadOnlyList<int> Jobs, IReadOnlyList<LoadWindow.Oven> Ovens)
{
    /// <summary>What is left of an oven.</summary>
    /// <param name="First">Family before the window.</param>
    /// <param name="From">End of the load before it.</param>
    /// <param name="Available">Intervals.</param>
    /// <param name="Next">Family of the load after it, or −1.</param>
    /// <param name="NextStart">Start of that load.</param>
    /// <param name="NextFrom">Begin of the interval in which that load lies.</param>
    internal sealed record Oven(int First, int From, IReadOnlyList<Span> Available, int Next, int NextStart, int NextFrom);

    /// <summary>The whole problem as one window.</summary>
    public static LoadWindow Whole(LoadModel model) =>
        new([.. Enumerable.Range(0, model.N)], [.. model.Problem.Ovens.Select(o => new Oven(o.FirstFamily, 0, o.Available, -1, 0, 0))]);
}
