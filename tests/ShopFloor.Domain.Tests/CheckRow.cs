namespace ShopFloor.Domain.Tests;

/// <summary>
/// One value to check against. The files in CheckValues hold what was published, what it comes to when recomputed, how far both may differ,
/// where it was published, whether the source's text was seen or is from memory, and its standing: published, or derived by us.
/// </summary>
public sealed record CheckRow(
    string Id,
    string Quantity,
    IReadOnlyDictionary<string, string> Inputs,
    double? Published,
    double Recomputed,
    double Tolerance,
    string Source,
    string Seen,
    string Standing
)
{
    public double this[string name] => double.Parse(Inputs[name], CultureInfo.InvariantCulture);

    public double Or(string name, double otherwise) => Inputs.ContainsKey(name) ? this[name] : otherwise;

    public string Word(string name) => Inputs[name];

    public bool IsPublished => Standing.StartsWith("published", StringComparison.Ordinal) && Published is not null;

    /// <summary>Within the row's tolerance of the recomputed value and, where there is one, of the published value.</summary>
    public void Check(double actual)
    {
        Assert.True(
            Math.Abs(actual - Recomputed) <= Tolerance,
            $"{Id} {Quantity}: {actual:R}, expected {Recomputed:R} ± {Tolerance:R} ({Source})"
        );
        if (Published is { } published)
        {
            Assert.True(Math.Abs(actual - published) <= Tolerance, $"{Id} {Quantity}: {actual:R}, published {published:R} ({Source})");
        }
    }

    public override string ToString() => $"{Id}: {Quantity}";
}

/// <summary>Reads the files in CheckValues.</summary>
public static class CheckValues
{
    public static IReadOnlyList<string> Topics { get; } =
    [.. Directory.GetFiles(Folder, "*.csv").Select(path => Path.GetFileNameWithoutExtension(path)).Order(StringComparer.Ordinal)];

    private static string Folder => Path.Combine(AppContext.BaseDirectory, "CheckValues");

    public static IReadOnlyList<CheckRow> Read(string topic) =>
        [.. File.ReadLines(Path.Combine(Folder, topic + ".csv")).Skip(1).Select(line => Parse(Split(line)))];

    /// <summary>The ids of a topic, each a case of its own in the test report.</summary>
    public static TheoryData<string> Ids(string topic)
    {
        var data = new TheoryData<string>();
        foreach (var row in Read(topic))
        {
            data.Add(row.Id);
        }

        return data;
    }

    public static CheckRow Row(string topic, string id) => Read(topic).Single(row => string.Equals(row.Id, id, StringComparison.Ordinal));

    private static CheckRow Parse(List<string> cells) =>
        new(
            cells[0],
            cells[1],
            cells[2].Split(';').Select(pair => pair.Split('=', 2)).ToDictionary(p => p[0], p => p[1], StringComparer.Ordinal),
            cells[3].Length == 0 ? null : Number(cells[3]),
            Number(cells[4]),
            Number(cells[5]),
            cells[6],
            cells[7],
            cells[8]
        );

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static List<string> Split(string line)
    {
        List<string> cells = [];
        var cell = new System.Text.StringBuilder();
        var quoted = false;
        foreach (var c in line)
        {
            if (c == '"')
            {
                quoted = !quoted;
            }
            else if (c == ',' && !quoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
            {
                cell.Append(c);
            }
        }

        cells.Add(cell.ToString());
        return cells;
    }
}
