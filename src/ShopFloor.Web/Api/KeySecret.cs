using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace ShopFloor.Web.Api;

/// <summary>Secrets of keys and calendar links: 256 random bits, kept only as a hash.</summary>
public static class KeySecret
{
    /// <summary>Begins every key, so that one that lies about is recognised.</summary>
    public const string Prefix = "sfk_";

    /// <summary>A new one.</summary>
    public static string New() => Prefix + Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));

    /// <summary>What is kept of it. A secret of 256 random bits needs no slow hash.</summary>
    public static string Hash(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));
}
