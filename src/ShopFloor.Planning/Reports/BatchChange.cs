using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Reports;

/// <summary>How a batch of one plan stands in the next.</summary>
public enum BatchFate
{
    /// <summary>It was not in the plan before.</summary>
    New,

    /// <summary>It is not in the plan any more, and had not begun.</summary>
    Gone,

    /// <summary>It has other members, another station or another time.</summary>
    Changed,
}

/// <summary>A round, load or session that two plans have differently. Batches are recognised by their members: their ids are given anew in
/// every plan.</summary>
/// <param name="Fate">What became of it.</param>
/// <param name="Kind">One of <see cref="BatchKinds"/>.</param>
/// <param name="Id">As the plan names it: the new one, for a batch that is gone the old one.</param>
/// <param name="Station">Where: as above.</param>
/// <param name="StartS">Start, in seconds of the new plan.</param>
/// <param name="MovedS">How much later it starts than before, in seconds; negative: sooner; 0 unless changed.</param>
/// <param name="Members">Its pieces.</param>
/// <param name="Joined">Pieces that were not in it before.</param>
/// <param name="Left">Pieces still to be made that are in it no more.</param>
public sealed record BatchChange(
    BatchFate Fate,
    string Kind,
    string Id,
    string Station,
    int StartS,
    int MovedS,
    IReadOnlyList<string> Members,
    IReadOnlyList<string> Joined,
    IReadOnlyList<string> Left
);

/// <summary>Compares the batches of two plans.</summary>
internal static class BatchChanges
{
    private sealed record Seen(Batch Batch, string Station, int StartS, HashSet<(string Piece, int Step)> Members);

    /// <summary>What differs, by start.</summary>
    /// <param name="before">The plan before, its seconds turned into those of the plan after.</param>
    /// <param name="begun">Its batches that ran when it was made: they are never gone.</param>
    /// <param name="after">The plan after.</param>
    /// <param name="open">Whether a step of a piece is still to be done on the day after.</param>
    /// <param name="movedS">A start that moves by no more than this is no change.</param>
    public static List<BatchChange> Between(
        Plan before,
        IEnumerable<Batch> begun,
        Plan after,
        Func<(string Piece, int Step), bool> open,
        int movedS
    )
    {
        var (was, now) = (All(before, open), All(after, open));
        var pairs = Pairs(was, now);
        var changes = new List<BatchChange>();
        foreach (var seen in now)
            if (!pairs.TryGetValue(seen, out var old))
                changes.Add(Change(BatchFate.New, seen, 0, [], []));
            else if (Changed(old, seen, movedS) is { } change)
                changes.Add(change);
        var kept = pairs.Values.ToHashSet();
        var ran = begun.Select(b => b.Id).ToHashSet(StringComparer.Ordinal);
        changes.AddRange(was.Where(s => !ran.Contains(s.Batch.Id) && !kept.Contains(s)).Select(s => Change(BatchFate.Gone, s, 0, [], [])));
        return [.. changes.OrderBy(c => c.StartS).ThenBy(c => c.Station, StringComparer.Ordinal).ThenBy(c => c.Fate)];
    }

    private static BatchChange? Changed(Seen old, Seen now, int movedS)
    {
        string[] Pieces(IEnumerable<(string Piece, int Step)> members) => [.. members.Select(m => m.Piece).Order(StringComparer.Ordinal)];
        var (joined, left) = (Pieces(now.Members.Except(old.Members)), Pieces(old.Members.Except(now.Members)));
        var moved = now.StartS - old.StartS;
        return joined.Length + left.Length > 0 || Math.Abs(moved) > movedS || old.Station != now.Station
            ? Change(BatchFate.Changed, now, moved, joined, left)
            : null;
    }

    private static BatchChange Change(BatchFate fate, Seen seen, int moved, IReadOnlyList<string> joined, IReadOnlyList<string> left) =>
        new(
            fate,
            seen.Batch.Kind,
            seen.Batch.Id,
            seen.Station,
            seen.StartS,
            moved,
            [.. seen.Members.Select(m => m.Piece).Distinct().Order(StringComparer.Ordinal)],
            joined,
            left
        );

    // Those with the most members in common belong together; each has at most one counterpart.
    private static Dictionary<Seen, Seen> Pairs(List<Seen> was, List<Seen> now)
    {
        var pairs = new Dictionary<Seen, Seen>();
        var taken = new HashSet<Seen>();
        var together =
            from n in now
            from w in was
            where n.Batch.Kind == w.Batch.Kind
            let common = n.Members.Count(w.Members.Contains)
            where common > 0
            orderby common descending, Math.Abs(n.StartS - w.StartS), n.StartS, n.Batch.Id
            select (n, w);
        foreach (var (n, w) in together)
            if (!pairs.ContainsKey(n) && taken.Add(w))
                pairs[n] = w;
        return pairs;
    }

    // What is over is no change: only members with the step still before them count.
    private static List<Seen> All(Plan plan, Func<(string Piece, int Step), bool> open)
    {
        var tasks = plan.Tasks.Where(t => t.Batch is not null).ToLookup(t => t.Batch!, StringComparer.Ordinal);
        return
        [
            .. plan
                .Batches.Where(b => tasks[b.Id].Any())
                .Select(b => new Seen(
                    b,
                    tasks[b.Id].First().Station,
                    tasks[b.Id].Min(t => t.StartS),
                    [.. Members(b, tasks[b.Id]).Where(open)]
                ))
                .Where(s => s.Members.Count > 0),
        ];
    }

    private static IEnumerable<(string, int)> Members(Batch batch, IEnumerable<PlanTask> tasks) =>
        batch.Places.Count > 0
            ? batch.Places.Select(p => (p.Piece, p.Step))
            : tasks.Where(t => t is { Piece: not null, Step: not null }).Select(t => (t.Piece!, t.Step!.Value));
}
