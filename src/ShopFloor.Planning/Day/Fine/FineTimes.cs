using ShopFloor.Planning.Checking;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Betters a finished plan whose batches stay: who does what, who comes first, and the times that follow. The decoder gives work to
/// whoever is free first, piece after piece; here each of these choices is tried by itself, by annealing.</summary>
internal sealed class FineTimes
{
    private readonly FineCost cost;
    private readonly FineRoom room;
    private readonly FineMoves moves;
    private readonly SeededRandom random;
    private readonly FineNet fine;

    private FineTimes(Workroom at, FineNet fine, Plan plan, ulong seed)
    {
        this.fine = fine;
        random = new SeededRandom(seed);
        (cost, room, moves) = (new FineCost(at.Shop, fine), new FineRoom(at.Shop, fine, plan), new FineMoves(fine.Net, random));
    }

    /// <summary>The best plan that can be made of some by other persons and times.</summary>
    /// <param name="room">The day that was planned.</param>
    /// <param name="plans">Plans without findings, the best first.</param>
    /// <param name="bounds">What no plan can go below, part by part.</param>
    /// <param name="seed">Seed of the search.</param>
    /// <param name="steps">Changes that are tried with each plan.</param>
    public static Plan Best(Workroom room, IReadOnlyList<Plan> plans, IReadOnlyList<long> bounds, ulong seed, int steps)
    {
        var searches = plans
            .Select(
                (plan, i) =>
                    TimeNetMaker.Make(room.Shop, room.Maker, plan) is { } fine ? new FineTimes(room, fine, plan, seed + (ulong)i) : null
            )
            .ToList();
        var found = new TimeOrder?[plans.Count];
        Parallel.For(0, plans.Count, i => found[i] = searches[i]?.Run(steps, Warmths[i % Warmths.Length]));
        var best = plans[0];
        for (var i = 0; i < plans.Count; i++)
            if (found[i] is { } order)
                best = searches[i]!.Better(room, plans[i], order, bounds, best);
        return best;
    }

    /// <summary>The plan of an order if it is better than the best one known and keeps every rule, otherwise that one.</summary>
    private Plan Better(Workroom at, Plan plan, TimeOrder order, IReadOnlyList<long> bounds, Plan best)
    {
        fine.Net.Place(order);
        var better = new FinePlan(at, fine, order, plan).Write(bounds);
        // The net knows fewer rules than there are: an oven that is closed while something dwells in it, say.
        return better.Objective.Value < best.Objective.Value && PlanChecker.Check(at.Shop.Day, better, plan.DaySha256).Count == 0
            ? better
            : best;
    }

    private static readonly double[] Warmths = [300, 100, 30];
    private const double Cold = 1;

    /// <summary>The best order found, or null when none is better.</summary>
    private TimeOrder? Run(int steps, double warm)
    {
        var current = fine.Order;
        if (!fine.Net.Place(current) || !room.Holds())
            return null;
        var (best, bestCost) = ((TimeOrder?)null, cost.Of(current));
        var currentCost = bestCost + Guide();
        for (var i = 0; i < steps; i++)
        {
            if (moves.Change(current) is not { } next || !fine.Net.Place(next))
                continue;
            var points = cost.Of(next);
            var guided = points + Guide();
            var now = warm * Math.Pow(Cold / warm, (double)i / steps);
            if (guided > currentCost && random.NextUnit() >= Math.Exp((currentCost - guided) / now))
                continue;
            if (!room.Holds())
                continue;
            (current, currentCost) = (next, guided);
            if (points < bestCost)
                (best, bestCost) = (next, points);
        }
        return best;
    }

    private long Guide() => cost.MeanEnd() / 2;
}
