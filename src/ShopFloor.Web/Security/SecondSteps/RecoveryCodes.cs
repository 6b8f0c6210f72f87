using System.Security.Cryptography;
using System.Text;

namespace ShopFloor.Web.Security.SecondSteps;

/// <summary>Codes for the day on which the authenticator app is gone: each good once, kept as hashes only.</summary>
public static class RecoveryCodes
{
    /// <summary>So many are made at once (common practice, no source).</summary>
    public const int Count = 10;

    // Without letters and digits that look alike: 49 random bits in ten of them.
    private const string Alphabet = "abcdefghjkmnpqrstuvwxyz23456789";
    private const int Letters = 10;

    /// <summary>New ones, to be shown once.</summary>
    public static IReadOnlyList<string> Make() =>
        [
            .. Enumerable
                .Range(0, Count)
                .Select(_ => string.Join('-', RandomNumberGenerator.GetString(Alphabet, Letters).Chunk(5).Select(c => new string(c)))),
        ];

    /// <summary>What is kept of a code, however it was typed.</summary>
    public static string HashOf(string typed)
    {
        var plain = string.Concat(typed.Where(char.IsAsciiLetterOrDigit)).ToLowerInvariant();
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(plain)));
    }
}
