using System.Security.Cryptography;
using System.Text;

namespace ShopFloor.Web.Counter.Secrets;

/// <summary>The secret of a customer's page. The order keeps its hash only.</summary>
public static class StatusToken
{
    private const int Bytes = 24;

    /// <summary>A new one.</summary>
    public static string Make() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(Bytes));

    /// <summary>What may be kept of a secret.</summary>
    public static string HashOf(string token) => Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(token)));
}
