using System.Collections.Concurrent;

namespace ShopFloor.Web.Api;

/// <summary>
/// Hashes of the keys that were good when they were last sent. Calls are counted before a key is looked up, and any word can be sent as one:
/// only a known key has a count of its own. Registered once.
/// </summary>
public sealed class KnownKeys
{
    private readonly ConcurrentDictionary<string, bool> hashes = new(StringComparer.Ordinal);

    /// <summary>Whether it was good.</summary>
    public bool Has(string hash) => hashes.ContainsKey(hash);

    /// <summary>It was found to be good, or not to be any more.</summary>
    public void Note(string hash, bool isGood)
    {
        if (isGood)
            hashes.TryAdd(hash, true);
        else
            hashes.TryRemove(hash, out _);
    }
}
