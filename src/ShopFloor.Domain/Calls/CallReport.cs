namespace ShopFloor.Domain.Calls;

/// <summary>A source of calls and how often it called.</summary>
public readonly record struct CallSource(string Source, int Calls);

/// <summary>How much the workshop was called in a span of time.</summary>
/// <param name="Calls">How many calls came up.</param>
/// <param name="PerHour">Calls an hour.</param>
/// <param name="Top">The sources that called most, at most five, the most frequent first.</param>
/// <param name="MedianSecondsToSeen">Median time until somebody said to be on it; null: nobody ever did.</param>
/// <param name="NeverSeen">Calls whose cause went away before anybody said so.</param>
public sealed record CallReport(int Calls, double PerHour, IReadOnlyList<CallSource> Top, double? MedianSecondsToSeen, int NeverSeen)
{
    /// <summary>
    /// The most calls an hour for one person that can still be taken seriously: one in ten minutes (EEMUA 191 target for the long-term
    /// average, quoted in public articles).
    /// </summary>
    public const double MostPerHourAndPerson = 6;

    /// <summary>The report over the calls that came up from one instant until another.</summary>
    /// <param name="all">Calls.</param>
    /// <param name="from">Inclusive, UTC.</param>
    /// <param name="until">Exclusive, after <paramref name="from"/>, UTC.</param>
    public static CallReport Of(IEnumerable<Call> all, DateTimeOffset from, DateTimeOffset until)
    {
        var calls = all.Where(c => c.RaisedAt >= from && c.RaisedAt < until).ToList();
        double[] waits = [.. calls.Where(c => c.SeenAt is not null).Select(c => (c.SeenAt!.Value - c.RaisedAt).TotalSeconds).Order()];
        return new CallReport(
            calls.Count,
            until > from ? calls.Count / (until - from).TotalHours : 0,
            [
                .. calls
                    .GroupBy(c => c.Source, StringComparer.Ordinal)
                    .Select(g => new CallSource(g.Key, g.Count()))
                    .OrderByDescending(s => s.Calls)
                    .ThenBy(s => s.Source, StringComparer.Ordinal)
                    .Take(5),
            ],
            waits.Length == 0 ? null : (waits[(waits.Length - 1) / 2] + waits[waits.Length / 2]) / 2,
            calls.Count(c => c.SeenAt is null && c.ClearedAt is not null)
        );
    }
}
