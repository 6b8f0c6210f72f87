namespace ShopFloor.Planning.Layout;

/// <summary>
/// Answers again and again whether a set of pieces fits on the task's surfaces together. The answer depends on the set alone, never on
/// the order of questions, so it may be remembered here or by the caller. Not for two threads at once: give each its own.
/// </summary>
public sealed class FitCheck
{
    private const int MostExact = 10;
    private const int FewOrders = 6;
    private readonly LayoutTask task;
    private readonly long effort;
    private readonly int[] all;
    private readonly long room;
    private readonly FillSearch search;
    private readonly Dictionary<UInt128, bool> known = [];

    /// <summary>Prepares the questions.</summary>
    /// <param name="task">Surfaces, spacing and all pieces that may be asked about.</param>
    /// <param name="effort">Steps of search spent on a set that the plain orders cannot place; 0 for a few plain orders alone, which is what a search that asks very often wants.</param>
    public FitCheck(LayoutTask task, long effort = 2000)
    {
        this.task = task;
        this.effort = effort;
        all = [.. Enumerable.Range(0, task.Surfaces.Count).OrderBy(s => task.Surfaces[s].Clear).ThenBy(s => task.Surfaces[s].Area)];
        search = new(task, all);
        for (var s = 0; s < task.Surfaces.Count; s++)
            room += (long)task.SurfaceWidth[s] * task.SurfaceDepth[s];
    }

    /// <summary>True when the pieces fit together; false when no way was found.</summary>
    /// <param name="pieces">Positions in the task's footprints, each at most once, in any order.</param>
    public bool Fits(ReadOnlySpan<int> pieces)
    {
        long need = 0;
        UInt128 key = 0;
        foreach (var i in pieces)
        {
            need += (long)task.Width[i] * task.Depth[i];
            key ^= Mark(i);
        }
        if (need > room)
            return false;
        if (known.TryGetValue(key, out var answer))
            return answer;
        answer = Search(InOrder(pieces)) is not null;
        known[key] = answer;
        return answer;
    }

    /// <summary>A quick test by one plain order alone: false may be wrong, true never is.</summary>
    /// <param name="pieces">Positions in the task's footprints, each at most once, in any order.</param>
    public bool FitsAtOnce(ReadOnlySpan<int> pieces)
    {
        long need = 0;
        foreach (var i in pieces)
            need += (long)task.Width[i] * task.Depth[i];
        return need <= room && search.Begin(pieces, 1).Greedy(1);
    }

    /// <summary>The places of the pieces, straight in rows where that is as good; null when no way was found.</summary>
    /// <param name="pieces">Positions in the task's footprints, each at most once, in any order.</param>
    public IReadOnlyList<Place>? TryPlace(ReadOnlySpan<int> pieces) =>
        Search(InOrder(pieces)) is not { } found
            ? null
            : [.. Enumerable.Range(0, all.Length).SelectMany(k => OnSurface(k, [.. found.Where(p => p.Surface == k)]))];

    /// <summary>The same set always in the same order: what fits once is then found a place again.</summary>
    private static int[] InOrder(ReadOnlySpan<int> pieces)
    {
        var sorted = pieces.ToArray();
        Array.Sort(sorted);
        return sorted;
    }

    private IReadOnlyList<Place>? Search(ReadOnlySpan<int> pieces)
    {
        foreach (var i in pieces)
            if (!Array.Exists(all, s => task.MayLie(i, s)))
                return null;
        search.Begin(pieces, 1);
        if (search.Greedy(effort > 0 ? int.MaxValue : FewOrders))
            return [.. search.Places];
        if (effort == 0)
            return null;
        if (pieces.Length <= MostExact)
        {
            var answer = ExactFit.Search(task, pieces, all, effort, out var places);
            if (answer is not ExactAnswer.Unknown)
                return answer is ExactAnswer.Fits ? places : null;
        }
        return search.Run(effort, CancellationToken.None) ? [.. search.Places] : null;
    }

    private IEnumerable<Place> OnSurface(int k, IReadOnlyList<Place> places) =>
        StraightRows
            .Straighten(task, all[k], places)
            .Select(p => p with { Surface = all[k], X = p.X + task.Spacing.Margin, Y = p.Y + task.Spacing.Margin });

    // Two independent 64-bit marks per piece: sets are told apart by the exclusive or of their marks.
    private static UInt128 Mark(int piece)
    {
        var random = new SeededRandom((ulong)piece);
        return new UInt128(random.NextBits(), random.NextBits());
    }
}
