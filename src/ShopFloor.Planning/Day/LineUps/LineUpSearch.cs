using ShopFloor.Planning.Checking;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Betters finished plans by annealing on their line-ups (S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, Science 220, 1983). The decoder
/// gives work to whoever is free first, group after group; here who does what, who comes first and who shares a round, a load or a session are
/// tried each by itself.</summary>
internal sealed class LineUpSearch
{
    private const double Warm = 300;
    private const double Cold = 10;

    private readonly LineUpShop at;
    private readonly LineUpTimes times;
    private readonly LineUpCost cost;
    private readonly LineUpRoom room;
    private readonly LineUpMoves moves;
    private readonly SeededRandom random;
    private readonly Plan plan;
    private readonly LineUp best;
    private LineUp current;
    private LineUp trial;
    private bool found;

    private LineUpSearch(LineUpShop at, LineUp line, Plan plan, ulong seed)
    {
        (this.at, this.plan, current) = (at, plan, line);
        (times, cost, room, random) = (new LineUpTimes(at), new LineUpCost(at), new LineUpRoom(at, plan), new SeededRandom(seed));
        moves = new LineUpMoves(at, random);
        (trial, best) = (new LineUp(at), new LineUp(at));
    }

    /// <summary>A search that begins with a plan; null where times follow from more than a line-up says.</summary>
    private static LineUpSearch? Of(Workroom room, Plan plan, ulong seed)
    {
        if (!LineUpShop.Suits(room.Shop))
            return null;
        var day = new LineUpShop(room, plan);
        return LineUpReader.Read(day, plan) is { } line ? new LineUpSearch(day, line, plan, seed) : null;
    }

    /// <summary>The best plan that can be made of some.</summary>
    /// <param name="room">The day that was planned.</param>
    /// <param name="plans">Plans without findings, the best first.</param>
    /// <param name="bounds">What no plan can go below, part by part.</param>
    /// <param name="options">Seed of the search, and as many threads as it has chains.</param>
    /// <param name="steps">Changes that are tried with each plan.</param>
    /// <param name="cancel">Ends the search with what has been found.</param>
    public static Plan Best(
        Workroom room,
        IReadOnlyList<Plan> plans,
        PartBounds bounds,
        PlanOptions options,
        int steps,
        CancellationToken cancel
    )
    {
        var searches = new LineUpSearch?[plans.Count];
        // Each has its own room: what fits on shelves and platens is kept there.
        SideBySide.Run(
            plans.Count,
            options.Chains,
            i =>
            {
                if (!cancel.IsCancellationRequested)
                    searches[i] = Of(i == 0 ? room : new Workroom(room.Shop.Day), plans[i], options.Seed + (ulong)i);
                searches[i]?.Run(steps, cancel);
            }
        );
        var chosen = plans[0];
        foreach (var search in searches)
            if (search?.Better(bounds, chosen) is { } better)
                chosen = better;
        return chosen;
    }

    /// <summary>Anneals over so many steps.</summary>
    private void Run(int steps, CancellationToken cancel)
    {
        if (!times.PlaceFirst(current) || !room.Holds(current, times))
            return;
        var bestCost = cost.Of(current, times);
        var currentCost = bestCost + cost.Guide;
        moves.LookAt(times);
        for (var i = 0; i < steps && !cancel.IsCancellationRequested; i++)
        {
            trial.CopyFrom(current);
            if (!moves.Change(trial) || !times.Place(trial))
                continue;
            var points = cost.Of(trial, times);
            var guided = points + cost.Guide;
            var now = Warm * Math.Pow(Cold / Warm, (double)i / steps);
            if (guided > currentCost && random.NextUnit() >= Math.Exp((currentCost - guided) / now))
                continue;
            if (!room.Holds(trial, times))
                continue;
            (current, trial, currentCost) = (trial, current, guided);
            moves.LookAt(times);
            if (points >= bestCost)
                continue;
            (bestCost, found) = (points, true);
            best.CopyFrom(current);
        }
    }

    /// <summary>The plan of the best line-up if it is better than the best plan known (<see cref="PlanRank"/>) and keeps every rule; otherwise null.</summary>
    private Plan? Better(PartBounds bounds, Plan known)
    {
        if (!found || !times.Place(best) || LineUpWriter.Write(at, best, times, plan, bounds) is not { } made)
            return null;
        var isBetter = PlanRank.Of(at.Shop.Day, made) < PlanRank.Of(at.Shop.Day, known);
        return isBetter && KeepsWhatThePlanKept(made) ? made : null;
    }

    /// <summary>Whether a plan breaks no rule that its source did not break too: what runs already may be past mending.</summary>
    private bool KeepsWhatThePlanKept(Plan made)
    {
        var findings = PlanChecker.Check(at.Shop.Day, made, plan.DaySha256);
        return findings.Count == 0
            || findings.Select(Broken).ToHashSet().IsSubsetOf(PlanChecker.Check(at.Shop.Day, plan, plan.DaySha256).Select(Broken));
    }

    private static (string Rule, string Pieces, string Batches) Broken(Finding finding) =>
        (finding.Rule, string.Join(' ', finding.Pieces), string.Join(' ', finding.Batches));
}
