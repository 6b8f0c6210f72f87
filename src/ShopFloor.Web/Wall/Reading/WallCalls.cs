using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Wall.Parts;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>The calls that follow from times, promises and pieces put aside.</summary>
internal static class WallCalls
{
    internal static IEnumerable<WallCall> Of(
        WorkNow now,
        IReadOnlyList<WallTimer> timers,
        IReadOnlyList<PromiseLine> promises,
        DateTimeOffset at
    )
    {
        var work = now.Work;
        foreach (var timer in timers)
        foreach (var call in OfTimer(work, timer))
            yield return call;
        foreach (var (load, by) in UnattendedLoads.Of(now.Plan, work.Batches, at))
            if (timers.FirstOrDefault(t => t.Key == load.Code) is { } running)
                yield return OfTimer(
                    UrgencyRules.Unattended,
                    running,
                    (load.Code, WallTime.Of(by, work.Settings.Zone)),
                    running.Timer.Since,
                    by
                );
        // One call each, however many orders: the promises below say which.
        var late = promises.Where(p => p.Spare < TimeSpan.Zero || (p.At.At < at && p.Good < p.Pieces)).ToList();
        if (late.Count > 0)
            yield return About(UrgencyRules.Late, [.. late.Select(p => Number(p.Order))], late.Min(p => p.At.At).AddDays(-1), "promises");
        var aside = work
            .Pieces.Where(p => p.State == PieceState.Held && work.Orders[p.Order].PromisedAt < at.AddDays(1))
            .Select(p => p.Tray ?? p.Code)
            .Distinct(StringComparer.Ordinal)
            .ToList();
        if (aside.Count > 0)
            yield return About(UrgencyRules.Aside, aside, DateTimeOffset.UnixEpoch, "pieces put aside");
    }

    /// <summary>The calls with what is written down about each.</summary>
    internal static IReadOnlyList<WallCall> Marked(IEnumerable<WallCall> calls, IReadOnlyList<CallMark> marks)
    {
        var known = marks.GroupBy(m => m.Key, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.Last(), StringComparer.Ordinal);
        return [.. calls.Select(c => known.TryGetValue(c.Key, out var mark) ? c with { Mark = mark } : c)];
    }

    // What it is about is part of the cause: one order more is a new call.
    private static WallCall About(UrgencyRule rule, IReadOnlyList<string> about, DateTimeOffset from, string source)
    {
        var (key, single) = ($"{rule.Key} {string.Join(' ', about)}", about.Count == 1 ? about[0] : "");
        return new WallCall(key.Length > 200 ? key[..200] : key, rule, Names(about), "", from, null, single, source);
    }

    private static string Number(int order) => order.ToString(CultureInfo.InvariantCulture);

    private static string Names(IEnumerable<string> all)
    {
        var names = all.ToList();
        return names.Count <= 4 ? string.Join(", ", names) : $"{string.Join(", ", names.Take(3))} and {names.Count - 3} more";
    }

    private static IEnumerable<WallCall> OfTimer(OpenWork work, WallTimer timer)
    {
        var (time, isBatch) = (timer.Timer, work.Batches.Any(b => b.Code == timer.Key));
        var near = time.Max is { } max ? UrgencyRules.NearFrom(time.Since, max) : (DateTimeOffset?)null;
        if (isBatch && time.Min is { } min && (near is null || min < near))
            yield return Call(UrgencyRules.Due, min, near);
        if (time.Max is not { } most)
            yield break;
        yield return Call(UrgencyRules.Near, near!.Value, most);
        yield return Call(UrgencyRules.Over, most, null);
        WallCall Call(UrgencyRule rule, DateTimeOffset from, DateTimeOffset? until) =>
            OfTimer(rule, timer, (timer.What, timer.Where), from, until);
    }

    private static WallCall OfTimer(
        UrgencyRule rule,
        WallTimer timer,
        (string What, string Where) words,
        DateTimeOffset from,
        DateTimeOffset? until
    ) => new($"{rule.Key} {timer.Id}", rule, words.What, words.Where, from, until, timer.Subject, $"{rule.Key}: {timer.Source}");
}
