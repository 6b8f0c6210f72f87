namespace ShopFloor.Planning.Layout;

/// <summary>What an exact search found out.</summary>
public enum ExactAnswer
{
    /// <summary>There is a lay-out.</summary>
    Fits,

    /// <summary>There is none: proven.</summary>
    DoesNotFit,

    /// <summary>The limit of nodes was reached first.</summary>
    Unknown,
}

/// <summary>
/// Exact search whether a small set fits on the given empty surfaces. On one surface pieces are put one after another into the corners
/// of the staircase around what lies already, which reaches every lay-out (S. Martello, D. Pisinger, D. Vigo, Operations Research 48,
/// 2000); states that failed are remembered. Several surfaces: pieces are shared out one by one, each share tested so.
/// </summary>
public sealed class ExactFit
{
    private const int MostPieces = 24;
    private readonly LayoutTask task;
    private readonly int[] pieces;
    private readonly long nodeLimit;
    private readonly Dictionary<(int Surface, uint Set), Place[]?> shares = [];
    private readonly HashSet<string> failed = new(StringComparer.Ordinal);
    private readonly List<Place> trail = [];
    private int surface;
    private long nodes;

    private ExactFit(LayoutTask task, ReadOnlySpan<int> pieces, long nodeLimit)
    {
        this.task = task;
        this.pieces = pieces.ToArray();
        this.nodeLimit = nodeLimit;
        Array.Sort(this.pieces, (a, b) => task.Rank[a] - task.Rank[b]);
    }

    /// <summary>Searches.</summary>
    /// <param name="task">Pieces and surfaces; the surfaces used must be empty.</param>
    /// <param name="pieces">At most 24 positions, else the answer is Unknown at once.</param>
    /// <param name="surfaces">Positions of the surfaces; one may come several times and then counts as several.</param>
    /// <param name="nodeLimit">Work limit; a node is one piece put into one corner.</param>
    /// <param name="places">The lay-out when there is one; surfaces by position in <paramref name="surfaces"/>, corners without margin.</param>
    public static ExactAnswer Search(
        LayoutTask task,
        ReadOnlySpan<int> pieces,
        IReadOnlyList<int> surfaces,
        long nodeLimit,
        out IReadOnlyList<Place> places
    )
    {
        places = [];
        if (pieces.Length > MostPieces || task.Occupied.Any(o => surfaces.Contains(o.Surface)))
            return ExactAnswer.Unknown;
        var search = new ExactFit(task, pieces, nodeLimit);
        var sets = new uint[surfaces.Count];
        if (!search.Share(0, surfaces, sets))
            return search.nodes > nodeLimit ? ExactAnswer.Unknown : ExactAnswer.DoesNotFit;
        places = [.. sets.SelectMany((set, k) => search.Lay(surfaces[k], set)!.Select(p => p with { Surface = k }))];
        return ExactAnswer.Fits;
    }

    // Gives piece k and all after it to surfaces.
    private bool Share(int k, IReadOnlyList<int> surfaces, uint[] sets)
    {
        if (k == pieces.Length)
            return true;
        for (var s = 0; s < surfaces.Count && nodes <= nodeLimit; s++)
        {
            // Of equal surfaces with equal contents only the first is tried.
            if (Enumerable.Range(0, s).Any(r => surfaces[r] == surfaces[s] && sets[r] == sets[s]) || !task.MayLie(pieces[k], surfaces[s]))
                continue;
            var before = sets[s];
            sets[s] |= 1u << k;
            if (Lay(surfaces[s], sets[s]) is not null && Share(k + 1, surfaces, sets))
                return true;
            sets[s] = before;
        }
        return false;
    }

    private Place[]? Lay(int onSurface, uint set)
    {
        if (shares.TryGetValue((onSurface, set), out var known))
            return known;
        surface = onSurface;
        failed.Clear();
        trail.Clear();
        var found = Extend(set, [(0, 0)]) ? trail.ToArray() : null;
        if (found is not null || nodes <= nodeLimit)
            shares[(onSurface, set)] = found;
        return found;
    }

    // Steps: from x on, everything below y is used up; x ascends, y descends.
    private bool Extend(uint rest, List<(int X, int Y)> steps)
    {
        if (rest == 0)
            return true;
        var state = State(rest, steps);
        if (!RoomLeft(rest, steps) || failed.Contains(state))
            return false;
        for (var k = 0; k < pieces.Length; k++)
        {
            if ((rest >> k & 1) == 0 || TwinBefore(rest, k))
                continue;
            foreach (var (x, y) in steps)
            {
                if (Put(rest, steps, k, x, y, false) || (task.Turns[pieces[k]] && Put(rest, steps, k, x, y, true)))
                    return true;
                if (nodes > nodeLimit)
                    return false;
            }
        }
        failed.Add(state);
        return false;
    }

    private bool Put(uint rest, List<(int X, int Y)> steps, int k, int x, int y, bool turned)
    {
        var i = pieces[k];
        var (w, d) = turned ? (task.Depth[i], task.Width[i]) : (task.Width[i], task.Depth[i]);
        if (x + w > task.SurfaceWidth[surface] || y + d > task.SurfaceDepth[surface] || ++nodes > nodeLimit)
            return false;
        trail.Add(new(i, 0, x, y, turned));
        if (Extend(rest & ~(1u << k), Raise(steps, x + w, y + d)))
            return true;
        trail.RemoveAt(trail.Count - 1);
        return false;
    }

    // The staircase after everything left of right is used up to top.
    private static List<(int X, int Y)> Raise(List<(int X, int Y)> steps, int right, int top)
    {
        var next = new List<(int X, int Y)>(steps.Count + 1);
        var height = 0;
        foreach (var (x, y) in steps)
        {
            if (x <= right)
                height = y;
            Append(next, x, x < right ? Math.Max(y, top) : y, right, height);
        }
        if (next[^1].X < right && next[^1].Y > height)
            next.Add((right, height));
        return next;
    }

    private static void Append(List<(int X, int Y)> next, int x, int y, int right, int heightAtRight)
    {
        if (x > right && next[^1].X < right && next[^1].Y > heightAtRight)
            next.Add((right, heightAtRight));
        if (next.Count == 0 || next[^1].Y > y)
            next.Add((x, y));
    }

    private bool RoomLeft(uint rest, List<(int X, int Y)> steps)
    {
        long need = 0;
        for (var k = 0; k < pieces.Length; k++)
            if ((rest >> k & 1) != 0)
                need += (long)task.Width[pieces[k]] * task.Depth[pieces[k]];
        long room = 0;
        for (var s = 0; s < steps.Count; s++)
        {
            var next = s + 1 < steps.Count ? steps[s + 1].X : task.SurfaceWidth[surface];
            room += (long)(next - steps[s].X) * (task.SurfaceDepth[surface] - steps[s].Y);
        }
        return need <= room;
    }

    private bool TwinBefore(uint rest, int k)
    {
        for (var r = 0; r < k; r++)
            if ((rest >> r & 1) != 0 && Same(pieces[r], pieces[k]))
                return true;
        return false;
    }

    private bool Same(int i, int j) => task.Width[i] == task.Width[j] && task.Depth[i] == task.Depth[j] && task.Turns[i] == task.Turns[j];

    private static string State(uint rest, List<(int X, int Y)> steps)
    {
        var key = new char[2 + 4 * steps.Count];
        (key[0], key[1]) = ((char)(rest & 0xFFFF), (char)(rest >> 16));
        for (var s = 0; s < steps.Count; s++)
        {
            var (x, y) = steps[s];
            (key[4 * s + 2], key[4 * s + 3]) = ((char)(x & 0xFFFF), (char)(x >> 16));
            (key[4 * s + 4], key[4 * s + 5]) = ((char)(y & 0xFFFF), (char)(y >> 16));
        }
        return new string(key);
    }
}
