namespace ShopFloor.Planning;

/// <summary>
/// A small random generator whose sequence depends on the seed alone, on every machine and every version of the runtime
/// (xorshift64* stepped from a splitmix64-mixed seed; S. Vigna, ACM Transactions on Mathematical Software 42(4), 2016).
/// </summary>
public sealed class SeededRandom
{
    private ulong state;

    /// <summary>Starts the sequence of a seed.</summary>
    /// <param name="seed">Any number; neighbouring seeds give unrelated sequences.</param>
    public SeededRandom(ulong seed)
    {
        var z = seed + 0x9E3779B97F4A7C15UL;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        state = (z ^ (z >> 31)) | 1;
    }

    /// <summary>The next 64 random bits.</summary>
    public ulong NextBits()
    {
        state ^= state >> 12;
        state ^= state << 25;
        state ^= state >> 27;
        return state * 0x2545F4914F6CDD1DUL;
    }

    /// <summary>A whole number from 0 up to, not including, <paramref name="below"/>.</summary>
    /// <param name="below">At least 1.</param>
    public int Next(int below) => (int)(((NextBits() >> 32) * (ulong)below) >> 32);

    /// <summary>A number in [0, 1).</summary>
    public double NextUnit() => (NextBits() >> 11) * (1.0 / (1UL << 53));
}
