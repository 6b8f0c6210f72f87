using ShopFloor.Planning;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Reports;

namespace ShopFloor.Benchmarks.Days;

/// <summary>What a simulated day came to.</summary>
/// <param name="Orders">Orders in all.</param>
/// <param name="Kept">Orders whose last piece was finished by the promise.</param>
/// <param name="Faults">Faults found on inspection.</param>
/// <param name="Replans">Plans made after the first.</param>
/// <param name="Warned">Longest waits that were overstepped after a plan had said that the piece could not be finished in time.</param>
/// <param name="Unwarned">Longest waits that were overstepped without such a word before.</param>
/// <param name="Stuck">Orders not finished by the end of the days simulated.</param>
internal sealed record Simulated(int Orders, int Kept, int Faults, int Replans, int Warned, int Unwarned, int Stuck);

/// <summary>
/// Executes plans in a workshop where work by hand takes up to a fifth more or less than planned and a share of pieces fails inspection
/// and begins again at the wipe. People follow the plan in its order and never before its times, but for what the countdown of a longest wait calls
/// for when hands and station are free; a late start, a fault or a longest wait that is over makes a new plan from what is true at that moment, which
/// keeps to the one that people follow as the shop's own does. A piece that comes a second too late begins again at the wipe.
/// </summary>
internal sealed class Simulation
{
    private const int LateStartS = 120;
    private const int NearS = 7_200;
    private const int MovedS = 600;
    private const int MostReplans = 500;
    private const int SearchRounds = 12;
    private readonly SeededRandom random;
    private readonly Day origin;
    private readonly double spread;
    private readonly double faultShare;
    private readonly ShopState state;
    private readonly HashSet<string> warned = new(StringComparer.Ordinal);
    private readonly Plan? first;
    private (Plan Plan, int At)? published;
    private int faults;
    private int replans;
    private int warnedSteps;
    private int unwarnedSteps;

    /// <summary>Prepares it.</summary>
    /// <param name="day">The day.</param>
    /// <param name="begin">The plan that people begin with; null: the first plan.</param>
    /// <param name="seed">Of what happens.</param>
    /// <param name="spread">By which share work by hand is longer or shorter at most.</param>
    /// <param name="faultShare">Share of inspections that find a fault.</param>
    public Simulation(Day day, Plan? begin, ulong seed, double spread, double faultShare)
    {
        random = new SeededRandom(seed);
        first = begin;
        (origin, this.spread, this.faultShare) = (day, spread, faultShare);
        state = new ShopState(day);
    }

    public Simulated Run()
    {
        var now = 0;
        while (replans < MostReplans && state.Open().Count > 0)
        {
            var day = state.DayAt(now) with { Published = Followed(now) };
            if (day.HorizonS < 3_600)
                break;
            if (DayReader.Read(DayWriter.Write(day), "day") is { IsOk: false, Problems: [var wrong, ..] })
                throw new InvalidOperationException($"What is true cannot be: {wrong}");
            var plan = now == 0 && first is not null ? first : Planned(day);
            published = (plan, now);
            Restart(plan, now);
            var next = Follow(day, plan, now);
            if (next is not { } at)
                break;
            replans++;
            now = at;
        }
        var orders = origin.Pieces.GroupBy(p => p.Order, StringComparer.Ordinal).ToList();
        var kept = orders.Count(o => o.All(p => state.FinishedAt(p.Id) is { } end && end <= p.PromiseS));
        var stuck = orders.Count(o => o.Any(p => state.FinishedAt(p.Id) is null));
        return new Simulated(orders.Count, kept, faults, replans, warnedSteps, unwarnedSteps, stuck);
    }

    /// <summary>The first plan; where it would lose a piece that was begun, the search looks for a better one before people follow it.</summary>
    private static Plan Planned(Day day)
    {
        var (kept, plan, usesRunning) = WaitReserve.First(uses => WaitReserve.Of(day, uses));
        if (WaitReserve.LeftWaiting(kept, plan) is not (> 0 and var left))
            return plan;
        var used = WaitReserve.Of(day, usesRunning);
        var searched = DayPlanner.Plan(used, new PlanOptions { Rounds = SearchRounds, Chains = 1 });
        return WaitReserve.LeftWaiting(used, searched) < left ? searched : plan;
    }

    /// <summary>What the plan that people follow says of the steps that are still to begin.</summary>
    private Published? Followed(int now) =>
        published is { } last
            ? new Published(
                1,
                NearS,
                MovedS,
                [
                    .. StepTimes
                        .Of(last.Plan)
                        .Where(s => s.Value.StartS + last.At >= now)
                        .Select(s => new PublishedStep(s.Key.Piece, s.Key.Step, s.Value.Station, s.Value.StartS + last.At - now)),
                ]
            )
            : null;

    /// <summary>A piece that was begun and that no plan can finish within its longest waits begins again at the wipe, as a fault would.</summary>
    private void Restart(Plan plan, int now)
    {
        foreach (var left in plan.LeftOut)
            if (state.IsWaitingWithin(left.Piece, now, out var past))
            {
                if (past && !warned.Contains(left.Piece))
                    unwarnedSteps++;
                else if (past)
                    warnedSteps++;
                else
                    warned.Add(left.Piece);
                if (past)
                    state.BeginAgain(left.Piece, now);
            }
            else
                warned.Remove(left.Piece);
    }

    private int Varied(int length) => Math.Max(1, (int)Math.Round(length * (1 - spread + (2 * spread * random.NextUnit()))));

    /// <summary>Follows the plan until something calls for a new one; the second of that, or null when the plan came to its end.</summary>
    private int? Follow(Day day, Plan plan, int now)
    {
        var (persons, stations) = (
            new Dictionary<string, int>(StringComparer.Ordinal),
            new Dictionary<string, int>(StringComparer.Ordinal)
        );
        var batches = plan.Batches.ToDictionary(b => b.Id, StringComparer.Ordinal);
        var open = plan.LeftOut.Count > 0 ? state.NextLimit(now) : null;
        var executed = new List<Executed>();
        int? calls = open;
        foreach (var task in plan.Tasks.Where(t => t.Kind != TaskKinds.Rest).OrderBy(t => t.StartS).ThenBy(t => t.EndS).ThenBy(Rank))
        {
            var planned = now + task.StartS;
            if (calls is { } call && planned >= call)
                break;
            if (state.Known(task, now) is { } known)
            {
                executed.Add(known);
                Hold(persons, stations, task, known.End);
                // A fault that is found at the end of what runs calls as one that is found later.
                if (task.Kind == "inspect" && state.IsFaulty(task.Piece!))
                    calls = Math.Min(calls ?? int.MaxValue, known.End);
                if (known.End > now + task.EndS!.Value + LateStartS)
                    calls = Math.Min(calls ?? int.MaxValue, now + task.EndS.Value + LateStartS);
                continue;
            }
            var limit = state.LimitOf(task, batches, executed);
            var start = Math.Max(
                Math.Min(planned, limit ?? ByCountdown(plan, task, batches, executed) ?? planned),
                Math.Max(state.ReadyAt(task, batches, executed), Busy(day, persons, stations, task))
            );
            if (calls is { } stop && start >= stop)
                continue;
            if (start > limit)
            {
                calls = limit + 1;
                continue;
            }
            var done = new Executed(task, task.Batch is { } b ? batches[b] : null, start, start + Length(task));
            executed.Add(done);
            Hold(persons, stations, task, done.End);
            // Late to begin: whoever is there sees it when the task should have begun long enough ago.
            if (start > planned + LateStartS)
                calls = Math.Min(calls ?? int.MaxValue, Math.Max(now + 1, planned + LateStartS));
            if (task.Kind == "inspect" && random.NextUnit() < faultShare)
            {
                faults++;
                state.Fault(task.Piece!, done.End);
                calls = Math.Min(calls ?? int.MaxValue, done.End);
            }
        }
        state.Take(executed, calls ?? int.MaxValue, now);
        if (calls is { } at)
            return Math.Max(now + 1, at);
        return state.Open().Count == 0 ? null : Math.Max(now + 1, executed.Select(e => e.End).DefaultIfEmpty(now).Max() + 1);
    }

    /// <summary>A can is shaken early enough for the spray that a longest wait calls for.</summary>
    private int? ByCountdown(Plan plan, PlanTask task, Dictionary<string, Batch> batches, List<Executed> executed) =>
        task.Kind != TaskKinds.Shake
            ? null
            : plan.Tasks.Where(t => t.Kind == TaskKinds.Spray && t.Batch == task.Batch).Min(t => state.LimitOf(t, batches, executed))
                - (int)Math.Ceiling((task.EndS!.Value - task.StartS) * (1 + spread));

    private static int Rank(PlanTask task) => task.Kind == TaskKinds.Dwell ? 0 : 1;

    private static void Hold(Dictionary<string, int> persons, Dictionary<string, int> stations, PlanTask task, int end)
    {
        if (task.Person is { } person)
            persons[person] = Math.Max(persons.GetValueOrDefault(person), end);
        stations[task.Station] = Math.Max(stations.GetValueOrDefault(task.Station), end);
    }

    private static int Busy(Day day, Dictionary<string, int> persons, Dictionary<string, int> stations, PlanTask task)
    {
        var busy = task.Person is { } person ? persons.GetValueOrDefault(person) : 0;
        return day.Stations.First(s => s.Id == task.Station) is Bench ? busy : Math.Max(busy, stations.GetValueOrDefault(task.Station));
    }

    /// <summary>Hands vary; clocks, rests and heating do not. A dwell ends when it is unloaded, so it takes what is planned at least.</summary>
    private int Length(PlanTask task)
    {
        var planned = task.EndS!.Value - task.StartS;
        return task.Kind switch
        {
            TaskKinds.SetPoint => planned,
            TaskKinds.Dwell => planned,
            TaskKinds.Press => planned,
            _ => Varied(planned),
        };
    }
}
