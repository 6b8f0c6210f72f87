namespace ShopFloor.Planning.Layout;

/// <summary>The rule by which a piece chooses among the free rectangles that can take it.</summary>
internal enum Fit
{
    /// <summary>The smallest rest along the tighter side.</summary>
    ShortSide,

    /// <summary>The lowest place, then the leftmost.</summary>
    Lowest,

    /// <summary>The smallest free rectangle.</summary>
    Area,

    /// <summary>The leftmost place, then the lowest.</summary>
    Leftmost,
}

/// <summary>
/// The free part of one surface as the list of all its maximal empty rectangles. Distances are folded in beforehand: every piece is
/// grown by the gap and the surface shrunk by its margins and grown by one gap, so that pieces here may touch.
/// </summary>
internal sealed class FreeSpace
{
    private int[] x1 = new int[16];
    private int[] y1 = new int[16];
    private int[] x2 = new int[16];
    private int[] y2 = new int[16];
    private int[] fresh = new int[64];
    private int count;

    /// <summary>Empties the surface.</summary>
    public void Reset(int width, int depth)
    {
        x1[0] = 0;
        y1[0] = 0;
        x2[0] = width;
        y2[0] = depth;
        count = width > 0 && depth > 0 ? 1 : 0;
    }

    /// <summary>Takes over the state of another surface.</summary>
    public void CopyFrom(FreeSpace other)
    {
        while (x1.Length < other.count)
            Grow();
        Array.Copy(other.x1, x1, other.count);
        Array.Copy(other.y1, y1, other.count);
        Array.Copy(other.x2, x2, other.count);
        Array.Copy(other.y2, y2, other.count);
        count = other.count;
    }

    /// <summary>The best place for a rectangle, or false when no free rectangle takes it.</summary>
    /// <param name="width">Width of the rectangle, gap included.</param>
    /// <param name="depth">Depth of the rectangle, gap included.</param>
    /// <param name="fit">The rule.</param>
    /// <param name="score">Smaller is better; comparable for one rule only.</param>
    /// <param name="x">Where it goes.</param>
    /// <param name="y">Where it goes.</param>
    public bool Find(int width, int depth, Fit fit, out long score, out int x, out int y)
    {
        score = long.MaxValue;
        x = y = 0;
        var best = -1;
        for (var i = 0; i < count; i++)
        {
            var restX = x2[i] - x1[i] - width;
            var restY = y2[i] - y1[i] - depth;
            if ((restX | restY) < 0)
                continue;
            var s = fit switch
            {
                Fit.ShortSide => restX < restY ? ((long)restX << 32) + restY : ((long)restY << 32) + restX,
                Fit.Lowest => ((long)(y1[i] + depth) << 32) + x1[i],
                Fit.Leftmost => ((long)(x1[i] + width) << 32) + y1[i],
                _ => (long)(x2[i] - x1[i]) * (y2[i] - y1[i]),
            };
            if (s < score)
            {
                score = s;
                best = i;
            }
        }
        if (best < 0)
            return false;
        x = x1[best];
        y = y1[best];
        return true;
    }

    /// <summary>Takes a rectangle out of the free part; it need not be wholly free.</summary>
    /// <param name="left">Smallest x.</param>
    /// <param name="low">Smallest y.</param>
    /// <param name="right">First x beyond it.</param>
    /// <param name="high">First y beyond it.</param>
    /// <param name="smallest">Free rectangles with a side below this are of no use to any later piece and are dropped.</param>
    public void Take(int left, int low, int right, int high, int smallest)
    {
        var born = 0;
        var kept = 0;
        for (var i = 0; i < count; i++)
        {
            int a = x1[i],
                b = y1[i],
                c = x2[i],
                d = y2[i];
            if (left >= c || right <= a || low >= d || high <= b)
            {
                x1[kept] = a;
                y1[kept] = b;
                x2[kept] = c;
                y2[kept] = d;
                kept++;
                continue;
            }
            if (born + 16 > fresh.Length)
                Array.Resize(ref fresh, fresh.Length * 2);
            if (left - a >= smallest)
                Bear(ref born, a, b, left, d);
            if (c - right >= smallest)
                Bear(ref born, right, b, c, d);
            if (low - b >= smallest)
                Bear(ref born, a, b, c, low);
            if (d - high >= smallest)
                Bear(ref born, a, high, c, d);
        }
        count = kept;
        for (var k = 0; k < born; k += 4)
            AddUnlessCovered(k, born, kept);
    }

    private void Bear(ref int born, int a, int b, int c, int d)
    {
        fresh[born] = a;
        fresh[born + 1] = b;
        fresh[born + 2] = c;
        fresh[born + 3] = d;
        born += 4;
    }

    // A rectangle that was not cut stays maximal, so only the new ones can be covered: by an old one, or by another new one.
    private void AddUnlessCovered(int k, int born, int kept)
    {
        int a = fresh[k],
            b = fresh[k + 1],
            c = fresh[k + 2],
            d = fresh[k + 3];
        for (var i = 0; i < kept; i++)
            if (x1[i] <= a && y1[i] <= b && x2[i] >= c && y2[i] >= d)
                return;
        for (var j = 0; j < born; j += 4)
        {
            if (j == k || fresh[j] > a || fresh[j + 1] > b || fresh[j + 2] < c || fresh[j + 3] < d)
                continue;
            var same = fresh[j] == a && fresh[j + 1] == b && fresh[j + 2] == c && fresh[j + 3] == d;
            if (!same || j < k)
                return;
        }
        if (count == x1.Length)
            Grow();
        x1[count] = a;
        y1[count] = b;
        x2[count] = c;
        y2[count] = d;
        count++;
    }

    private void Grow()
    {
        Array.Resize(ref x1, x1.Length * 2);
        Array.Resize(ref y1, y1.Length * 2);
        Array.Resize(ref x2, x2.Length * 2);
        Array.Resize(ref y2, y2.Length * 2);
    }
}
