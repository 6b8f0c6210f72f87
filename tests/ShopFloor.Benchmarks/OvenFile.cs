using System.Text.RegularExpressions;
using ShopFloor.Planning.Loads;

namespace ShopFloor.Benchmarks;

/// <summary>One published oven scheduling instance, numbers as in the file.</summary>
internal sealed record OvenInstance(int Number, LoadProblem Problem, long Normaliser);

/// <summary>Reads the published <c>.dzn</c> files: assignments <c>name=value;</c> of numbers, lists, matrices and lists of sets.</summary>
internal sealed partial class OvenFile
{
    private readonly string file;
    private readonly Dictionary<string, (int Line, string Text)> values = new(StringComparer.Ordinal);

    private OvenFile(string file)
    {
        this.file = file;
        var text = File.ReadAllText(file);
        foreach (Match match in Assignment().Matches(text))
            values[match.Groups["name"].Value] = (text.AsSpan(0, match.Index).Count('\n') + 1, match.Groups["value"].Value);
    }

    public static OvenInstance Read(string file)
    {
        var number = Path.GetFileNameWithoutExtension(file);
        if (!int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out var instance))
            throw new InputFault($"{file}: the name of the file must be the number of the instance.");
        return new OvenFile(file).ToInstance(instance);
    }

    private OvenInstance ToInstance(int instance)
    {
        var (families, ovens, jobs, intervals) = (Number("a"), Number("m"), Number("n"), Number("s"));
        var times = Matrix("setup_times", families);
        var costs = Matrix("setup_costs", families);
        var from = Matrix("m_a_s", ovens, intervals);
        var to = Matrix("m_a_e", ovens, intervals);
        var capacity = List("max_cap", ovens);
        var first = List("initState", ovens);
        var eligible = Sets("eligible_machine", jobs);
        var release = List("earliest_start", jobs);
        var due = List("latest_end", jobs);
        var min = List("min_time", jobs);
        var max = List("max_time", jobs);
        var size = List("size", jobs);
        var attribute = List("attribute", jobs);
        var weights = new LoadWeights(
            Number("mult_factor_total_runtime"),
            Number("mult_factor_total_setupcosts"),
            Number("mult_factor_total_setuptimes"),
            Number("mult_factor_finished_toolate")
        );
        var problem = new LoadProblem(
            [
                .. Enumerable
                    .Range(0, jobs)
                    .Select(j => new LoadJob(
                        (j + 1).ToString("D4", CultureInfo.InvariantCulture),
                        attribute[j] - 1,
                        min[j],
                        max[j],
                        release[j],
                        due[j],
                        size[j],
                        1,
                        [.. eligible[j].Select(o => o - 1)]
                    )),
            ],
            [
                .. Enumerable
                    .Range(0, ovens)
                    .Select(o => new LoadOven(
                        (o + 1).ToString(CultureInfo.InvariantCulture),
                        capacity[o],
                        first[o] - 1,
                        [.. Enumerable.Range(0, intervals).Select(i => new Span(from[o, i], to[o, i])).Where(i => i.From < i.To)]
                    )),
            ],
            families,
            times,
            costs,
            weights
        );
        return new(instance, problem, Number("upper_bound_integer_objective"));
    }

    private (int Line, string Text) Value(string name) =>
        values.TryGetValue(name, out var value) ? value : throw new InputFault($"{file}: '{name}' is missing.");

    private int Number(string name)
    {
        var (line, text) = Value(name);
        return Int(line, name, text.Trim());
    }

    private int Int(int line, string name, string text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw InputFault.At(file, line, $"'{name}': '{text}' is no whole number.");

    private int[] List(string name, int wanted)
    {
        var (line, text) = Value(name);
        var words = text.Trim(' ', '[', ']', '\n', '\r').Split(',');
        if (words.Length != wanted)
            throw InputFault.At(file, line, $"'{name}' has {words.Length} entries, {wanted} are expected.");
        return [.. words.Select(w => Int(line, name, w.Trim()))];
    }

    private int[,] Matrix(string name, int rows, int columns = -1)
    {
        var (line, text) = Value(name);
        columns = columns < 0 ? rows : columns;
        var lines = text.Trim().Trim('[', ']').Split('|', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (lines.Length < rows)
            throw InputFault.At(file, line, $"'{name}' has {lines.Length} rows, {rows} are expected.");
        var matrix = new int[rows, columns];
        for (var r = 0; r < rows; r++)
        {
            var words = lines[r].Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
            if (words.Length != columns)
                throw InputFault.At(file, line + r, $"'{name}' has {words.Length} columns in row {r + 1}, {columns} are expected.");
            for (var c = 0; c < columns; c++)
                matrix[r, c] = Int(line + r, name, words[c]);
        }
        return matrix;
    }

    private int[][] Sets(string name, int wanted)
    {
        var (line, text) = Value(name);
        var sets = Braces().Matches(text);
        if (sets.Count != wanted)
            throw InputFault.At(file, line, $"'{name}' has {sets.Count} sets, {wanted} are expected.");
        return [.. sets.Select((s, k) => s.Groups["list"].Value.Split(',').Select(w => Int(line + k, name, w.Trim())).ToArray())];
    }

    [GeneratedRegex(@"(?<name>[A-Za-z_]+)\s*=\s*(?<value>[^;]*);", RegexOptions.ExplicitCapture, 2000)]
    private static partial Regex Assignment();

    [GeneratedRegex(@"\{(?<list>[^}]*)\}", RegexOptions.ExplicitCapture, 2000)]
    private static partial Regex Braces();
}
