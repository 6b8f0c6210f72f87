using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Domain;

namespace ShopFloor.Web.Api;

/// <summary>Reads what a caller sends: only the fields that are described, nothing else.</summary>
public static class ApiBody
{
    /// <summary>Most bytes of a call.</summary>
    public const int MostBytes = 200_000;

    /// <summary>The form of everything the API sends and takes: camel case, states as words, numbers as numbers.</summary>
    public static JsonSerializerOptions Form { get; } =
        new(JsonSerializerDefaults.Web)
        {
            NumberHandling = JsonNumberHandling.Strict,
            UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
            DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
            Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false) },
        };

    /// <summary>The body, or what is wrong with it and where.</summary>
    public static async Task<Result<T>> ReadAsync<T>(HttpContext http)
        where T : class
    {
        if (await BytesAsync(http) is not { } bytes)
            return new Refusal("body-large", $"A call has at most {MostBytes} bytes.");
        try
        {
            var read = JsonSerializer.Deserialize<T>(bytes, Form);
            return read is null ? new Refusal("body-empty", "Send the fields that the description names.") : read;
        }
        catch (JsonException wrong)
        {
            var field = FieldOf(wrong.Path);
            return new Refusal("body-unread", Choices(typeof(T), field) ?? Reason(bytes, field, wrong), field);
        }
    }

    // As the fields of other problems are written: lines.0.widthMm, not $.lines[0].widthMm.
    private static string FieldOf(string? path) =>
        (path ?? "").Replace("[", ".", StringComparison.Ordinal).Replace("]", "", StringComparison.Ordinal).TrimStart('$').TrimStart('.');

    /// <summary>What may stand in a field that takes one of some words; null for any other field.</summary>
    private static string? Choices(Type of, string field)
    {
        var type = of;
        foreach (var name in field.Split('.', StringSplitOptions.RemoveEmptyEntries))
            if (type.GetProperty(name, BindingFlags.IgnoreCase | BindingFlags.Public | BindingFlags.Instance) is { } property)
                type = property.PropertyType;
            else if (type.IsGenericType && int.TryParse(name, CultureInfo.InvariantCulture, out _))
                type = type.GetGenericArguments()[0];
            else
                return null;
        type = Nullable.GetUnderlyingType(type) ?? type;
        return type.IsEnum
            ? $"The field {field} takes one of: {string.Join(", ", Enum.GetNames(type).Select(JsonNamingPolicy.KebabCaseLower.ConvertName))}."
            : null;
    }

    private static string Reason(byte[] bytes, string field, JsonException wrong) =>
        IsQuotedNumber(bytes, field)
            ? $"The field {field} takes a number: send it without quotes."
            : $"The JSON cannot be read at line {wrong.LineNumber + 1}{(field.Length > 0 ? $", field {field}" : "")}.";

    private static bool IsQuotedNumber(byte[] bytes, string field)
    {
        try
        {
            using var whole = JsonDocument.Parse(bytes);
            var at = whole.RootElement;
            foreach (var name in field.Split('.', StringSplitOptions.RemoveEmptyEntries))
                if (at.ValueKind == JsonValueKind.Array && int.TryParse(name, CultureInfo.InvariantCulture, out var index))
                    at = at[index];
                else if (at.ValueKind != JsonValueKind.Object || !at.TryGetProperty(name, out at))
                    return false;
            return at.ValueKind == JsonValueKind.String
                && decimal.TryParse(at.GetRawText().Trim('"'), NumberStyles.Number, CultureInfo.InvariantCulture, out _);
        }
        catch (JsonException)
        {
            return false;
        }
    }

    // Counted here: what a server's own limit answers is no problem in JSON.
    private static async Task<byte[]?> BytesAsync(HttpContext http)
    {
        var bytes = new byte[MostBytes + 1];
        var read = await http.Request.Body.ReadAtLeastAsync(bytes, bytes.Length, throwOnEndOfStream: false, http.RequestAborted);
        return read > MostBytes ? null : bytes[..read];
    }

    /// <summary>The answer to a body that was not taken.</summary>
    public static IResult Refused<T>(Result<T> read) =>
        read.Refusals[0].Code switch
        {
            "body-large" => Problems.One(413, read.Refusals[0].Code, read.Refusals[0].Text),
            _ => Problems.One(400, read.Refusals[0].Code, read.Refusals[0].Text, read.Refusals[0].Field),
        };

    /// <summary>An answer that callers may keep and ask about again: 304 when they have it already.</summary>
    public static IResult Tagged<T>(HttpContext http, string tag, T body)
    {
        http.Response.Headers.ETag = $"\"{tag}\"";
        http.Response.Headers.CacheControl = "private, no-cache";
        var known = http.Request.Headers.IfNoneMatch.ToString();
        return known == "*" || known.Split(',', StringSplitOptions.TrimEntries).Contains($"\"{tag}\"", StringComparer.Ordinal)
            ? Results.StatusCode(StatusCodes.Status304NotModified)
            : Results.Json(body, Form);
    }
}
