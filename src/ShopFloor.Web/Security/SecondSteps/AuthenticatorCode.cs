using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;
using System.Security.Cryptography;
using System.Text;

namespace ShopFloor.Web.Security.SecondSteps;

/// <summary>
/// The codes of an authenticator app: RFC 6238 (TOTP) with the values that all apps know: HMAC-SHA-1, steps of 30 seconds, six digits.
/// </summary>
public static class AuthenticatorCode
{
    /// <summary>Length of a new key, bytes: what RFC 4226 recommends (section 4, R6).</summary>
    public const int KeyBytes = 20;

    private const int Digits = 6;
    private const int Million = 1_000_000;
    private const int StepSeconds = 30;
    private const string Base32 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

    /// <summary>The number of the time step (RFC 6238, section 4.2).</summary>
    public static long StepOf(DateTimeOffset now) => now.ToUnixTimeSeconds() / StepSeconds;

    /// <summary>The code of a step (RFC 4226, section 5.3).</summary>
    [SuppressMessage("Security", "CA5350", Justification = "RFC 6238 with what the apps know; SHA-1 within HMAC is not broken.")]
    public static string Of(byte[] key, long step)
    {
        Span<byte> counter = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64BigEndian(counter, step);
        Span<byte> hash = stackalloc byte[HMACSHA1.HashSizeInBytes];
        HMACSHA1.HashData(key, counter, hash);
        var number = BinaryPrimitives.ReadInt32BigEndian(hash[(hash[^1] & 0xF)..]) & int.MaxValue;
        return (number % Million).ToString("D6", CultureInfo.InvariantCulture);
    }

    /// <summary>
    /// The step of a code that is good now: this one or a neighbour, for clocks that go apart (RFC 6238, section 5.2 and 6), and later than the
    /// last one that was used: each code is good once. Null: none.
    /// </summary>
    public static long? Match(byte[] key, string typed, DateTimeOffset now, long last)
    {
        var plain = Encoding.ASCII.GetBytes(string.Concat(typed.Where(char.IsAsciiDigit)));
        if (plain.Length != Digits)
            return null;
        for (var step = StepOf(now) - 1; step <= StepOf(now) + 1; step++)
            if (step > last && CryptographicOperations.FixedTimeEquals(plain, Encoding.ASCII.GetBytes(Of(key, step))))
                return step;
        return null;
    }

    /// <summary>The key as people type it (RFC 4648, section 6, without padding).</summary>
    public static string Text(byte[] key)
    {
        var text = new StringBuilder();
        for (var bit = 0; bit < key.Length * 8; bit += 5)
        {
            var pair = (key[bit / 8] << 8) | (bit / 8 + 1 < key.Length ? key[bit / 8 + 1] : 0);
            text.Append(Base32[(pair >> (11 - bit % 8)) & 31]);
        }
        return text.ToString();
    }
}
