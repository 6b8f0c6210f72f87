namespace ShopFloor.Planning.Loads;

/// <summary>
/// A complete assignment of jobs to loads and of loads to places in the ovens' sequences, with every end time and lateness cost kept, so
/// that a change is priced by running one or two sequences from the changed place until they fall into step again.
/// </summary>
internal sealed partial class LoadState
{
    /// <summary>The price of something impossible.</summary>
    public const long Impossible = long.MaxValue / 4;

    private readonly LoadModel model;
    private readonly int[] asked;
    private LoadRoom? room;

    // Per load.
    private readonly int[] family;
    private readonly int[] dwell;
    private readonly int[] longest;
    private readonly int[] release;
    private readonly long[] size;
    private readonly int[] firstDue;
    private readonly int[] lastDue;
    private readonly ulong[] ovens;
    private readonly int[] oven;
    private readonly int[] position;
    private readonly int[] count;
    private readonly int[][] members;
    private readonly int[] free;
    private int freeCount;

    // Per job.
    private readonly int[] loadOf;

    // Per oven and place in its sequence.
    private readonly int[][] sequence;
    private readonly int[] length;
    private readonly int[][] endAt;
    private readonly int[][] intervalAt;
    private readonly long[][] lateAt;

    // Per family: its loads.
    private readonly int[][] loadsOf;
    private readonly int[] loadsCount;
    private readonly int[] indexInFamily;

    public LoadState(LoadModel model)
    {
        this.model = model;
        asked = new int[model.N];
        draftA = new(model);
        draftB = new(model);
        draftNew = new(model);
        var (n, m) = (model.N, model.M);
        var loads = n + 1; // a change may open a load before it closes another
        family = new int[loads];
        dwell = new int[loads];
        longest = new int[loads];
        release = new int[loads];
        size = new long[loads];
        firstDue = new int[loads];
        lastDue = new int[loads];
        ovens = new ulong[loads];
        oven = new int[loads];
        position = new int[loads];
        count = new int[loads];
        members = new int[loads][];
        free = new int[loads];
        loadOf = new int[n];
        indexInFamily = new int[loads];
        Array.Fill(loadOf, -1);
        for (var b = 0; b < loads; b++)
        {
            members[b] = new int[4];
            free[b] = n - b;
        }
        freeCount = loads;
        length = new int[m];
        sequence = NewRows<int>(m, n);
        endAt = NewRows<int>(m, n);
        intervalAt = NewRows<int>(m, n);
        lateAt = NewRows<long>(m, n);
        loadsOf = NewRows<int>(model.A, n);
        loadsCount = new int[model.A];
    }

    /// <summary>Weighted objective of everything placed.</summary>
    public long Cost { get; private set; }

    /// <summary>The load of a job.</summary>
    public int LoadOf(int job) => loadOf[job];

    /// <summary>Number of loads on an oven.</summary>
    public int Length(int o) => length[o];

    /// <summary>A random load of a family that has at least one.</summary>
    public int AnyLoad(int f, SeededRandom random) => loadsOf[f][random.Next(loadsCount[f])];

    /// <summary>Copies the loads of another state of the same model.</summary>
    public void CopyFrom(LoadState other)
    {
        Copy(other.family, family);
        Copy(other.dwell, dwell);
        Copy(other.longest, longest);
        Copy(other.release, release);
        Array.Copy(other.size, size, size.Length);
        Copy(other.firstDue, firstDue);
        Copy(other.lastDue, lastDue);
        Array.Copy(other.ovens, ovens, ovens.Length);
        Copy(other.oven, oven);
        Copy(other.position, position);
        Copy(other.count, count);
        Copy(other.free, free);
        freeCount = other.freeCount;
        Copy(other.loadOf, loadOf);
        Copy(other.indexInFamily, indexInFamily);
        Copy(other.length, length);
        Copy(other.loadsCount, loadsCount);
        for (var b = 0; b <= model.N; b++)
        {
            if (members[b].Length < other.count[b])
                members[b] = new int[other.members[b].Length];
            Array.Copy(other.members[b], members[b], other.count[b]);
        }
        for (var o = 0; o < model.M; o++)
        {
            Array.Copy(other.sequence[o], sequence[o], length[o]);
            Array.Copy(other.endAt[o], endAt[o], length[o]);
            Array.Copy(other.intervalAt[o], intervalAt[o], length[o]);
            Array.Copy(other.lateAt[o], lateAt[o], length[o]);
        }
        for (var f = 0; f < model.A; f++)
            Array.Copy(other.loadsOf[f], loadsOf[f], loadsCount[f]);
        (ramp, Cost) = (other.ramp, other.Cost);
    }

    /// <summary>The loads, by oven and start, in the problem's numbering.</summary>
    public List<PlannedLoad> ToLoads()
    {
        var loads = new List<PlannedLoad>();
        for (var o = 0; o < model.M; o++)
        for (var p = 0; p < length[o]; p++)
        {
            var b = sequence[o][p];
            var jobs = members[b].AsSpan(0, count[b]).ToArray().Select(j => model.JobAt[j]).Order().ToArray();
            loads.Add(new(o, family[b], endAt[o][p] - dwell[b], endAt[o][p], jobs));
        }
        return loads;
    }

    /// <summary>The cost computed from nothing: for tests, and to begin.</summary>
    public long Recount()
    {
        long cost = 0;
        for (var o = 0; o < model.M; o++)
        {
            int time = 0,
                interval = 0,
                before = model.First[o];
            for (var p = 0; p < length[o]; p++)
            {
                var b = sequence[o][p];
                var pair = before * model.A + family[b];
                if (!model.Next(o, model.SetupTime[pair], dwell[b], release[b], ref interval, ref time))
                    return Impossible;
                cost += model.SetupPrice[pair] + model.DwellPrice * dwell[b] + model.LoadPrice;
                for (var k = 0; k < count[b]; k++)
                    cost += model.LateCost(members[b][k], time);
                before = family[b];
            }
        }
        return cost;
    }

    private static T[][] NewRows<T>(int rows, int columns) => [.. Enumerable.Range(0, rows).Select(_ => new T[columns + 1])];

    private static void Copy(int[] from, int[] to) => Array.Copy(from, to, to.Length);

    // What the members of a load cost when it ends at a given second.
    private long Late(int b, int end)
    {
        if (end <= firstDue[b])
            return 0;
        if (!model.CountsLateness && end > lastDue[b] + ramp)
            return count[b] * model.LatePrice;
        var list = members[b];
        var n = count[b];
        long sum = 0;
        for (var k = 0; k < n; k++)
            sum += model.LateCost(list[k], end, ramp);
        return sum;
    }

    // Brings a load's figures up to date with its members.
    private void Measure(int b)
    {
        var list = members[b];
        int min = 0,
            max = int.MaxValue,
            ready = 0,
            early = int.MaxValue,
            late = int.MinValue;
        long sum = 0;
        var mask = ulong.MaxValue;
        for (var k = 0; k < count[b]; k++)
        {
            var j = list[k];
            min = Math.Max(min, model.MinDwell[j]);
            max = Math.Min(max, model.MaxDwell[j]);
            ready = Math.Max(ready, model.Release[j]);
            early = Math.Min(early, model.Due[j]);
            late = Math.Max(late, model.Due[j]);
            sum += model.Size[j];
            mask &= model.Eligible[j];
        }
        (dwell[b], longest[b], release[b], firstDue[b], lastDue[b]) = (min, max, ready, early, late);
        size[b] = sum;
        ovens[b] = mask;
    }

    private int NewLoad(int f)
    {
        var b = free[--freeCount];
        family[b] = f;
        count[b] = 0;
        indexInFamily[b] = loadsCount[f];
        loadsOf[f][loadsCount[f]++] = b;
        return b;
    }

    private void DropLoad(int b)
    {
        free[freeCount++] = b;
        var f = family[b];
        var last = loadsOf[f][--loadsCount[f]];
        loadsOf[f][indexInFamily[b]] = last;
        indexInFamily[last] = indexInFamily[b];
    }

    private void InsertAt(int o, int p, int b)
    {
        var n = length[o]++ - p;
        Array.Copy(sequence[o], p, sequence[o], p + 1, n);
        Array.Copy(endAt[o], p, endAt[o], p + 1, n);
        Array.Copy(intervalAt[o], p, intervalAt[o], p + 1, n);
        Array.Copy(lateAt[o], p, lateAt[o], p + 1, n);
        sequence[o][p] = b;
        for (var q = p; q < length[o]; q++)
            position[sequence[o][q]] = q;
        oven[b] = o;
        endAt[o][p] = -1;
    }

    private void RemoveAt(int o, int p)
    {
        var n = --length[o] - p;
        Array.Copy(sequence[o], p + 1, sequence[o], p, n);
        Array.Copy(endAt[o], p + 1, endAt[o], p, n);
        Array.Copy(intervalAt[o], p + 1, intervalAt[o], p, n);
        Array.Copy(lateAt[o], p + 1, lateAt[o], p, n);
        for (var q = p; q < length[o]; q++)
            position[sequence[o][q]] = q;
    }

    // Runs an oven's sequence from a place on; beyond the last changed place it stops as soon as nothing differs any more.
    private void Run(int o, int from, int lastChanged)
    {
        var time = from > 0 ? endAt[o][from - 1] : 0;
        var interval = from > 0 ? intervalAt[o][from - 1] : 0;
        var before = from > 0 ? family[sequence[o][from - 1]] : model.First[o];
        for (var p = from; p < length[o]; p++)
        {
            var b = sequence[o][p];
            model.Next(o, model.SetupTime[before * model.A + family[b]], dwell[b], release[b], ref interval, ref time);
            if (p > lastChanged && time == endAt[o][p] && interval == intervalAt[o][p])
                return;
            endAt[o][p] = time;
            intervalAt[o][p] = interval;
            lateAt[o][p] = Late(b, time);
            before = family[b];
        }
    }
}
