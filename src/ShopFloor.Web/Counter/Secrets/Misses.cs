using System.Collections.Concurrent;

namespace ShopFloor.Web.Counter.Secrets;

/// <summary>
/// Counts how often an address asked for a secret that is none: links here, keys of the API in a count of their own. Who guesses too often
/// gets no more answers for a while; who has a good one never notices.
/// </summary>
/// <param name="time">The clock.</param>
/// <param name="most">Misses in a minute after which an address waits.</param>
public sealed class Misses(TimeProvider time, int most)
{
    /// <summary>Misses in a minute for links.</summary>
    public const int Most = 20;

    private const int MostAddresses = 10_000;
    private static readonly TimeSpan Window = TimeSpan.FromMinutes(1);
    private readonly ConcurrentDictionary<string, Count> counts = new(StringComparer.Ordinal);

    /// <summary>True when this caller has guessed too often.</summary>
    public bool TooMany(HttpContext http) => WaitOf(http) is not null;

    /// <summary>How long a caller who has guessed too often still waits, more than zero; null: not at all.</summary>
    public TimeSpan? WaitOf(HttpContext http) =>
        counts.TryGetValue(AddressOf(http), out var count)
        && count.Number >= most
        && Window - time.GetElapsedTime(count.Since) is var wait
        && wait > TimeSpan.Zero
            ? wait
            : null;

    /// <summary>Notes a miss; true when it is the one with which the waiting begins.</summary>
    public bool Note(HttpContext http)
    {
        // Not the time of day: that may be put back while an address waits.
        var now = time.GetTimestamp();
        if (counts.Count > MostAddresses)
            foreach (var (address, count) in counts)
                if (time.GetElapsedTime(count.Since, now) >= Window)
                    counts.TryRemove(address, out _);
        var noted = counts.AddOrUpdate(
            AddressOf(http),
            _ => new Count(now, 1),
            (_, count) => time.GetElapsedTime(count.Since, now) >= Window ? new Count(now, 1) : count with { Number = count.Number + 1 }
        );
        return noted.Number == most;
    }

    private static string AddressOf(HttpContext http) => http.Connection.RemoteIpAddress?.ToString() ?? "";

    private readonly record struct Count(long Since, int Number);
}
