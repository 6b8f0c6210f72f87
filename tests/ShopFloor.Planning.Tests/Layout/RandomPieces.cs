using ShopFloor.Planning.Layout;

namespace ShopFloor.Planning.Tests.Layout;

/// <summary>Seeded pieces and surfaces, and a check of places written from the rules alone.</summary>
internal static class RandomPieces
{
    public static Footprint[] Make(SeededRandom random, int count, int largest, bool? mayTurn = null) =>
        [
            .. Enumerable
                .Range(0, count)
                .Select(i => new Footprint(
                    $"p{i:D3}",
                    1 + random.Next(largest),
                    1 + random.Next(largest),
                    random.Next(5),
                    mayTurn ?? random.Next(2) == 0
                )),
        ];

    public static void AssertHolds(LayoutTask task, IReadOnlyList<Place> places, Func<int, Surface> surfaceOf)
    {
        var boxes = places.Select(p => Box(task, p)).ToArray();
        foreach (var (p, b) in places.Zip(boxes))
        {
            var s = surfaceOf(p.Surface);
            Assert.InRange(b.X, task.Spacing.Margin, s.Width - task.Spacing.Margin - b.W);
            Assert.InRange(b.Y, task.Spacing.Margin, s.Depth - task.Spacing.Margin - b.D);
            Assert.True(task.Footprints[p.Piece].Height <= s.Clear);
            Assert.True(!p.Turned || task.Footprints[p.Piece].MayTurn);
        }
        for (var i = 0; i < places.Count; i++)
        for (var j = 0; j < i; j++)
            if (places[i].Surface == places[j].Surface)
                Assert.True(Apart(boxes[i], boxes[j], task.Spacing.Gap), $"{places[i]} and {places[j]} are too near");
        Assert.Equal(places.Count, places.Select(p => p.Piece).Distinct().Count());
    }

    public static bool Apart((int X, int Y, int W, int D) a, (int X, int Y, int W, int D) b, int gap) =>
        a.X + a.W + gap <= b.X || b.X + b.W + gap <= a.X || a.Y + a.D + gap <= b.Y || b.Y + b.D + gap <= a.Y;

    public static (int X, int Y, int W, int D) Box(LayoutTask task, Place p)
    {
        var f = task.Footprints[p.Piece];
        return p.Turned ? (p.X, p.Y, f.Depth, f.Width) : (p.X, p.Y, f.Width, f.Depth);
    }

    /// <summary>Whether unspaced pieces fit on one surface, by trying every whole-numbered corner.</summary>
    public static bool FitsByTrying(Footprint[] pieces, int width, int depth)
    {
        var laid = new List<(int X, int Y, int W, int D)>();
        bool From(int k)
        {
            if (k == pieces.Length)
                return true;
            foreach (var (w, d) in Ways(pieces[k]))
                for (var x = 0; x + w <= width; x++)
                for (var y = 0; y + d <= depth; y++)
                {
                    if (laid.Exists(b => !Apart(b, (x, y, w, d), 0)))
                        continue;
                    laid.Add((x, y, w, d));
                    if (From(k + 1))
                        return true;
                    laid.RemoveAt(laid.Count - 1);
                }
            return false;
        }
        return From(0);
    }

    /// <summary>The least number of surfaces, by trying every partition.</summary>
    public static int FewestByTrying(Footprint[] pieces, int width, int depth)
    {
        var bins = new List<List<Footprint>>();
        var best = pieces.Length;
        void From(int k)
        {
            if (bins.Count >= best)
                return;
            if (k == pieces.Length)
            {
                best = bins.Count;
                return;
            }
            foreach (var bin in bins.ToArray())
            {
                bin.Add(pieces[k]);
                if (FitsByTrying([.. bin], width, depth))
                    From(k + 1);
                bin.RemoveAt(bin.Count - 1);
            }
            bins.Add([pieces[k]]);
            From(k + 1);
            bins.RemoveAt(bins.Count - 1);
        }
        From(0);
        return best;
    }

    private static (int W, int D)[] Ways(Footprint f) =>
        f.MayTurn && f.Width != f.Depth ? [(f.Width, f.Depth), (f.Depth, f.Width)] : [(f.Width, f.Depth)];
}
