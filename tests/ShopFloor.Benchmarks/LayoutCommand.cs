using System.Diagnostics;
using ShopFloor.Planning.Layout;

namespace ShopFloor.Benchmarks;

/// <summary>Published bin-packing instances: our number of bins beside the published best and the bound.</summary>
internal static class LayoutCommand
{
    private const long Slice = 20_000;

    public static int Run(Arguments args)
    {
        var folder = args.Folder("data");
        var seconds = args.Number("seconds", 2);
        var every = (int)args.Number("every", 1);
        var classes = args.Numbers("class");
        var outDir = args.TryText("out");
        var turning = args.TryText("turning") ?? "both";
        var published = PublishedBins.Read(Path.Combine(folder, "published.csv"));
        var instances = BinPackingFile
            .ReadAll(folder)
            .Where(i => classes is null || classes.Contains(i.Class))
            .Where((_, k) => k % every == 0);
        var jobs = instances
            .SelectMany(i => new[] { (i, false), (i, true) })
            .Where(j => turning is "both" || j.Item2 == turning is "yes")
            .ToArray();
        Console.WriteLine("class    n  no turning  first  bins  bound  published   first ms        ms");
        var totals = new Dictionary<(int Class, bool Turning), int[]>();
        foreach (var (instance, turns) in jobs)
            Solve(instance, turns, seconds, published, totals, outDir);
        PrintTotals(totals);
        return 0;
    }

    private static void Solve(
        BinPackingInstance instance,
        bool turning,
        double seconds,
        Dictionary<(int, int, int, bool), int> published,
        Dictionary<(int, bool), int[]> totals,
        string? outDir
    )
    {
        var watch = Stopwatch.StartNew();
        var search = new FewestSurfaces(instance.ToTask(turning), 0, 1);
        var first = search.Count;
        var firstMs = watch.Elapsed.TotalMilliseconds;
        while (search.Count > search.Bound && watch.Elapsed.TotalSeconds < seconds)
            search.Improve(Slice, CancellationToken.None);
        var known = published.GetValueOrDefault((instance.Class, instance.Count, instance.Number, turning));
        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{instance.Class, 5} {instance.Count, 4} {instance.Number, 3} {(turning ? "yes" : "no"), 7} {first, 6} {search.Count, 5} {search.Bound, 6} {known, 10} {firstMs, 10:F2} {watch.Elapsed.TotalMilliseconds, 9:F1}{(search.Count > known && known > 0 ? " above" : search.Count < known ? " below" : "")}"
            )
        );
        if (outDir is not null)
            Written.Save(outDir, instance.FileName(turning), ToWritten(instance, turning, search.Places));
        if (!totals.TryGetValue((instance.Class, turning), out var sum))
            totals[(instance.Class, turning)] = sum = new int[5];
        sum[0]++;
        sum[1] += first;
        sum[2] += search.Count;
        sum[3] += search.Bound;
        sum[4] += known;
    }

    private static WrittenBins ToWritten(BinPackingInstance instance, bool turning, IReadOnlyList<Place> places) =>
        new(
            [instance.Class, instance.Count, instance.Number],
            turning,
            [
                .. places
                    .GroupBy(p => p.Surface)
                    .OrderBy(g => g.Key)
                    .Select(g =>
                        g.Select(p =>
                            {
                                var (w, h) = instance.Items[p.Piece];
                                return new WrittenItem(p.Piece, p.X, p.Y, p.Turned ? h : w, p.Turned ? w : h);
                            })
                            .ToArray()
                    ),
            ]
        );

    private static void PrintTotals(Dictionary<(int Class, bool Turning), int[]> totals)
    {
        Console.WriteLine();
        Console.WriteLine("class turning instances  first  bins  bound  published");
        foreach (var turning in new[] { false, true })
        {
            var rows = totals.Where(t => t.Key.Turning == turning).OrderBy(t => t.Key.Class).ToArray();
            if (rows.Length == 0)
                continue;
            foreach (var (key, s) in rows)
                Print(key.Class.ToString(CultureInfo.InvariantCulture), turning, s);
            Print("all", turning, [.. Enumerable.Range(0, 5).Select(i => rows.Sum(r => r.Value[i]))]);
        }
    }

    private static void Print(string name, bool turning, int[] s) =>
        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{name, 5} {(turning ? "yes" : "no"), 7} {s[0], 9} {s[1], 6} {s[2], 5} {s[3], 6} {s[4], 10}"
            )
        );
}

/// <summary>The published best numbers of bins.</summary>
internal static class PublishedBins
{
    public static Dictionary<(int Class, int Count, int Number, bool Turning), int> Read(string file)
    {
        var best = new Dictionary<(int, int, int, bool), int>();
        if (!File.Exists(file))
        {
            Console.WriteLine($"No published values: '{file}' is absent.");
            return best;
        }
        var lines = File.ReadAllLines(file);
        for (var at = 1; at < lines.Length; at++)
        {
            var words = lines[at].Split(',');
            var n = new int[5];
            for (var i = 0; i < 5; i++)
                if (i >= words.Length || !int.TryParse(words[i], NumberStyles.None, CultureInfo.InvariantCulture, out n[i]))
                    throw InputFault.At(file, at + 1, "Five whole numbers separated by commas are expected.");
            best[(n[0], n[1], n[2], false)] = n[3];
            best[(n[0], n[1], n[2], true)] = n[4];
        }
        return best;
    }
}
