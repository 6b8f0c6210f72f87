using System.Numerics;
using System.Runtime.Intrinsics;

namespace ShopFloor.Planning.DayPlans;

/// <summary>The taken times of one person or one place, sorted and disjoint. Search kernel: plain arrays, no checks.</summary>
internal sealed class Line
{
    /// <summary>Later than every time of a day.</summary>
    public const int Never = 1_000_000_000;

    private const int Hints = 6;
    private int[] starts;
    private int[] ends;
    private int count;
    private readonly int[] hintLength = new int[Hints];
    private readonly int[] hintFrom = new int[Hints];
    private int nextHint;
    private bool learnt;

    // Ends behind the last one are the largest number, so that they can be counted eight at a time.
    public Line(int capacity = 32)
    {
        starts = new int[capacity];
        ends = new int[capacity];
        Array.Fill(ends, int.MaxValue);
    }

    public int Count => count;

    public void CopyFrom(Line other)
    {
        if (starts.Length < other.count)
        {
            starts = new int[other.starts.Length];
            ends = new int[other.starts.Length];
            Array.Fill(ends, int.MaxValue);
        }
        Array.Copy(other.starts, starts, other.count);
        Array.Copy(other.ends, ends, other.count);
        if (count > other.count)
            Array.Fill(ends, int.MaxValue, other.count, count - other.count);
        count = other.count;
        Forget();
    }

    /// <summary>Position of the first interval that ends after the time.</summary>
    private int FirstEndingAfter(int time)
    {
        if (count > MostCounted)
            return FirstEndingAfterByHalves(time);
        var (line, before) = (Vector256.Create(time), 0);
        for (var i = 0; i < count; i += Vector256<int>.Count)
        {
            var ended = Vector256.LessThanOrEqual(Vector256.LoadUnsafe(ref ends[i]), line).ExtractMostSignificantBits();
            before += BitOperations.PopCount(ended);
            if (ended != byte.MaxValue)
                break;
        }
        return before;
    }

    /// <summary>So many ends are counted faster than halved.</summary>
    private const int MostCounted = 96;

    private int FirstEndingAfterByHalves(int time)
    {
        var (low, high) = (0, count);
        while (low < high)
        {
            var middle = (low + high) >> 1;
            if (ends[middle] > time)
                high = middle;
            else
                low = middle + 1;
        }
        return low;
    }

    /// <summary>The earliest start at or after <paramref name="from"/> of a free span of this length.</summary>
    public int Free(int from, int length) => Free(from, length, out _);

    /// <summary>The same, and how long it has been free then.</summary>
    public int Free(int from, int length, out int idle)
    {
        var t = from;
        if (learnt)
            for (var h = 0; h < Hints; h++)
                if (hintLength[h] != 0 && hintLength[h] <= length && hintFrom[h] > t)
                    t = hintFrom[h];
        var fromHint = t > from;
        var first = FirstEndingAfter(t);
        var i = first;
        for (; i < count && starts[i] < t + length; i++)
            t = ends[i];
        idle = i == 0 ? Never : t - ends[i - 1];
        if (t >= Never)
            return Never;
        // What was learnt on a long walk spares the next one; it holds because free time only shrinks until something is undone.
        if (i - first > 24 && (fromHint || NothingBefore(from, length)))
            Learn(length, t);
        return t;
    }

    private bool NothingBefore(int from, int length)
    {
        var t = int.MinValue / 2;
        for (var i = 0; i < count && starts[i] <= from; i++)
        {
            if (starts[i] >= t + length)
                return false;
            t = ends[i];
        }
        return t + length > from;
    }

    private void Forget()
    {
        if (learnt)
            Array.Clear(hintLength);
        learnt = false;
    }

    private void Learn(int length, int from)
    {
        learnt = true;
        for (var h = 0; h < Hints; h++)
            if (hintLength[h] == length)
            {
                hintFrom[h] = Math.Max(hintFrom[h], from);
                return;
            }
        (hintLength[nextHint], hintFrom[nextHint]) = (length, from);
        nextHint = (nextHint + 1) % Hints;
    }

    /// <summary>How long it has been free at a time when it is free.</summary>
    public int IdleBefore(int time)
    {
        var i = FirstEndingAfter(time);
        return i == 0 ? Never : time - ends[i - 1];
    }

    /// <summary>Whether nothing is taken in [from, to).</summary>
    public bool IsFree(int from, int to)
    {
        var i = FirstEndingAfter(from);
        return i >= count || starts[i] >= to;
    }

    /// <summary>The latest start at or before <paramref name="latest"/>, not before <paramref name="earliest"/>, of a free span; or -1.</summary>
    public int FreeLatest(int earliest, int latest, int length)
    {
        var t = latest;
        while (t >= earliest)
        {
            var i = FirstEndingAfter(t);
            if (i >= count || starts[i] >= t + length)
                return t;
            t = starts[i] - length;
        }
        return -1;
    }

    /// <summary>Takes a free span; what touches becomes one, so that the line stays as short as the gaps in it.</summary>
    public void Add(int from, int to)
    {
        var at = FirstEndingAfter(from);
        var before = at > 0 && ends[at - 1] == from;
        if (at < count && starts[at] == to)
        {
            starts[at] = before ? starts[at - 1] : from;
            if (before)
                CloseUp(at - 1);
        }
        else if (before)
            ends[at - 1] = to;
        else
            Open(at, from, to);
    }

    /// <summary>Gives back a span that is wholly taken.</summary>
    public void Remove(int from, int to)
    {
        var at = FirstEndingAfter(from);
        var end = ends[at];
        if (starts[at] < from)
        {
            ends[at] = from;
            if (end > to)
                Open(at + 1, to, end);
        }
        else if (end > to)
            starts[at] = to;
        else
            CloseUp(at);
        for (var h = 0; learnt && h < Hints; h++)
            hintFrom[h] = Math.Min(hintFrom[h], from);
    }

    private void Open(int at, int from, int to)
    {
        if (count == starts.Length)
        {
            Array.Resize(ref starts, count * 2);
            Array.Resize(ref ends, count * 2);
            Array.Fill(ends, int.MaxValue, count, count);
        }
        Array.Copy(starts, at, starts, at + 1, count - at);
        Array.Copy(ends, at, ends, at + 1, count - at);
        (starts[at], ends[at]) = (from, to);
        count++;
    }

    private void CloseUp(int at)
    {
        count--;
        Array.Copy(starts, at + 1, starts, at, count - at);
        Array.Copy(ends, at + 1, ends, at, count - at);
        ends[count] = int.MaxValue;
    }

    /// <summary>Adds a span that may overlap what is there: only what is free in it becomes taken.</summary>
    public void Block(int from, int to)
    {
        var t = from;
        while (t < to)
        {
            var i = FirstEndingAfter(t);
            var end = i < count ? Math.Min(to, starts[i]) : to;
            var next = i < count ? ends[i] : to;
            if (end > t)
                Add(t, end);
            t = Math.Max(next, end);
        }
    }
}
