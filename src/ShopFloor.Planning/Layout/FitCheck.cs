namespace ShopFloor.Planning.Layout;

/// <summary>
/// Answers again and again whether a set of pieces fits on the task's surfaces together. The answer depends on the extents in the set
/// alone, never on the order of questions, so it may be remembered here or by the caller. Not for two threads at once: give each its own.
/// </summary>
public sealed class FitCheck
{
    private const int MostExact = 10;
    private const int FewOrders = 6;

    // Of 3,000 sets of more than ten pieces that would fill more than this, none was ever laid by searching on.
    private const double MostFilled = 0.95;
    private readonly LayoutTask task;
    private readonly long effort;
    private readonly int[] all;
    private readonly long room;
    private readonly FillSearch search;
    private readonly UInt128[] marks;
    private readonly Dictionary<UInt128, bool> known = [];
    private readonly FitAnswers? shared;

    /// <summary>Prepares the questions.</summary>
    /// <param name="task">Surfaces, spacing and all pieces that may be asked about.</param>
    /// <param name="effort">Steps of search spent on a set that the plain orders cannot place; 0 for a few plain orders alone, which is what a search that asks very often wants.</param>
    /// <param name="shared">Answers shared with other checks of equal surfaces, spacing and effort; null: none.</param>
    public FitCheck(LayoutTask task, long effort = 2000, FitAnswers? shared = null)
    {
        this.shared = shared;
        this.task = task;
        this.effort = effort;
        all = [.. Enumerable.Range(0, task.Surfaces.Count).OrderBy(s => task.Surfaces[s].Clear).ThenBy(s => task.Surfaces[s].Area)];
        search = new(task, all);
        marks = [.. task.Footprints.Select(Mark)];
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
            key += marks[i];
        }
        if (need > room)
            return false;
        if (known.TryGetValue(key, out var answer) || shared?.TryGet(key, out answer) == true)
            return answer;
        // Where next to nothing would stay free, many pieces lie in plain rows or not at all.
        var orders = pieces.Length > MostExact && need > room * MostFilled ? FewOrders : int.MaxValue;
        answer = Search(InOrder(pieces), orders) is not null;
        known[key] = answer;
        shared?.Keep(key, answer);
        return answer;
    }

    /// <summary>Whether a piece takes at least the room of another: what holds it could hold the other in its place.</summary>
    /// <param name="piece">Position in the task's footprints.</param>
    /// <param name="other">Position in the task's footprints.</param>
    public bool TakesRoomOf(int piece, int other)
    {
        if (task.Footprints[piece].Height < task.Footprints[other].Height)
            return false;
        var (width, depth) = (task.Width[piece], task.Depth[piece]);
        return Inside(other, width, depth) && (!task.Turns[piece] || Inside(other, depth, width));
    }

    private bool Inside(int piece, int width, int depth) =>
        (task.Width[piece] <= width && task.Depth[piece] <= depth)
        || (task.Turns[piece] && task.Depth[piece] <= width && task.Width[piece] <= depth);

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

    private IReadOnlyList<Place>? Search(ReadOnlySpan<int> pieces, int orders = int.MaxValue)
    {
        foreach (var i in pieces)
            if (!Array.Exists(all, s => task.MayLie(i, s)))
                return null;
        search.Begin(pieces, 1);
        if (search.Greedy(effort > 0 ? orders : FewOrders))
            return [.. search.Places];
        if (effort == 0)
            return null;
        if (pieces.Length <= MostExact)
        {
            var answer = ExactFit.Search(task, pieces, all, effort, out var places);
            if (answer is not ExactAnswer.Unknown)
                return answer is ExactAnswer.Fits ? places : null;
        }
        return orders > FewOrders && !search.LacksRoom && search.Run(effort, CancellationToken.None) ? [.. search.Places] : null;
    }

    private IEnumerable<Place> OnSurface(int k, IReadOnlyList<Place> places) =>
        StraightRows
            .Straighten(task, all[k], places)
            .Select(p => p with { Surface = all[k], X = p.X + task.Spacing.Margin, Y = p.Y + task.Spacing.Margin });

    // Two independent 64-bit marks for all pieces of the same extents: sets are told apart by the sum of their marks, and sets of equal
    // extents are one question.
    private static UInt128 Mark(Footprint piece)
    {
        var first = new SeededRandom(((ulong)(uint)piece.Width << 32) | (uint)piece.Depth).NextBits();
        var random = new SeededRandom(first ^ (((ulong)(uint)piece.Height << 1) | (piece.MayTurn ? 1UL : 0)));
        return new UInt128(random.NextBits(), random.NextBits());
    }
}
