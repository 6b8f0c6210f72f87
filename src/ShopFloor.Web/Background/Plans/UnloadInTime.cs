using ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Whether a running load could come out before it has been in for too long.</summary>
public static class UnloadInTime
{
    /// <summary>Whether somebody who may is there in time, overtime included, and has no other running work in hand.</summary>
    /// <param name="day">The day.</param>
    /// <param name="plan">Its plan; what it takes out of other ovens is in the way.</param>
    /// <param name="load">The running load.</param>
    public static bool IsPossible(Day day, Plan plan, string load)
    {
        if (day.Running.Batches.FirstOrDefault(b => b.Id == load) is not { Kind: BatchKinds.Load } batch)
            return false;
        if (day.Running.Tasks.FirstOrDefault(t => t.Batch == load && t.Kind == TaskKinds.Dwell) is not { EndS: null } dwell)
            return false;
        if (day.Stations.OfType<Oven>().FirstOrDefault(o => o.Id == dwell.Station) is not { } oven)
            return false;
        var steps = batch.Places.Select(m => day.Pieces.First(p => p.Id == m.Piece).Route[m.Step - 1]).ToList();
        var heated = oven.HeaterW is > 0 and var watts ? (int)((steps.Sum(s => (long)s.HeatJ) + watts - 1) / watts) : 0;
        var from = Math.Max(1, dwell.StartS + steps.Select(s => s.MinS).Append(heated).Max());
        var to = steps.Min(s => s.MaxS) is { } most ? dwell.StartS + most : day.HorizonS;
        var length = oven.UnloadS + (batch.Places.Count * oven.UnloadEachS);
        return day.People.Any(p => p.Can.Contains(StationKind.Oven) && IsFree(p, InHand(day, plan, p.Id, load), (from, to), length));
    }

    /// <summary>What runs already in somebody's hands, and the unloading of what else runs.</summary>
    private static List<(int From, int To)> InHand(Day day, Plan plan, string person, string load)
    {
        var running = day.Running.Batches.Select(b => b.Id).ToHashSet(StringComparer.Ordinal);
        var given = day.Running.Tasks.Where(t => t.Person == person);
        var unloads = plan.Tasks.Where(t =>
            t.Person == person && t.Kind == TaskKinds.Unload && t.Batch != load && t.Batch is { } id && running.Contains(id)
        );
        return [.. given.Concat(unloads).Select(t => (t.StartS, t.EndS ?? t.StartS)).Where(t => t.Item2 > 0)];
    }

    private static bool IsFree(Person person, List<(int From, int To)> busy, (int From, int To) window, int length)
    {
        bool IsGood(int start) =>
            start >= window.From
            && start <= window.To
            && person.Shifts.Any(s => s.FromS <= start && start + length <= s.ToS)
            && busy.TrueForAll(b => start >= b.To || start + length <= b.From);
        // The soonest start is when the window opens, a shift begins or something else is done.
        return person.Shifts.Select(s => s.FromS).Concat(busy.Select(b => b.To)).Append(window.From).Any(IsGood);
    }
}
