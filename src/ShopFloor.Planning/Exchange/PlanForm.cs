namespace ShopFloor.Planning.Exchange;

/// <summary>What the format asks of a plan beyond its fields: tasks in their order, batches named R1…, L1…, S1… by start. It hides nothing from
/// the checker, which judges such a plan all the same.</summary>
public static class PlanForm
{
    /// <summary>What is not as the format has it.</summary>
    /// <param name="day">The day: a batch that runs keeps its id.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="bytes">The file that it was read from.</param>
    /// <param name="name">The file's name, for problems.</param>
    public static IReadOnlyList<ReadProblem> Check(Day day, Plan plan, ReadOnlySpan<byte> bytes, string name)
    {
        var problems = new ProblemList(name);
        problems.Learn(bytes);
        if (JsonTree.Parse(bytes, problems) is not { } root)
            return problems.Found;
        for (var i = 1; i < plan.Tasks.Count; i++)
            if (IsBefore(plan.Tasks[i], plan.Tasks[i - 1]))
                Add(
                    root,
                    problems,
                    "tasks",
                    i,
                    "start_s",
                    "tasks are sorted by start, end, station, piece: this one comes before the one above it"
                );
        Batches(day, plan, root, problems);
        return problems.Found;
    }

    private static bool IsBefore(PlanTask task, PlanTask above)
    {
        var c = task.StartS.CompareTo(above.StartS);
        if (c == 0)
            c = (task.EndS ?? 0).CompareTo(above.EndS ?? 0);
        if (c == 0)
            c = string.CompareOrdinal(task.Station, above.Station);
        // The format does not say where a task without a piece stands.
        return c == 0 && task.Piece is not null && above.Piece is not null ? string.CompareOrdinal(task.Piece, above.Piece) < 0 : c < 0;
    }

    private static void Batches(Day day, Plan plan, JsonValue root, ProblemList problems)
    {
        var running = day.Running.Batches.Select(b => b.Id).ToHashSet(StringComparer.Ordinal);
        var starts = plan
            .Tasks.Where(t => t.Batch is not null)
            .GroupBy(t => t.Batch!, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Min(t => t.StartS), StringComparer.Ordinal);
        var known = new List<(string Kind, int Number, int Start, int At)>();
        for (var i = 0; i < plan.Batches.Count; i++)
            if (plan.Batches[i] is var batch && LetterOf(batch.Kind) is { } letter && !running.Contains(batch.Id))
                if (NumberOf(batch.Id, letter) is not { } number)
                    Add(
                        root,
                        problems,
                        "batches",
                        i,
                        "id",
                        $"a {batch.Kind} that does not run yet is named {letter}1, {letter}2, … by start"
                    );
                else if (starts.TryGetValue(batch.Id, out var start))
                    known.Add((batch.Kind, number, start, i));
        foreach (var kind in known.GroupBy(k => k.Kind, StringComparer.Ordinal))
        {
            var latest = int.MinValue;
            foreach (var (_, _, start, at) in kind.OrderBy(k => k.Number))
            {
                if (start < latest)
                    Add(root, problems, "batches", at, "id", $"numbers go by start: a {kind.Key} with a smaller number starts later");
                latest = Math.Max(latest, start);
            }
        }
    }

    private static string? LetterOf(string kind) =>
        kind switch
        {
            BatchKinds.Round => "R",
            BatchKinds.Load => "L",
            BatchKinds.Session => "S",
            _ => null,
        };

    private static int? NumberOf(string id, string letter) =>
        id.Length is > 1 and <= 9 && id.StartsWith(letter, StringComparison.Ordinal) && id[1] != '0' && id.Skip(1).All(char.IsAsciiDigit)
            ? int.Parse(id.AsSpan(1), CultureInfo.InvariantCulture)
            : null;

    private static void Add(JsonValue root, ProblemList problems, string list, int index, string field, string reason)
    {
        var item = root.Fields.Find(f => f.Name == list).Value.Items[index];
        var at = item.Fields.Find(f => f.Name == field).Value?.Offset ?? item.Offset;
        problems.Add(at, FormattableString.Invariant($"{list}[{index}].{field}"), reason);
    }
}
