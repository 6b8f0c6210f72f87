using System.Collections.Concurrent;

namespace ShopFloor.Planning.Layout;

/// <summary>Answers of <see cref="FitCheck"/> that checks of equal surfaces, spacing and effort share, from any number of threads.</summary>
public sealed class FitAnswers
{
    /// <summary>So many are kept, some 3 MB; what comes later is answered anew each time.</summary>
    private const int Most = 50_000;

    private readonly ConcurrentDictionary<UInt128, bool> known = [];
    private int kept;

    /// <summary>The answer for a set, if it is known.</summary>
    internal bool TryGet(UInt128 set, out bool answer) => known.TryGetValue(set, out answer);

    /// <summary>Keeps the answer for a set.</summary>
    internal void Keep(UInt128 set, bool answer)
    {
        if (kept < Most && known.TryAdd(set, answer))
            Interlocked.Increment(ref kept);
    }
}
