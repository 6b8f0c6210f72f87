namespace ShopFloor.Benchmarks;

/// <summary>Recomputes a written bin-packing solution from the instance; shares no code with the search.</summary>
internal static class CheckBins
{
    /// <summary>Every broken rule in words; empty when the solution holds.</summary>
    public static List<string> Findings(BinPackingInstance instance, WrittenBins solution)
    {
        var findings = new List<string>();
        var seen = new int[instance.Items.Length];
        for (var b = 0; b < solution.Bins.Count; b++)
        {
            var bin = solution.Bins[b];
            if (bin.Count == 0)
                findings.Add($"bin {b + 1} is empty");
            for (var k = 0; k < bin.Count; k++)
            {
                CheckItem(instance, solution.Turning, b, bin[k], seen, findings);
                for (var j = 0; j < k; j++)
                    if (Overlap(bin[j], bin[k]))
                        findings.Add($"items {bin[j].Item} and {bin[k].Item} overlap in bin {b + 1}");
            }
        }
        for (var i = 0; i < seen.Length; i++)
            if (seen[i] != 1)
                findings.Add(seen[i] == 0 ? $"item {i} is missing" : $"item {i} is placed {seen[i]} times");
        return findings;
    }

    private static void CheckItem(BinPackingInstance instance, bool turning, int b, WrittenItem item, int[] seen, List<string> findings)
    {
        if (item.Item < 0 || item.Item >= seen.Length)
        {
            findings.Add($"item {item.Item} is unknown");
            return;
        }
        seen[item.Item]++;
        var (w, h) = instance.Items[item.Item];
        var asGiven = item.W == w && item.H == h;
        var turned = turning && item.W == h && item.H == w;
        if (!asGiven && !turned)
            findings.Add($"item {item.Item} is {w} x {h}, not {item.W} x {item.H}");
        if (item.X < 0 || item.Y < 0 || (long)item.X + item.W > instance.BinWidth || (long)item.Y + item.H > instance.BinHeight)
            findings.Add($"item {item.Item} reaches out of bin {b + 1}");
    }

    private static bool Overlap(WrittenItem p, WrittenItem q) => p.X < q.X + q.W && q.X < p.X + p.W && p.Y < q.Y + q.H && q.Y < p.Y + p.H;
}
