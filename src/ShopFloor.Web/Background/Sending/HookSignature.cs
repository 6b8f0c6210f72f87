using System.Security.Cryptography;
using System.Text;

namespace ShopFloor.Web.Background.Sending;

/// <summary>
/// The signature of a webhook's call as the Standard Webhooks specification has it: HMAC-SHA256 over id, timestamp and body with points
/// between, in base64 after "v1,".
/// </summary>
public static class HookSignature
{
    private const string Prefix = "whsec_";

    /// <summary>A new secret of 256 bits.</summary>
    public static string NewSecret() => Prefix + Convert.ToBase64String(RandomNumberGenerator.GetBytes(32));

    /// <summary>The header's value; with several secrets, one signature each.</summary>
    public static string Of(string id, long timestamp, string body, IEnumerable<string> secrets)
    {
        var signed = Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{id}.{timestamp}.{body}"));
        return string.Join(' ', secrets.Select(s => "v1," + Convert.ToBase64String(HMACSHA256.HashData(Key(s), signed))));
    }

    private static byte[] Key(string secret) =>
        Convert.FromBase64String(secret.StartsWith(Prefix, StringComparison.Ordinal) ? secret[Prefix.Length..] : secret);
}
