using System.Buffers.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Identity;

namespace ShopFloor.Data;

/// <summary>
/// A passkey as it stands among its worker's tokens: a row named by the credential's id, all else of it as JSON. What the device said of
/// its own maker is not kept: nobody asks for it.
/// </summary>
/// <param name="Name">What its worker calls it.</param>
/// <param name="Since">When it was added.</param>
/// <param name="PublicKey">Checks what its device signs.</param>
/// <param name="SignCount">How often the device had signed when it was last used; 0 where it does not count.</param>
/// <param name="Transports">How the browser reaches the device.</param>
/// <param name="IsUserVerified">The device asked its user for PIN, finger or face when it made it.</param>
/// <param name="IsBackupEligible">It may be copied to other devices of its user.</param>
/// <param name="IsBackedUp">It was.</param>
public sealed record StoredPasskey(
    string Name,
    DateTimeOffset Since,
    byte[] PublicKey,
    uint SignCount,
    IReadOnlyList<string>? Transports,
    bool IsUserVerified,
    bool IsBackupEligible,
    bool IsBackedUp
)
{
    /// <summary>What the rows have in common.</summary>
    public const string Provider = "passkey";

    /// <summary>The credential's id as text: the name of its row.</summary>
    public static string KeyOf(byte[] credential) => Base64Url.EncodeToString(credential);

    /// <summary>The same as bytes; null when the text is none.</summary>
    public static byte[]? IdOf(string? key) => key is not null && Base64Url.IsValid(key) ? Base64Url.DecodeFromChars(key) : null;

    /// <summary>The row for it.</summary>
    public static IdentityUserToken<Guid> RowOf(Guid worker, UserPasskeyInfo passkey) =>
        new()
        {
            UserId = worker,
            LoginProvider = Provider,
            Name = KeyOf(passkey.CredentialId),
            Value = TextOf(passkey),
        };

    /// <summary>What the row says.</summary>
    public static string TextOf(UserPasskeyInfo passkey) =>
        Write(
            new StoredPasskey(
                passkey.Name ?? "",
                passkey.CreatedAt,
                passkey.PublicKey,
                passkey.SignCount,
                passkey.Transports,
                passkey.IsUserVerified,
                passkey.IsBackupEligible,
                passkey.IsBackedUp
            )
        );

    /// <summary>What the row says.</summary>
    public static string Write(StoredPasskey passkey) => JsonSerializer.Serialize(passkey, JsonForms.Default);

    /// <summary>Reads a row.</summary>
    public static StoredPasskey Read(IdentityUserToken<Guid> row) =>
        JsonSerializer.Deserialize<StoredPasskey>(row.Value ?? "", JsonForms.Default)
        ?? throw new InvalidDataException("A passkey in the database is empty.");

    /// <summary>A row in Identity's form.</summary>
    public static UserPasskeyInfo ToInfo(IdentityUserToken<Guid> row)
    {
        var kept = Read(row);
        return new UserPasskeyInfo(
            IdOf(row.Name) ?? [],
            kept.PublicKey,
            kept.Since,
            kept.SignCount,
            kept.Transports?.ToArray(),
            kept.IsUserVerified,
            kept.IsBackupEligible,
            kept.IsBackedUp,
            attestationObject: [],
            clientDataJson: []
        )
        {
            Name = kept.Name,
        };
    }
}
