using System.Collections.Concurrent;

namespace ShopFloor.Web.Counter.Secrets;

/// <summary>
/// Counts how often an address asked for a secret link that is none. Who guesses too often gets no more answers for a while; who has a
/// good link never notices.
/// </summary>
public sealed class Misses(TimeProvider time)
{
    /// <summary>Misses in a minute after which an address waits.</summary>
    public const int Most = 20;

    private const int MostAddresses = 10_000;
    private static readonly TimeSpan Window = TimeSpan.FromMinutes(1);
    private readonly ConcurrentDictionary<string, Count> counts = new(StringComparer.Ordinal);

    /// <summary>True when this caller has guessed too often.</summary>
    public bool TooMany(HttpContext http) =>
        counts.TryGetValue(AddressOf(http), out var count) && count.Since + Window > time.GetUtcNow() && count.Number >= Most;

    /// <summary>Notes a miss.</summary>
    public void Note(HttpContext http)
    {
        var now = time.GetUtcNow();
        if (counts.Count > MostAddresses)
            foreach (var (address, count) in counts)
                if (count.Since + Window <= now)
                    counts.TryRemove(address, out _);
        counts.AddOrUpdate(
            AddressOf(http),
            _ => new Count(now, 1),
            (_, count) => count.Since + Window <= now ? new Count(now, 1) : count with { Number = count.Number + 1 }
        );
    }

    private static string AddressOf(HttpContext http) => http.Connection.RemoteIpAddress?.ToString() ?? "";

    private readonly record struct Count(DateTimeOffset Since, int Number);
}
