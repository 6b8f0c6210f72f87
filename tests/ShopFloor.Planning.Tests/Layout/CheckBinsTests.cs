using ShopFloor.Benchmarks;

namespace ShopFloor.Planning.Tests.Layout;

/// <summary>The benchmark's verifier finds every fault that is put into a sound lay-out.</summary>
public sealed class CheckBinsTests
{
    private static readonly BinPackingInstance Instance = new(1, 3, 1, 10, 8, [(6, 8), (4, 5), (9, 3)]);

    private static WrittenBins Solution(bool turning, params WrittenItem[][] bins) => new([1, 3, 1], turning, bins);

    [Fact]
    public void Findings_SoundSolution_None() =>
        Assert.Empty(CheckBins.Findings(Instance, Solution(false, [new(0, 0, 0, 6, 8), new(1, 6, 0, 4, 5)], [new(2, 0, 0, 9, 3)])));

    [Fact]
    public void Findings_TurnedWhereAllowed_None() =>
        Assert.Empty(CheckBins.Findings(Instance, Solution(true, [new(0, 0, 0, 6, 8), new(1, 6, 0, 4, 5)], [new(2, 1, 5, 9, 3)])));

    public static TheoryData<int, string> Faults =>
        new()
        {
            { 0, "items 0 and 1 overlap in bin 1" },
            { 1, "item 1 reaches out of bin 1" },
            { 2, "item 2 is missing" },
            { 3, "item 2 is placed 2 times" },
            { 4, "item 1 is 4 x 5, not 5 x 4" },
            { 5, "item 7 is unknown" },
            { 6, "bin 3 is empty" },
            { 7, "item 0 reaches out of bin 1" },
        };

    [Theory]
    [MemberData(nameof(Faults))]
    public void Findings_BrokenSolution_NamesTheFault(int which, string finding)
    {
        WrittenItem[] first = [new(0, 0, 0, 6, 8), new(1, 6, 0, 4, 5)];
        WrittenItem[] second = [new(2, 0, 0, 9, 3)];
        var solution = which switch
        {
            0 => Solution(false, [first[0], first[1] with { X = 5 }], second),
            1 => Solution(false, [first[0], first[1] with { Y = 4 }], second),
            2 => Solution(false, first),
            3 => Solution(false, first, second, second),
            4 => Solution(false, [first[0], new(1, 0, 0, 5, 4)], second),
            5 => Solution(false, first, second, [new(7, 0, 0, 1, 1)]),
            6 => Solution(false, first, second, []),
            _ => Solution(false, [first[0] with { X = -1 }, first[1]], second),
        };
        Assert.Contains(finding, CheckBins.Findings(Instance, solution));
    }

    [Theory]
    [InlineData("    1\n   2\n  1  1\n  10 10\n  3 4\n", ":5: The file ends in the middle of an instance.")]
    [InlineData("    1\n   2\n  1  1\n  10 10\n  3 4\n  x 2\n", ":6: 2 whole numbers are expected.")]
    [InlineData("    1\n   1\n  1  1\n  10 10\n  3 14\n", ":5: The item 3 x 14 does not fit a bin of 10 x 10.")]
    public void Read_FileWithAFault_NamesFileLineAndReason(string text, string reason)
    {
        var folder = Directory.CreateTempSubdirectory("layout");
        try
        {
            var file = Path.Combine(folder.FullName, "Class_01.2bp");
            File.WriteAllText(file, text);
            var fault = Assert.Throws<InputFault>(() => BinPackingFile.Read(file).ToArray());
            Assert.EndsWith(reason, fault.Message, StringComparison.Ordinal);
            Assert.StartsWith(file, fault.Message, StringComparison.Ordinal);
        }
        finally
        {
            folder.Delete(true);
        }
    }
}
