namespace ShopFloor.Benchmarks;

/// <summary>Reads written solutions and the instances they belong to, recomputes every rule and value.</summary>
internal static class VerifyCommand
{
    public static int Run(Arguments args)
    {
        var folder = args.Folder("solutions");
        var (checkedLoads, checkedBins, broken) = (0, 0, 0);
        var bins = args.TryText("layout") is null
            ? null
            : BinPackingFile.ReadAll(args.Folder("layout")).ToDictionary(i => (i.Class, i.Count, i.Number));
        foreach (var file in Directory.GetFiles(folder, "*.json").Order(StringComparer.Ordinal))
        {
            List<string> findings;
            if (Path.GetFileName(file).StartsWith('c'))
            {
                if (bins is null)
                    throw new InputFault($"{file}: option --layout must name the folder of its instances.");
                var solution = Written.Load<WrittenBins>(file);
                var key = solution.Instance is [var cls, var n, var number] ? (cls, n, number) : default;
                findings = bins.TryGetValue(key, out var instance) ? CheckBins.Findings(instance, solution) : ["the instance is unknown"];
                checkedBins++;
            }
            else
            {
                var solution = Written.Load<WrittenLoads>(file);
                var name = string.Create(CultureInfo.InvariantCulture, $"weights-{solution.Weights}/{solution.Instance:D3}.dzn");
                var path = Path.Combine(args.Folder("ovens"), name);
                findings = File.Exists(path) ? CheckLoads.Findings(OvenFile.Read(path), solution) : ["the instance is unknown"];
                checkedLoads++;
            }
            broken += findings.Count > 0 ? 1 : 0;
            foreach (var finding in findings)
                Console.WriteLine($"{Path.GetFileName(file)}: {finding}");
        }
        Console.WriteLine($"{checkedBins} lay-outs and {checkedLoads} oven plans checked, {broken} broken.");
        return broken > 0 ? 1 : 0;
    }
}
