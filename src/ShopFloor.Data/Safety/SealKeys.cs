using System.Collections.Concurrent;
using System.Security.Cryptography;

namespace ShopFloor.Data.Safety;

/// <summary>
/// Keys made from one passphrase by PBKDF2 with HMAC-SHA-256 (RFC 8018). One salt for all that a process seals, so that thousands of pictures do not take
/// thousands of derivations; what earlier processes sealed has other salts, each derived once.
/// </summary>
public sealed class SealKeys
{
    /// <summary>Rounds of the derivation; they stand in every file, so that a later program may take more.</summary>
    public const int Rounds = 600_000;

    /// <summary>Bytes of the salt.</summary>
    public const int SaltBytes = 16;

    private const int MostRounds = 10_000_000;
    private readonly ConcurrentDictionary<string, byte[]> known = new(StringComparer.Ordinal);
    private readonly string passphrase;

    /// <param name="passphrase">At least one character.</param>
    public SealKeys(string passphrase) => this.passphrase = passphrase;

    /// <summary>The salt of what is sealed now.</summary>
    public byte[] Salt { get; } = RandomNumberGenerator.GetBytes(SaltBytes);

    /// <summary>The key of 256 bits for a salt.</summary>
    /// <exception cref="InvalidDataException">The rounds are none that a file of this program has.</exception>
    public byte[] For(byte[] salt, int rounds) =>
        rounds is < 1 or > MostRounds
            ? throw new InvalidDataException("This is no file that ShopFloor sealed.")
            : known.GetOrAdd(
                $"{Convert.ToHexString(salt)} {rounds}",
                _ => Rfc2898DeriveBytes.Pbkdf2(passphrase, salt, rounds, HashAlgorithmName.SHA256, 32)
            );
}
