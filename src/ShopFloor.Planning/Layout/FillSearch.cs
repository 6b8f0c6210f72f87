namespace ShopFloor.Planning.Layout;

/// <summary>
/// Lays a set of pieces on a fixed list of surfaces, or as much of it as it can: first by plain orders, then by emptying one to three
/// surfaces at a time and laying their pieces anew together with those left out. Counts its work in steps (one piece placed or tried),
/// so the same seed and number of steps give the same answer everywhere.
/// </summary>
internal sealed partial class FillSearch
{
    private readonly LayoutTask task;

    // Accepted worsening, as a share of the mean area of a piece.
    private const double Warmth = 0.02;
    private const int ManyPieces = 12;
    private readonly List<int> items = [];
    private readonly int[] surfaces;
    private SeededRandom random = new(0);
    private readonly FreeSpace[] empty;
    private readonly FreeSpace[] space;
    private readonly List<int>[] on;
    private readonly List<int> left = [];
    private readonly Place[] place;
    private readonly double[] weight;
    private int smallest;
    private readonly Place[] tried;
    private readonly List<int> pool = [];
    private readonly bool[] stays;
    private readonly double[] key;
    private readonly int[] chosen = new int[3];
    private double energy;
    private double temperature;

    /// <summary>Prepares the surfaces; <see cref="Begin"/> then names the pieces.</summary>
    /// <param name="task">The pieces and surfaces.</param>
    /// <param name="surfaces">The surfaces to use, by position in the task; one may come several times and then counts as several.</param>
    public FillSearch(LayoutTask task, ReadOnlySpan<int> surfaces)
    {
        this.task = task;
        this.surfaces = surfaces.ToArray();
        place = new Place[task.Width.Length];
        tried = new Place[task.Width.Length];
        stays = new bool[task.Width.Length];
        key = new double[task.Width.Length];
        weight = [.. Enumerable.Range(0, task.Width.Length).Select(i => (double)task.Width[i] * task.Depth[i])];
        empty = [.. this.surfaces.Select(Empty)];
        space = [.. this.surfaces.Select(_ => new FreeSpace())];
        on = [.. this.surfaces.Select(_ => new List<int>())];
    }

    /// <summary>Begins anew: nothing is placed.</summary>
    /// <param name="pieces">The pieces to lay, by position in the task.</param>
    /// <param name="seed">Fixes the random choices.</param>
    public FillSearch Begin(ReadOnlySpan<int> pieces, ulong seed)
    {
        items.Clear();
        items.AddRange(pieces);
        Array.Clear(stays);
        items.Sort((a, b) => task.Rank[a] - task.Rank[b]);
        random = new(seed);
        Steps = 0;
        smallest = int.MaxValue;
        foreach (var i in items)
            smallest = Math.Min(smallest, Math.Min(task.Width[i], task.Depth[i]));
        foreach (var list in on)
            list.Clear();
        left.Clear();
        left.AddRange(items);
        energy = Energy(left);
        temperature = items.Count == 0 ? 0 : Warmth * energy / items.Count;
        return this;
    }

    /// <summary>Steps used so far.</summary>
    public long Steps { get; private set; }

    /// <summary>True when every piece lies.</summary>
    public bool Complete => left.Count == 0;

    /// <summary>Where the placed pieces lie; the surface is the position in the list of surfaces of this search.</summary>
    public IEnumerable<Place> Places => on.SelectMany(list => list).Select(i => place[i]);

    /// <summary>Pieces that do not lie.</summary>
    public IReadOnlyList<int> Left => left;

    /// <summary>Tries the plain orders and keeps the best; true when everything lies.</summary>
    /// <param name="most">How many of the plain orders to try.</param>
    public bool Greedy(int most = int.MaxValue)
    {
        foreach (var order in Enum.GetValues<PlainOrder>())
        foreach (var fit in Fits)
        {
            if (most-- <= 0)
                return false;
            foreach (var i in items)
                key[i] = order.Key(task, i);
            pool.Clear();
            pool.AddRange(items);
            SortPool();
            for (var s = 0; s < surfaces.Length; s++)
                space[s].CopyFrom(empty[s]);
            if (Lay(surfaces.Length, null, fit, true) < energy)
                Keep(surfaces.Length, null);
            if (Complete)
                return true;
        }
        return false;
    }

    private static readonly Fit[] Fits = [Fit.ShortSide, Fit.Lowest, Fit.Area, Fit.Leftmost];

    /// <summary>True when more than a piece of mean size does not lie: searching on for some hundred steps hardly ever helps then.</summary>
    public bool LacksRoom => energy * items.Count > Energy(items);

    /// <summary>Searches on; true when everything lies.</summary>
    /// <param name="steps">How many steps to add at most.</param>
    /// <param name="cancel">Ends the search early.</param>
    public bool Run(long steps, CancellationToken cancel)
    {
        var until = Steps + steps;
        var rounds = 0;
        while (!Complete && Steps < until && ((++rounds & 63) != 0 || !cancel.IsCancellationRequested))
            Round();
        return Complete;
    }

    private void Round()
    {
        var n = Math.Min(
            surfaces.Length,
            random.Next(10) switch
            {
                < 3 => 1,
                < 8 => 2,
                _ => 3,
            }
        );
        for (var k = 0; k < n; k++)
        {
            int s;
            do s = random.Next(surfaces.Length);
            while (Array.IndexOf(chosen, s, 0, k) >= 0);
            chosen[k] = s;
        }
        pool.Clear();
        pool.AddRange(left);
        Array.Clear(stays);
        for (var k = 0; k < n; k++)
            EmptyOut(chosen[k]);
        var order = (PlainOrder)random.Next(5);
        var noise = random.NextUnit() * 0.8;
        foreach (var i in pool)
            key[i] = order.Key(task, i) * (1 - noise * random.NextUnit());
        SortPool();
        var fit = Fits[random.Next(4)];
        var next = Lay(n, chosen, fit, random.Next(2) == 0);
        if (next <= energy - temperature * Math.Log(1 - random.NextUnit()))
            Keep(n, chosen);
    }

    // Lays the pool; what does not fit stays in it. Answers the energy of what stays.
    private double Lay(int n, int[]? which, Fit fit, bool oneByOne)
    {
        var kept = 0;
        var missing = 0.0;
        var first = 0;
        var last = oneByOne ? 1 : n;
        var count = pool.Count;
        do
        {
            kept = 0;
            missing = 0;
            for (var p = 0; p < count; p++)
            {
                var i = pool[p];
                Steps++;
                if (TryLay(i, first, last, which, fit))
                    continue;
                pool[kept++] = i;
                missing += weight[i];
            }
            count = kept;
            first++;
            last = oneByOne ? first + 1 : n;
        } while (oneByOne && first < n && count > 0);
        pool.RemoveRange(count, pool.Count - count);
        return missing;
    }

    private bool TryLay(int i, int first, int last, int[]? which, Fit fit)
    {
        var best = long.MaxValue;
        var at = -1;
        int bx = 0,
            by = 0;
        var turned = false;
        int w = task.Width[i],
            d = task.Depth[i];
        for (var k = first; k < last; k++)
        {
            var s = which is null ? k : which[k];
            if (task.Footprints[i].Height > task.Surfaces[surfaces[s]].Clear)
                continue;
            if (space[s].Find(w, d, fit, out var score, out var x, out var y) && score < best)
                (best, at, bx, by, turned) = (score, s, x, y, false);
            if (task.Turns[i] && space[s].Find(d, w, fit, out score, out x, out y) && score < best)
                (best, at, bx, by, turned) = (score, s, x, y, true);
        }
        if (at < 0)
            return false;
        var (pw, pd) = turned ? (d, w) : (w, d);
        space[at].Take(bx, by, bx + pw, by + pd, smallest);
        tried[i] = new(i, at, bx, by, turned);
        return true;
    }

    private void Keep(int n, int[]? which)
    {
        for (var k = 0; k < n; k++)
            foreach (var i in on[which is null ? k : which[k]])
                key[i] = -1;
        foreach (var i in left)
            key[i] = -1;
        foreach (var i in pool)
            key[i] = 0;
        List<int> moved = [.. left];
        for (var k = 0; k < n; k++)
        {
            var list = on[which is null ? k : which[k]];
            moved.AddRange(list.Where(i => !stays[i]));
            list.RemoveAll(i => !stays[i]);
        }
        left.Clear();
        foreach (var i in moved)
        {
            if (key[i] == 0)
            {
                left.Add(i);
                continue;
            }
            place[i] = tried[i];
            on[tried[i].Surface].Add(i);
        }
        energy = Energy(left);
    }

    private double Energy(List<int> pieces)
    {
        var sum = 0.0;
        foreach (var i in pieces)
            sum += weight[i];
        return sum;
    }

    // Largest key first; the ends of ties are fixed by rank. Insertion sort: the lists are short and nearly sorted.
    private void SortPool()
    {
        var list = System.Runtime.InteropServices.CollectionsMarshal.AsSpan(pool);
        for (var a = 1; a < list.Length; a++)
        {
            var i = list[a];
            var b = a;
            while (b > 0 && Before(i, list[b - 1]))
            {
                list[b] = list[b - 1];
                b--;
            }
            list[b] = i;
        }
    }

    private bool Before(int i, int j) => key[i] > key[j] || (key[i] == key[j] && task.Rank[i] < task.Rank[j]);
}
