using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Tests.Day;
using JsonValue = System.Text.Json.Nodes.JsonValue;

namespace ShopFloor.Planning.Tests.Exchange;

/// <summary>Every field of both files, one at a time: missing, repeated, of the wrong type, out of range, with too many decimals, or beside one
/// that nobody knows. Each is refused with its place, line and reason.</summary>
public sealed class StrictReadingTests
{
    /// <summary>Items of a list that are tried; the others are alike.</summary>
    private const int ItemsTried = 2;

    // Fields that may be left out; a wipe's longest wait may not.
    private static readonly HashSet<string> Optional =
    [
        "max_wait_s",
        "piece",
        "step",
        "batch",
        "from_c",
        "to_c",
        "name",
        "helps",
        "chains",
        "not_before_s",
        "at_s",
        "station",
        "with",
    ];

    private static readonly HashSet<string> MayBeNull =
    [
        "places",
        "heater_w",
        "vapour_limit_g",
        "use_by_s",
        "max_s",
        "last_end_s",
        "published",
        "person",
        "end_s",
        "rounds",
    ];

    private static readonly JsonSerializerOptions Lines = new() { WriteIndented = true };

    private sealed record File(JsonNode Root, Func<byte[], IReadOnlyList<ReadProblem>> Read);

    private static readonly Lazy<List<File>> Files = new(() =>
    {
        var day = DayMaker.Make(4, 6, true);
        var plan = DayPlanner.First(day);
        var later = AtWork.Later(day, plan, 4_000);
        static IReadOnlyList<ReadProblem> OfDay(byte[] b) => DayReader.Read(b, "day.json").Problems;
        static IReadOnlyList<ReadProblem> OfPlan(byte[] b) => PlanReader.Read(b, "plan.json").Problems;
        return
        [
            new File(Parsed(TwoPlates.DayBytes), OfDay),
            new File(Parsed(DayWriter.Write(later)), OfDay),
            new File(Parsed(TwoPlates.PlanBytes), OfPlan),
            new File(Parsed(PlanWriter.Write(plan)), OfPlan),
        ];
    });

    private static JsonNode Parsed(byte[] bytes) => JsonNode.Parse(bytes)!;

    [Fact]
    public void Read_FieldMissing_NamesIt() =>
        Each(
            (parent, name) => parent.Remove(name),
            (path, name, problems, _) =>
                Optional.Contains(name)
                || name == "format"
                || problems.Any(p => p.Path == path && p.Reason.Contains("missing", StringComparison.Ordinal))
        );

    [Fact]
    public void Read_FieldUnknown_NamesIt() =>
        Each(
            (parent, name) => parent[name + "_x"] = 1,
            (path, _, problems, _) => problems is [{ Reason: "unknown field" } p] && p.Path == path + "_x"
        );

    [Fact]
    public void Read_WrongType_NamesThePlace() =>
        Each((parent, name) => parent[name] = Other(parent[name]), (path, _, problems, _) => Names(problems, path));

    [Fact]
    public void Read_Null_IsRefusedUnlessTheFormatAllowsIt() =>
        Each((parent, name) => parent[name] = null, (path, name, problems, _) => MayBeNull.Contains(name) || Names(problems, path));

    [Fact]
    public void Read_NumberOutOfEveryRange_NamesThePlace() =>
        Each(
            (parent, name) =>
                parent[name] = parent[name] is JsonValue v && v.GetValueKind() == JsonValueKind.Number ? -4e18 : parent[name]?.DeepClone(),
            // The value and the bound of a plan may be anything that fits.
            (path, name, problems, was) => !IsMeasure(path, name, was) || Names(problems, path)
        );

    [Fact]
    public void Read_TooManyDecimals_NamesThePlace() =>
        Each(
            (parent, name) =>
                parent[name] =
                    parent[name] is JsonValue v && v.GetValueKind() == JsonValueKind.Number ? 1.00001m : parent[name]?.DeepClone(),
            (path, name, problems, was) => !IsMeasure(path, name, was) || Names(problems, path)
        );

    [Theory]
    [InlineData("2026-03-02T08:00:00+01:00", true)]
    [InlineData("2026-03-02T08:00Z", true)]
    [InlineData("2026-03-02T08:00:00.25-05:30", true)]
    [InlineData("2026-03-02T08:00:00", false)]
    [InlineData("2026-03-02", false)]
    [InlineData("02 03 2026-08:00", false)]
    [InlineData("2026-03-02 08:00:00+01:00", false)]
    [InlineData("Mon, 02 Mar 2026 08:00:00 +01:00", false)]
    [InlineData("2026-03-02T08:00:00+01:00\n", false)]
    [InlineData("2026-02-30T08:00:00Z", false)]
    public void Read_Zero_IsAnInstantWithOffsetInOneForm(string zero, bool isRead)
    {
        var day = Parsed(TwoPlates.DayBytes);
        day["zero"] = zero;
        var read = DayReader.Read(Encoding.UTF8.GetBytes(day.ToJsonString()), "day.json");
        Assert.Equal(isRead ? [] : ["zero"], read.Problems.Select(p => p.Path));
    }

    /// <summary>Zeros at the end say nothing, however many; a number that is not 0 is never read as 0.</summary>
    [Theory]
    [InlineData("20.0000000000000000000000000000000000", 200, "")]
    [InlineData("20.50", 205, "")]
    [InlineData("205e-1", 205, "")]
    [InlineData("0.0002050e+5", 205, "")]
    [InlineData("-0.0", 0, "")]
    [InlineData("0e99999999999", 0, "")]
    [InlineData("20.05", 0, "at most 1 decimals")]
    [InlineData("1e-40", 0, "at most 1 decimals")]
    [InlineData("-1e-99999999999", 0, "at most 1 decimals")]
    [InlineData("0.00000000000000000000000000000000000001", 0, "at most 1 decimals")]
    [InlineData("1e99999999999", 0, "must be a number from -100 to 100")]
    [InlineData("100.05", 0, "at most 1 decimals")]
    [InlineData("101", 0, "must be a number from -100 to 100")]
    public void Read_Number_IsExactlyWhatItsDigitsSay(string number, int tenths, string reason)
    {
        var text = Encoding.UTF8.GetString(TwoPlates.DayBytes).Replace("\"room_c\": 20", $"\"room_c\": {number}", StringComparison.Ordinal);
        var read = DayReader.Read(Encoding.UTF8.GetBytes(text), "day.json");
        Assert.Equal(reason.Length == 0 ? [] : [("room_c", reason)], read.Problems.Select(p => (p.Path, p.Reason)));
        if (read.IsOk)
            Assert.Equal(tenths, read.Value.RoomTenthsC);
    }

    [Fact]
    public void Read_FieldRepeated_NamesItsSecondPlace()
    {
        foreach (var file in Files.Value)
        foreach (var (path, name, parent) in Places(file.Root, ""))
        {
            var text = file.Root.ToJsonString(Lines);
            var field = new JsonObject { [name] = parent[name]?.DeepClone() }.ToJsonString()[1..^1];
            var at = Find(text, file.Root, path, name);
            var twice = text.Insert(at, field + ",");
            var problems = file.Read(Encoding.UTF8.GetBytes(twice));
            Assert.True(problems.Any(p => p.Path == path && p.Reason == "field is repeated"), $"{path}: {string.Join("; ", problems)}");
        }
    }

    private static void Each(Action<JsonObject, string> change, Func<string, string, IReadOnlyList<ReadProblem>, JsonNode?, bool> right)
    {
        var tried = 0;
        foreach (var file in Files.Value)
        foreach (var (path, name, parent) in Places(file.Root, "").ToList())
        {
            var root = file.Root.DeepClone();
            change(At(root, path), name);
            var bytes = Encoding.UTF8.GetBytes(root.ToJsonString(Lines));
            var problems = file.Read(bytes);
            Assert.True(right(path, name, problems, parent[name]), $"{path}: {string.Join("; ", problems.Select(p => p.ToString()))}");
            Assert.All(problems, p => Assert.InRange(p.Line, 1, bytes.Count(b => b == '\n') + 1));
            tried++;
        }
        Assert.True(tried > 300, $"{tried} fields");
    }

    private static bool Names(IReadOnlyList<ReadProblem> problems, string path) =>
        problems.Any(p => p.Path == path && p.Reason.Length > 0 && p.ToString().StartsWith(p.File + ":", StringComparison.Ordinal));

    private static bool IsMeasure(string path, string name, JsonNode? value) =>
        value is JsonValue v
        && v.GetValueKind() == JsonValueKind.Number
        && !path.StartsWith("objective", StringComparison.Ordinal)
        && (
            name.EndsWith("_s", StringComparison.Ordinal)
            || name.EndsWith("_mm", StringComparison.Ordinal)
            || name.EndsWith("_c", StringComparison.Ordinal)
        );

    private static JsonNode Other(JsonNode? now) =>
        now switch
        {
            JsonValue v when v.GetValueKind() == JsonValueKind.String => 5,
            JsonValue v when v.GetValueKind() is JsonValueKind.True or JsonValueKind.False => 1,
            _ => "x y",
        };

    /// <summary>Every field with its path and the object it stands in.</summary>
    private static IEnumerable<(string Path, string Name, JsonObject Parent)> Places(JsonNode? node, string path)
    {
        if (node is JsonObject o)
            foreach (var (name, value) in o)
            {
                var at = path.Length == 0 ? name : $"{path}.{name}";
                yield return (at, name, o);
                foreach (var below in Places(value, at))
                    yield return below;
            }
        else if (node is JsonArray list)
            for (var i = 0; i < Math.Min(ItemsTried, list.Count); i++)
                foreach (var below in Places(list[i], FormattableString.Invariant($"{path}[{i}]")))
                    yield return below;
    }

    private static JsonObject At(JsonNode root, string path) => Places(root, "").First(p => p.Path == path).Parent;

    // Before the field's own name, counted among all fields of that name in the order of the text.
    private static int Find(string text, JsonNode root, string path, string name)
    {
        var before = Everything(root, "").Where(p => p.Name == name).TakeWhile(p => p.Path != path).Count();
        var at = -1;
        for (var i = 0; i <= before; i++)
            at = text.IndexOf($"\"{name}\":", at + 1, StringComparison.Ordinal);
        return at;
    }

    private static IEnumerable<(string Path, string Name)> Everything(JsonNode? node, string path)
    {
        if (node is JsonObject o)
            foreach (var (name, value) in o)
            {
                var at = path.Length == 0 ? name : $"{path}.{name}";
                yield return (at, name);
                foreach (var below in Everything(value, at))
                    yield return below;
            }
        else if (node is JsonArray list)
            for (var i = 0; i < list.Count; i++)
                foreach (var below in Everything(list[i], FormattableString.Invariant($"{path}[{i}]")))
                    yield return below;
    }
}
