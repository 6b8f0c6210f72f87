using System.Collections.Concurrent;
using System.Data.Common;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using ShopFloor.Data;

namespace ShopFloor.Web.Tests.Support;

/// <summary>Counts what is asked of a database and how many rows come back, and says how the database looked for them.</summary>
public sealed partial class ReadCounter : DbCommandInterceptor
{
    private readonly ConcurrentQueue<Question> seen = [];

    private sealed record Question(string Sql, IReadOnlyList<(string Name, object? Value)> Values, int Rows);

    /// <summary>Forgets what was counted.</summary>
    public void Clear() => seen.Clear();

    /// <summary>Questions whose words have all of these.</summary>
    public int Asked(params string[] words) => Having(words).Count();

    /// <summary>Rows that came back for questions whose words have all of these.</summary>
    public int Rows(params string[] words) => Having(words).Sum(s => s.Rows);

    /// <summary>Questions for which all rows of a table were looked at, one after the other.</summary>
    public async Task<IReadOnlyList<string>> ScansAsync(ShopContext context, string table)
    {
        List<string> found = [];
        foreach (var question in Having($"FROM \"{table}\"").DistinctBy(q => q.Sql).ToList())
        {
            var names = Named()
                .Matches(question.Sql)
                .Where(m => m.Groups["table"].Value == table)
                .Select(m => m.Groups["name"].Value)
                .ToHashSet();
            if (
                (await PlanAsync(context, question)).Any(step =>
                    Scan().Match(step) is { Success: true } m && names.Contains(m.Groups["name"].Value)
                )
            )
                found.Add(question.Sql);
        }
        return found;
    }

    public override InterceptionResult DataReaderDisposing(
        DbCommand command,
        DataReaderDisposingEventData eventData,
        InterceptionResult result
    )
    {
        var values = command.Parameters.Cast<DbParameter>().Select(p => (p.ParameterName, p.Value)).ToList();
        // The last reading finds the end.
        seen.Enqueue(new(command.CommandText, values, Math.Max(0, eventData.ReadCount - 1)));
        return base.DataReaderDisposing(command, eventData, result);
    }

    private static async Task<IReadOnlyList<string>> PlanAsync(ShopContext context, Question question)
    {
        await context.Database.OpenConnectionAsync();
        await using var command = context.Database.GetDbConnection().CreateCommand();
        command.CommandText = "EXPLAIN QUERY PLAN " + question.Sql;
        foreach (var (name, value) in question.Values)
        {
            var parameter = command.CreateParameter();
            (parameter.ParameterName, parameter.Value) = (name, value);
            command.Parameters.Add(parameter);
        }
        await using var reader = await command.ExecuteReaderAsync();
        List<string> steps = [];
        while (await reader.ReadAsync())
            steps.Add(reader.GetString(3));
        return steps;
    }

    private IEnumerable<Question> Having(params string[] words) =>
        seen.Where(s => words.All(w => s.Sql.Contains(w, StringComparison.Ordinal)));

    [GeneratedRegex("\"(?<table>\\w+)\" AS \"(?<name>\\w+)\"", RegexOptions.ExplicitCapture, 1_000)]
    private static partial Regex Named();

    // Also of an index: all of its rows are as many as the table's.
    [GeneratedRegex("^SCAN (?<name>\\w+)", RegexOptions.ExplicitCapture, 1_000)]
    private static partial Regex Scan();
}
