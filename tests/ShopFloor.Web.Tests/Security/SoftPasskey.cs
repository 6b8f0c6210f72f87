using System.Buffers.Binary;
using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace ShopFloor.Web.Tests.Security;

/// <summary>
/// A device with one passkey, in memory: answers as W3C Web Authentication, Level 2, 6.1 (authenticator data) and 6.5 (attestation "none") say,
/// with an elliptic key on P-256.
/// </summary>
public sealed class SoftPasskey(string domain = "localhost", string origin = "http://localhost") : IDisposable
{
    private const byte Present = 1,
        Verified = 4,
        HasKey = 0x40;
    private readonly ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
    private readonly byte[] id = RandomNumberGenerator.GetBytes(32);
    private string handle = "";

    /// <summary>How often it has signed.</summary>
    public uint Count { get; set; }

    /// <summary>It asks its user for PIN, finger or face.</summary>
    public bool Verifies { get; set; } = true;

    /// <summary>The credential's id as text.</summary>
    public string Key => Base64Url.EncodeToString(id);

    /// <summary>What the browser sends after it made the passkey.</summary>
    public string Make(string options)
    {
        using var read = JsonDocument.Parse(options);
        handle = read.RootElement.GetProperty("user").GetProperty("id").GetString()!;
        var point = key.ExportParameters(includePrivateParameters: false).Q;
        byte[] cose = [0xA5, 1, 2, 3, 0x26, 0x20, 1, 0x21, 0x58, 32, .. point.X!, 0x22, 0x58, 32, .. point.Y!];
        byte[] data = [.. Data(HasKey), .. new byte[16], 0, (byte)id.Length, .. id, .. cose];
        byte[] made =
        [
            0xA3,
            .. Word("fmt"),
            .. Word("none"),
            .. Word("attStmt"),
            0xA0,
            .. Word("authData"),
            0x58,
            (byte)data.Length,
            .. data,
        ];
        return Answer(new { clientDataJSON = Client("webauthn.create", read), attestationObject = Base64Url.EncodeToString(made) });
    }

    /// <summary>What the browser sends after the device signed.</summary>
    public string Sign(string options, bool spoilt = false)
    {
        using var read = JsonDocument.Parse(options);
        Count++;
        var (client, data) = (Client("webauthn.get", read), Data(0));
        byte[] signed = [.. data, .. SHA256.HashData(Base64Url.DecodeFromChars(client))];
        var signature = key.SignData(signed, HashAlgorithmName.SHA256, DSASignatureFormat.Rfc3279DerSequence);
        if (spoilt)
            signature[^1] ^= 1;
        return Answer(
            new
            {
                clientDataJSON = client,
                authenticatorData = Base64Url.EncodeToString(data),
                signature = Base64Url.EncodeToString(signature),
                userHandle = handle,
            }
        );
    }

    public void Dispose() => key.Dispose();

    private static byte[] Word(string word) => [(byte)(0x60 + word.Length), .. Encoding.ASCII.GetBytes(word)];

    private byte[] Data(byte more)
    {
        var count = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(count, Count);
        var flags = (byte)(Present | (Verifies ? Verified : 0) | more);
        return [.. SHA256.HashData(Encoding.UTF8.GetBytes(domain)), flags, .. count];
    }

    private string Client(string type, JsonDocument options)
    {
        var challenge = options.RootElement.GetProperty("challenge").GetString();
        return Base64Url.EncodeToString(
            JsonSerializer.SerializeToUtf8Bytes(
                new
                {
                    type,
                    challenge,
                    origin,
                    crossOrigin = false,
                }
            )
        );
    }

    private string Answer(object response) =>
        JsonSerializer.Serialize(
            new
            {
                id = Key,
                rawId = Key,
                type = "public-key",
                clientExtensionResults = new { },
                response,
            }
        );
}
