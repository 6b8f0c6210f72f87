using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Plans a day. Pure: the same day and options give the same plan, bit for bit.</summary>
public static class DayPlanner
{
    /// <summary>Name written into plans.</summary>
    public const string Name = "first plan + moves";

    /// <summary>The first plan alone, at once, without words about what would help late pieces.</summary>
    /// <param name="day">The day.</param>
    /// <param name="daySha256">Fingerprint of the day file's bytes; null: of the day as this program writes it.</param>
    public static Plan First(Day day, string? daySha256 = null) =>
        Bare(
            day,
            new PlanOptions
            {
                Rounds = 0,
                Chains = 1,
                DaySha256 = daySha256,
            }
        );

    /// <summary>The first plan, then rounds of search, then as much work on the line-ups of the best; cancelling keeps the best so far and
    /// answers at once.</summary>
    /// <param name="day">The day.</param>
    /// <param name="options">Seed, chains and rounds.</param>
    /// <param name="cancel">Ends all of it early: no line-ups any more, no words about what would help.</param>
    /// <param name="progress">Told after every round, from the thread that plans.</param>
    /// <param name="enough">Ends the rounds alone: the plan is that of the rounds finished by then, had so many been asked for.</param>
    public static Plan Plan(
        Day day,
        PlanOptions options,
        CancellationToken cancel = default,
        Action<PlanProgress>? progress = null,
        CancellationToken enough = default
    )
    {
        var plan = Searched(day, options, lineUps: options.Rounds > 0, new Ends(cancel, enough), progress);
        var helps = plan.Search.Rounds > 0 || day.Pieces.Count <= LateHelp.MostAtOnce;
        return helps ? LateHelp.Add(day, plan, cancel) : plan;
    }

    /// <summary>What ends a search early: all of it, or its rounds.</summary>
    private readonly record struct Ends(CancellationToken All, CancellationToken Rounds)
    {
        public bool AreOver => All.IsCancellationRequested || Rounds.IsCancellationRequested;
    }

    /// <summary>The plan of first plan and rounds alone: no words about what would help late pieces, times as the decoder gives them.</summary>
    internal static Plan Bare(Day day, PlanOptions options) => Searched(day, options, lineUps: false, default, null);

    private static Plan Searched(Day day, PlanOptions options, bool lineUps, Ends ends, Action<PlanProgress>? progress)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(options.Chains, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(options.Chains, 64);
        ArgumentOutOfRangeException.ThrowIfNegative(options.Rounds);
        var room = new Workroom(day);
        var best = room.First(out var cost);
        var floor = Floor.Of(room, options.Rounds > 0);
        var (rounds, steps) = (0, 0L);
        var elite = new Elite(EliteSize(room.Shop));
        elite.Offer(cost, long.MaxValue, best);
        if (options.Rounds > 0)
            Search(day, room, elite, options, ends, progress, floor, ref rounds, ref steps);
        // A plan of no rounds has the bounds of one, unless the better ones prove it.
        if (rounds == 0 && options.Rounds > 0 && cost > floor.Sum(pinsKept: true))
            floor = Floor.Of(room, thorough: false);
        var note = new SearchNote(Name, options.Seed, options.Chains, rounds, steps, false);
        var sha = options.DaySha256 ?? Fingerprint.Sha256(DayWriter.Write(day));
        var solution = room.WithoutIdleWaits(elite.Kept[0].Solution);
        var bounds = room.KeepsPins(solution) ? floor.PinsKept : floor.Any;
        var goesOn = lineUps && rounds > 0 && !ends.All.IsCancellationRequested;
        var plan = room.Plan(solution, sha, note, bounds, leeway: !goesOn);
        if (goesOn && plan.Objective.Value > plan.Objective.Bound)
        {
            Plan[] plans = [plan, .. elite.Kept.Skip(1).Select(e => room.Plan(e.Solution, sha, note, bounds, leeway: false))];
            plan = LineUpSearch.Best(room, plans, bounds, options, LineUpSteps(steps) / plans.Length, ends.All);
        }
        if (goesOn)
            plan = PlanMaker.WithLeeway(room, plan, bounds);
        return plan with { Search = note with { Proved = plan.Objective.Value == plan.Objective.Bound } };
    }

    /// <summary>How many solutions are kept to go on from with line-ups.</summary>
    private static int EliteSize(Shop shop) => shop.IsSmall ? 24 : 2;

    /// <summary>Steps on line-ups: as much work as the rounds.</summary>
    private static int LineUpSteps(long steps) => (int)Math.Min(8 * steps, 6_000_000);

    /// <summary>Steps that a chain takes in one round: many for a small day, so that a round lasts about as long for every size, and
    /// for the smallest as many as it takes to search them through.</summary>
    private static int StepsPerRound(Shop shop) => shop.IsSmall ? 10_000 : Math.Clamp(120_000 / shop.Nodes.Length, 10, 1_000);

    private static void Search(
        Day day,
        Workroom room,
        Elite elite,
        PlanOptions options,
        Ends ends,
        Action<PlanProgress>? progress,
        Floor floor,
        ref int rounds,
        ref long steps
    )
    {
        var (cost, _, first) = elite.Kept[0];
        var chains = new Chain[options.Chains];
        for (var c = 0; c < chains.Length; c++)
            chains[c] = new Chain(c == 0 ? room : new Workroom(day), first, cost, (options.Seed * 1_000) + (ulong)c, EliteSize(room.Shop));
        var (best, bestCost, count, bound) = (first, cost, StepsPerRound(room.Shop), floor.Sum(pinsKept: true));
        using var over = CancellationTokenSource.CreateLinkedTokenSource(ends.All, ends.Rounds);
        var cancel = over.Token;
        for (var round = 0; round < options.Rounds && !ends.AreOver && bestCost > bound; round++)
        {
            var at = round;
            SideBySide.Run(
                chains.Length,
                chains.Length,
                c => chains[c].Round(at, c % 2 == 1 || at / Chain.CycleRounds % 2 == 1, count, cancel)
            );
            if (ends.AreOver)
                break;
            foreach (var chain in chains)
                if (chain.BestCost < bestCost)
                    (best, bestCost) = (chain.Best, chain.BestCost);
            foreach (var chain in chains)
            {
                chain.TakeOver(best, bestCost);
                chain.Keep();
            }
            rounds++;
            steps += (long)count * chains.Length;
            var value = room.HasPins ? room.Value(best) : bestCost;
            progress?.Invoke(new PlanProgress(rounds, options.Rounds, value, floor.Sum(room.KeepsPins(best))));
        }
        elite.Offer(bestCost, long.MaxValue, best);
        foreach (var chain in chains)
        foreach (var (value, meanEnd, solution) in chain.Elite.Kept)
            elite.Offer(value, meanEnd, solution);
    }
}
