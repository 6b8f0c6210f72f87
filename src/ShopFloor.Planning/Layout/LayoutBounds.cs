using System.Numerics;

namespace ShopFloor.Planning.Layout;

/// <summary>
/// Numbers of equal surfaces that no lay-out can go below: the area, and sums over dual feasible functions of both extents, which count
/// what cannot lie side by side (S. Fekete, J. Schepers, Math. Meth. Oper. Res. 60, 2004; J. Carlier, F. Clautiaux, A. Moukrim,
/// Comput. Oper. Res. 34, 2007; they include the bound L2 of S. Martello, D. Vigo, Management Science 44, 1998).
/// </summary>
public static class LayoutBounds
{
    private const int MostValues = 40;
    private const int MostMultiples = 12;

    /// <summary>The least number of equal surfaces for a set of pieces; a piece that may turn counts in its cheaper direction.</summary>
    /// <param name="task">The pieces.</param>
    /// <param name="pieces">Which of them, by position; each must be able to lie on the surface.</param>
    /// <param name="surface">Which surface of the task; what lies on it already is not taken into account.</param>
    public static int Fewest(LayoutTask task, IReadOnlyList<int> pieces, int surface)
    {
        if (pieces.Count == 0)
            return 0;
        var (width, depth) = (task.SurfaceWidth[surface], task.SurfaceDepth[surface]);
        var straight = pieces.Select(i => (W: task.Width[i], D: task.Depth[i])).ToArray();
        var turned = pieces.Select((i, k) => Turned(task, i, straight[k], width, depth)).ToArray();
        var anyTurns = !straight.AsSpan().SequenceEqual(turned);
        var alongWidth = Functions(width, [.. straight.Select(s => s.W)], [.. turned.Select(s => s.W)]);
        var alongDepth = Functions(depth, [.. straight.Select(s => s.D)], [.. turned.Select(s => s.D)]);
        var best = 0.0;
        foreach (var f in alongWidth)
        foreach (var g in alongDepth)
            best = Math.Max(best, anyTurns ? SumOfSmaller(f, g) : Sum(f.Straight, g.Straight));
        // The sums are of numbers from 0 to 1 and exact to 1e-12 or so; taking off a millionth keeps the bound on the safe side.
        return Math.Max(1, (int)Math.Ceiling(best - 1e-6));
    }

    // The other way for a piece to lie, or the same when it cannot; straight only when it does not fit otherwise.
    private static (int W, int D) Turned(LayoutTask task, int i, (int W, int D) s, int width, int depth) =>
        task.Turns[i] && s.D <= width && s.W <= depth ? (s.D, s.W) : s;

    private static double Sum(double[] f, double[] g)
    {
        var sum = Vector<double>.Zero;
        for (var k = 0; k < f.Length; k += Vector<double>.Count)
            sum += new Vector<double>(f, k) * new Vector<double>(g, k);
        return Vector.Sum(sum);
    }

    private static double SumOfSmaller((double[] Straight, double[] Turned) f, (double[] Straight, double[] Turned) g)
    {
        var sum = Vector<double>.Zero;
        for (var k = 0; k < f.Straight.Length; k += Vector<double>.Count)
            sum += Vector.Min(
                new Vector<double>(f.Straight, k) * new Vector<double>(g.Straight, k),
                new Vector<double>(f.Turned, k) * new Vector<double>(g.Turned, k)
            );
        return Vector.Sum(sum);
    }

    // Every function maps extents to [0, 1] so that extents that fit side by side never sum above 1.
    private static List<(double[] Straight, double[] Turned)> Functions(int c, int[] straight, int[] turned)
    {
        var values = straight.Concat(turned).ToArray();
        var steps = values.Concat(values.Select(v => c - v)).Where(v => v > 0 && v <= c / 2).Distinct().Order().ToArray();
        if (steps.Length > MostValues)
            steps = [.. Enumerable.Range(0, MostValues).Select(k => steps[k * steps.Length / MostValues])];
        List<Func<int, double>> functions = [x => (double)x / c];
        foreach (var p in steps)
        {
            functions.Add(x => Rounded(x, p, c));
            functions.Add(x => Counted(x, p, c));
        }
        for (var k = 1; k <= MostMultiples; k++)
        {
            var times = k;
            functions.Add(x => Multiple(x, times, c));
        }
        return [.. functions.Select(f => (Values(f, straight), Values(f, turned)))];
    }

    private static double[] Values(Func<int, double> function, int[] extents)
    {
        var n = Vector<double>.Count;
        var values = new double[(extents.Length + n - 1) / n * n];
        for (var k = 0; k < extents.Length; k++)
            values[k] = function(extents[k]);
        return values;
    }

    // Small extents count nothing; what leaves less than the smallest beside it counts all.
    private static double Rounded(int x, int p, int c) =>
        x > c - p ? 1
        : x < p ? 0
        : (double)x / c;

    // How many pieces of extent k fit into it; the larger half counts what its rest cannot hold.
    private static double Counted(int x, int k, int c)
    {
        long whole = c / k;
        var twice =
            2L * x > c ? 2 * (whole - (c - x) / k)
            : 2L * x == c ? whole
            : 2L * (x / k);
        return (double)twice / (2 * whole);
    }

    // Rounded down to k-th parts of the (k + 1)-fold.
    private static double Multiple(int x, int k, int c)
    {
        var product = (long)(k + 1) * x;
        return product % c == 0 ? (double)x / c : (double)(product / c) / k;
    }
}
