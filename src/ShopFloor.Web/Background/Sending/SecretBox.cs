using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;

namespace ShopFloor.Web.Background.Sending;

/// <summary>
/// Keeps secrets that must be used again, such as a mail password: encrypted with the program's keys, which lie beside the database and
/// not in it. A copy of the database alone tells nothing.
/// </summary>
public sealed class SecretBox(IDataProtectionProvider provider)
{
    private readonly IDataProtector protector = provider.CreateProtector("outgoing secrets");

    /// <summary>Locks a secret away; nothing stays nothing.</summary>
    public string Close(string secret) => secret.Length == 0 ? "" : protector.Protect(secret);

    /// <summary>The secret; null when the keys that closed it are no longer there.</summary>
    public string? Open(string closed)
    {
        try
        {
            return closed.Length == 0 ? "" : protector.Unprotect(closed);
        }
        // Keys are gone, for instance after a restore without the keys folder: whoever asks says so in words.
        catch (CryptographicException)
        {
            return null;
        }
    }
}
