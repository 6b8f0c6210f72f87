using System.Buffers;
using System.Security.Cryptography;
using System.Text.Json;

namespace ShopFloor.Planning.Exchange;

/// <summary>Writes JSON in one way only: fields in the order of the format, numbers without trailing zeros, LF, two spaces.</summary>
internal sealed class JsonOut
{
    private readonly ArrayBufferWriter<byte> buffer = new();
    private readonly Utf8JsonWriter json;

    public JsonOut()
    {
        json = new Utf8JsonWriter(
            buffer,
            new JsonWriterOptions
            {
                Indented = true,
                NewLine = "\n",
                Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            }
        );
    }

    public byte[] Bytes(Action body)
    {
        Object(body);
        json.Flush();
        return [.. buffer.WrittenSpan, (byte)'\n'];
    }

    public void Object(Action body)
    {
        json.WriteStartObject();
        body();
        json.WriteEndObject();
    }

    public void Object(string name, Action body)
    {
        json.WritePropertyName(name);
        Object(body);
    }

    public void List<T>(string name, IEnumerable<T> items, Action<T> item)
    {
        json.WriteStartArray(name);
        foreach (var one in items)
            item(one);
        json.WriteEndArray();
    }

    public void Objects<T>(string name, IEnumerable<T> items, Action<T> item) => List(name, items, one => Object(() => item(one)));

    public void Texts(string name, IEnumerable<string> items) => List(name, items, json.WriteStringValue);

    public void Text(string name, string? value) => json.WriteString(name, value);

    public void OptionalText(string name, string? value)
    {
        if (value is not null)
            json.WriteString(name, value);
    }

    public void Flag(string name, bool value) => json.WriteBoolean(name, value);

    public void Whole(string name, long? value)
    {
        if (value is { } number)
            json.WriteNumber(name, number);
        else
            json.WriteNull(name);
    }

    public void OptionalWhole(string name, long? value)
    {
        if (value is not null)
            Whole(name, value);
    }

    public void Unsigned(string name, ulong value) => json.WriteNumber(name, value);

    /// <summary>Writes scaled units as a decimal number, e.g. 1500 thousandths as 1.5.</summary>
    public void Scaled(string name, long? value, int decimals)
    {
        if (value is { } number)
            json.WriteNumber(name, number / (decimal)Math.Pow(10, decimals) / 1.0000000000000000000000000000m);
        else
            json.WriteNull(name);
    }

    public void OptionalScaled(string name, long? value, int decimals)
    {
        if (value is not null)
            Scaled(name, value, decimals);
    }

    public void Null(string name) => json.WriteNull(name);
}

/// <summary>Fingerprints of files.</summary>
public static class Fingerprint
{
    /// <summary>SHA-256 as 64 lower-case hexadecimal digits.</summary>
    public static string Sha256(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));
}
