namespace ShopFloor.Planning.DayPlans;

/// <summary>One oven's or press's loads, sessions and changes over time, with the set point held after each. Search kernel.</summary>
internal sealed class HeatLine
{
    private int[] starts = new int[16];
    private int[] ends = new int[16];
    private int[] after = new int[16];
    private int[] before = new int[16];
    private int count;
    private int first;

    /// <summary>Everything that takes the station, times when it is down included.</summary>
    public Line Taken { get; } = new();

    public int Count => count;

    public void Reset(Line down, int now)
    {
        Taken.CopyFrom(down);
        count = 0;
        first = now;
    }

    public int StartAt(int i) => starts[i];

    public int EndAt(int i) => ends[i];

    public int FromAt(int i) => before[i];

    public int ToAt(int i) => after[i];

    /// <summary>A change of set point; loads and sessions keep it.</summary>
    public bool IsChange(int i) => isChange[i];

    private bool[] isChange = new bool[16];

    /// <summary>Position of the first entry that starts at or after the time.</summary>
    public int At(int time)
    {
        var (low, high) = (0, count);
        while (low < high)
        {
            var middle = (low + high) >> 1;
            if (starts[middle] >= time)
                high = middle;
            else
                low = middle + 1;
        }
        return low;
    }

    public int HeldBefore(int position) => position == 0 ? first : after[position - 1];

    public int LastHeld => HeldBefore(count);

    public int LastEnd => count == 0 ? 0 : Math.Max(0, ends[count - 1]);

    /// <summary>Adds an entry. <paramref name="blocks"/> is false when its time is already taken.</summary>
    public void Add(int from, int to, int held, bool change, int changedFrom, bool blocks = true)
    {
        var at = At(from);
        if (count == starts.Length)
            Grow();
        for (var i = count; i > at; i--)
            (starts[i], ends[i], after[i], before[i], isChange[i]) = (
                starts[i - 1],
                ends[i - 1],
                after[i - 1],
                before[i - 1],
                isChange[i - 1]
            );
        (starts[at], ends[at], after[at], before[at], isChange[at]) = (from, to, held, changedFrom, change);
        count++;
        if (blocks)
            Taken.Add(from, to);
        else
            Taken.Block(from, to);
    }

    public void Remove(int from)
    {
        var at = At(from);
        Taken.Remove(from, ends[at]);
        for (var i = at; i < count - 1; i++)
            (starts[i], ends[i], after[i], before[i], isChange[i]) = (
                starts[i + 1],
                ends[i + 1],
                after[i + 1],
                before[i + 1],
                isChange[i + 1]
            );
        count--;
    }

    /// <summary>Moves an entry as close as can be to the one behind it.</summary>
    public void MoveLater(int i)
    {
        var length = ends[i] - starts[i];
        Taken.Remove(starts[i], ends[i]);
        starts[i] = Taken.FreeLatest(starts[i], starts[i + 1] - length, length);
        ends[i] = starts[i] + length;
        Taken.Add(starts[i], ends[i]);
    }

    private void Grow()
    {
        var size = count * 2;
        Array.Resize(ref starts, size);
        Array.Resize(ref ends, size);
        Array.Resize(ref after, size);
        Array.Resize(ref before, size);
        Array.Resize(ref isChange, size);
    }

    /// <summary>The earliest start at or after <paramref name="from"/> of a span that no hot time touches.
    /// <see cref="Line.Never"/> when it stays hot to the end; then it must first be switched off.</summary>
    public int Cold(int from, int length, int hotAbove)
    {
        var t = from;
        var held = first;
        var heldSince = int.MinValue;
        for (var i = 0; i <= count; i++)
        {
            var until = i < count ? starts[i] : Line.Never;
            if (held > hotAbove && heldSince < t + length && t < until)
                t = until;
            if (i == count)
                break;
            if (isChange[i] && (before[i] > hotAbove || after[i] > hotAbove) && starts[i] < t + length && t < ends[i])
                t = ends[i];
            held = after[i];
            heldSince = isChange[i] ? ends[i] : starts[i];
        }
        return Math.Min(t, Line.Never);
    }
}
