using CsvHelper;
using ShopFloor.Domain;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>A column of a file.</summary>
/// <param name="Name">As the heading line has it.</param>
/// <param name="IsNeeded">False: it may be left out.</param>
public sealed record CsvColumn(string Name, bool IsNeeded = false);

/// <summary>A row of a file.</summary>
/// <param name="Number">Its line in the file.</param>
/// <param name="Cells">By column; a column that the file has not got is empty.</param>
public sealed record CsvRow(int Number, IReadOnlyDictionary<string, string> Cells)
{
    /// <summary>Columns that the file has not got, or the row not any more: nothing is said of them.</summary>
    public IReadOnlySet<string> Absent { get; init; } = new HashSet<string>(StringComparer.Ordinal);
}

/// <summary>Reads a CSV file with a heading line; comma, semicolon or tab between, with or without a byte order mark.</summary>
public static class CsvSheet
{
    /// <summary>Most rows of one file.</summary>
    public const int Most = 20_000;

    private static readonly CsvReaderOptions Options = new()
    {
        HasHeader = false,
        TrackLineNumbers = true,
        FieldCountMismatch = CsvFieldCountHandling.Allow,
        MalformedData = CsvMalformedDataHandling.Recover,
    };

    /// <summary>Reads it.</summary>
    /// <returns>The rows that are not empty, or everything that is wrong with the heading.</returns>
    public static Result<IReadOnlyList<CsvRow>> Read(string text, IReadOnlyList<CsvColumn> columns)
    {
        var plain = text.TrimStart('\uFEFF');
        var first = plain.ReplaceLineEndings("\n").Split('\n', 2)[0];
        var separator = new[] { ',', ';', '\t' }.MaxBy(s => first.Count(c => c == s));
        using var csv = CsvReader.FromText(plain, Options with { Separator = separator });
        if (!csv.Read())
            return new Refusal("file-empty", "The file is empty.", "File");
        var heads = Cells(csv).Select(h => h.Trim().ToLowerInvariant()).ToList();
        var faults = HeadFaults(heads, columns).ToList();
        return faults.Count > 0 ? Result<IReadOnlyList<CsvRow>>.Refused(faults) : Rows(csv, heads, columns);
    }

    private static IEnumerable<Refusal> HeadFaults(List<string> heads, IReadOnlyList<CsvColumn> columns)
    {
        foreach (var missing in columns.Where(c => c.IsNeeded && !heads.Contains(c.Name, StringComparer.Ordinal)))
            yield return new Refusal("column-missing", $"The column “{missing.Name}” is missing.", "File");
        foreach (var unknown in heads.Where(h => h.Length > 0 && !columns.Any(c => c.Name == h)).Take(5))
            yield return new Refusal(
                "column-unknown",
                $"The column “{Short(unknown)}” is not known. Take it out, or correct its name.",
                "File"
            );
        foreach (var twice in heads.Where(h => h.Length > 0).GroupBy(h => h, StringComparer.Ordinal).Where(g => g.Count() > 1).Take(5))
            yield return new Refusal("column-twice", $"The column “{Short(twice.Key)}” stands there twice.", "File");
    }

    private static Result<IReadOnlyList<CsvRow>> Rows(CsvReader csv, List<string> heads, IReadOnlyList<CsvColumn> columns)
    {
        List<CsvRow> rows = [];
        while (csv.Read())
        {
            var cells = Cells(csv);
            if (Array.TrueForAll(cells, string.IsNullOrWhiteSpace))
                continue;
            if (rows.Count == Most)
                return new Refusal("file-long", $"The file has more than {Most} rows: split it.", "File");
            rows.Add(
                new CsvRow(
                    (int)csv.LineNumber,
                    columns.ToDictionary(
                        c => c.Name,
                        c => IsThere(heads.IndexOf(c.Name), cells) ? CsvText.Plain(cells[heads.IndexOf(c.Name)]) : "",
                        StringComparer.Ordinal
                    )
                )
                {
                    Absent = columns.Select(c => c.Name).Where(c => !IsThere(heads.IndexOf(c), cells)).ToHashSet(StringComparer.Ordinal),
                }
            );
        }
        return rows.Count == 0 ? new Refusal("file-empty", "The file has a heading and no rows.", "File") : rows;
    }

    private static bool IsThere(int at, string[] cells) => at >= 0 && at < cells.Length;

    private static string[] Cells(CsvReader csv) => [.. Enumerable.Range(0, csv.FieldCount).Select(csv.GetString)];

    private static string Short(string text) => text.Length > 30 ? text[..30] + "…" : text;
}
