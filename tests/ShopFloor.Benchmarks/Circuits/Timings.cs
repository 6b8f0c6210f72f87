using System.Collections.Concurrent;
using System.Diagnostics;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>Durations by the name of what was done, in the order in which names first came.</summary>
internal sealed class Timings
{
    private readonly ConcurrentDictionary<string, ConcurrentBag<double>> byName = new(StringComparer.Ordinal);
    private readonly ConcurrentQueue<string> names = new();

    /// <summary>Does it and keeps how long it took.</summary>
    public async Task MeasureAsync(string name, Func<Task> work)
    {
        var started = Stopwatch.GetTimestamp();
        await work();
        Keep(name, Stopwatch.GetElapsedTime(started));
    }

    /// <summary>Keeps a duration measured elsewhere.</summary>
    public void Keep(string name, TimeSpan took)
    {
        if (byName.TryAdd(name, []))
            names.Enqueue(name);
        byName[name].Add(took.TotalMilliseconds);
    }

    /// <summary>One line each: how often, median, 95 of 100, worst, in milliseconds.</summary>
    public IEnumerable<string> Lines()
    {
        foreach (var name in names)
        {
            var sorted = byName[name].Order().ToArray();
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"  {name, -34} n {sorted.Length, 4}   p50 {At(sorted, 0.5), 7:0.0}   p95 {At(sorted, 0.95), 7:0.0}   max {sorted[^1], 7:0.0} ms"
            );
        }
    }

    private static double At(double[] sorted, double share) => sorted[Math.Min(sorted.Length - 1, (int)(sorted.Length * share))];
}
