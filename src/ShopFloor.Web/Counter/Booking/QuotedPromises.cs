using System.Collections.Concurrent;
using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>
/// Promises that were computed a moment ago. A promise plans the shop's days, and a customer who types a name asks for the same one again
/// and again: so an answer is kept until anything that plans depend on changes, and for a minute at most.
/// </summary>
public sealed class QuotedPromises : IDisposable
{
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(1);
    private static readonly Topic[] Causes =
    [
        Topic.Piece,
        Topic.Batch,
        Topic.Order,
        Topic.Station,
        Topic.Stock,
        Topic.Person,
        Topic.Settings,
    ];
    private readonly TimeProvider time;
    private readonly IDisposable news;
    private ConcurrentDictionary<string, Kept> kept = new(StringComparer.Ordinal);

    public QuotedPromises(Notifier notifier, TimeProvider time)
    {
        this.time = time;
        // A new dictionary, so that an answer that was begun before the change is not kept after it.
        news = notifier.Subscribe(Causes, _ => kept = new(StringComparer.Ordinal));
    }

    /// <summary>The promise for these pieces; computed when it is not known.</summary>
    public async Task<PromisedDay> ForAsync(
        PromiseDay promises,
        ShopContext context,
        IReadOnlyList<NewPieces> pieces,
        bool rush,
        CancellationToken cancel
    )
    {
        var (here, key) = (kept, JsonSerializer.Serialize(new { pieces, rush }, JsonForms.Default));
        if (here.TryGetValue(key, out var known) && time.GetUtcNow() - known.At < Longest)
            return known.Promise;
        var promise = await promises.ForAsync(context, pieces, rush, cancel);
        here[key] = new Kept(promise, time.GetUtcNow());
        return promise;
    }

    public void Dispose() => news.Dispose();

    private sealed record Kept(PromisedDay Promise, DateTimeOffset At);
}
