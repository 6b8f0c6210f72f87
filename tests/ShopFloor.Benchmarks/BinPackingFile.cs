using ShopFloor.Planning.Layout;

namespace ShopFloor.Benchmarks;

/// <summary>One published two-dimensional bin-packing instance. The file's height is the depth here.</summary>
internal sealed record BinPackingInstance(int Class, int Count, int Number, int BinWidth, int BinHeight, (int Width, int Height)[] Items)
{
    public LayoutTask ToTask(bool turning) =>
        LayoutTask.Create(
            [new Surface(BinWidth, BinHeight)],
            default,
            [
                .. Items.Select(
                    (item, i) => new Footprint(i.ToString("D4", CultureInfo.InvariantCulture), item.Width, item.Height, 0, turning)
                ),
            ]
        );

    public string FileName(bool turning) =>
        string.Create(CultureInfo.InvariantCulture, $"c{Class:D2}-n{Count:D3}-{Number:D2}-{(turning ? "turning" : "fixed")}.json");
}

/// <summary>Reads <c>Class_XX.2bp</c>: numbers in lines, anything after them is a remark.</summary>
internal static class BinPackingFile
{
    public static IEnumerable<BinPackingInstance> ReadAll(string folder)
    {
        var files = Directory.GetFiles(folder, "*.2bp").Order(StringComparer.Ordinal).ToArray();
        if (files.Length == 0)
            throw new InputFault($"There is no .2bp file in '{folder}'.");
        return files.SelectMany(Read);
    }

    public static IEnumerable<BinPackingInstance> Read(string file)
    {
        var lines = File.ReadAllLines(file);
        var at = 0;
        while (SkipBlank(lines, ref at))
        {
            var cls = Numbers(file, lines, ref at, 1)[0];
            var n = Numbers(file, lines, ref at, 1)[0];
            if (n < 1)
                throw InputFault.At(file, at, $"The number of items is {n}.");
            var number = Numbers(file, lines, ref at, 2)[0];
            var bin = Numbers(file, lines, ref at, 2);
            var items = new (int Width, int Height)[n];
            for (var i = 0; i < n; i++)
            {
                var size = Numbers(file, lines, ref at, 2);
                if (size[0] < 1 || size[1] < 1 || size[0] > bin[0] || size[1] > bin[1])
                    throw InputFault.At(file, at, $"The item {size[0]} x {size[1]} does not fit a bin of {bin[0]} x {bin[1]}.");
                items[i] = (size[1], size[0]);
            }
            yield return new(cls, n, number, bin[1], bin[0], items);
        }
    }

    private static bool SkipBlank(string[] lines, ref int at)
    {
        while (at < lines.Length && string.IsNullOrWhiteSpace(lines[at]))
            at++;
        return at < lines.Length;
    }

    private static int[] Numbers(string file, string[] lines, ref int at, int wanted)
    {
        if (!SkipBlank(lines, ref at))
            throw InputFault.At(file, lines.Length, "The file ends in the middle of an instance.");
        var words = lines[at++].Split((char[])[' ', '\t'], StringSplitOptions.RemoveEmptyEntries);
        var numbers = new int[wanted];
        for (var i = 0; i < wanted; i++)
            if (i >= words.Length || !int.TryParse(words[i], NumberStyles.None, CultureInfo.InvariantCulture, out numbers[i]))
                throw InputFault.At(file, at, $"{wanted} whole numbers are expected.");
        return numbers;
    }
}
