namespace ShopFloor.Planning.DayPlans;

/// <summary>How full one rack is over time: the area taken from each moment on, as far as is known. Search kernel.</summary>
internal sealed class RackLine
{
    private int[] times = new int[64];
    private long[] levels = new long[64];
    private int count;

    public void Clear() => count = 0;

    /// <summary>Position of the first moment after the time.</summary>
    private int FirstAfter(int time)
    {
        var (low, high) = (0, count);
        while (low < high)
        {
            var middle = (low + high) >> 1;
            if (times[middle] > time)
                high = middle;
            else
                low = middle + 1;
        }
        return low;
    }

    /// <summary>From this time on so much more (or less) is taken.</summary>
    public void Change(int from, long area)
    {
        var at = FirstAfter(from) - 1;
        if (at < 0 || times[at] != from)
        {
            at++;
            if (count == times.Length)
            {
                Array.Resize(ref times, count * 2);
                Array.Resize(ref levels, count * 2);
            }
            Array.Copy(times, at, times, at + 1, count - at);
            Array.Copy(levels, at, levels, at + 1, count - at);
            (times[at], levels[at]) = (from, at == 0 ? 0 : levels[at - 1]);
            count++;
        }
        for (var i = at; i < count; i++)
            levels[i] += area;
        if (levels[at] != (at == 0 ? 0 : levels[at - 1]))
            return;
        count--;
        Array.Copy(times, at + 1, times, at, count - at);
        Array.Copy(levels, at + 1, levels, at, count - at);
    }

    /// <summary>The earliest time at or after <paramref name="from"/> from which never more than so much is taken.</summary>
    public int NeverAbove(int from, long most)
    {
        for (var i = count - 1; i >= 0 && (i == count - 1 || times[i + 1] > from); i--)
            if (levels[i] > most)
                return i == count - 1 ? Line.Never : times[i + 1];
        return from;
    }
}
