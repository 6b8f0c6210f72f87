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

    // Taken more strictly than sent: a null where the description has none would be met long after, where nobody knows the field.
    private static readonly JsonSerializerOptions Taken = new(Form) { RespectNullableAnnotations = true };

    /// <summary>The body, or what is wrong with it and where.</summary>
    public static async Task<Result<T>> ReadAsync<T>(HttpContext http)
        where T : class
    {
        if (await BytesAsync(http) is not { } bytes)
            return new Refusal("body-large", $"A call has at most {MostBytes} bytes.");
        try
        {
            var read = JsonSerializer.Deserialize<T>(bytes, Taken);
            using var whole = JsonDocument.Parse(bytes);
            if (NullInAList(whole.RootElement, "") is { } at)
                return new Refusal("body-unread", IsNull(at), at);
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
        Found(bytes, field) switch
        {
            { ValueKind: JsonValueKind.String } text
                when decimal.TryParse(text.GetRawText().Trim('"'), NumberStyles.Number, CultureInfo.InvariantCulture, out _) =>
                $"The field {field} takes a number: send it without quotes.",
            { ValueKind: JsonValueKind.Null } => IsNull(field),
            _ => $"The JSON cannot be read at line {wrong.LineNumber + 1}{(field.Length > 0 ? $", field {field}" : "")}.",
        };

    private static string IsNull(string field) => $"The field {field} may not be null: leave it out, or send a value.";

    /// <summary>The first null within a list, whose members the serializer does not look at.</summary>
    private static string? NullInAList(JsonElement at, string field)
    {
        var members = at.ValueKind switch
        {
            JsonValueKind.Array => at.EnumerateArray().Select((e, i) => (Name: i.ToString(CultureInfo.InvariantCulture), Value: e)),
            JsonValueKind.Object => at.EnumerateObject().Select(p => (p.Name, p.Value)),
            _ => [],
        };
        return members
            .Select(m => (Field: field.Length == 0 ? m.Name : $"{field}.{m.Name}", m.Value))
            .Select(m =>
                at.ValueKind == JsonValueKind.Array && m.Value.ValueKind == JsonValueKind.Null ? m.Field : NullInAList(m.Value, m.Field)
            )
            .FirstOrDefault(found => found is not null);
    }

    /// <summary>What stands in a field of the body; null where there is no such field, or no JSON.</summary>
    private static JsonElement? Found(byte[] bytes, string field)
    {
        try
        {
            using var whole = JsonDocument.Parse(bytes);
            var at = whole.RootElement;
            foreach (var name in field.Split('.', StringSplitOptions.RemoveEmptyEntries))
                if (at.ValueKind == JsonValueKind.Array && int.TryParse(name, CultureInfo.InvariantCulture, out var index))
                    at = at[index];
                else if (at.ValueKind != JsonValueKind.Object || !at.TryGetProperty(name, out at))
                    return null;
            return at.Clone();
        }
        catch (JsonException)
        {
            return null;
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
