using System.Text.Json;

namespace ShopFloor.Planning.Exchange;

/// <summary>Reads the fields of one object strictly: each must be there, none may be unknown or repeated, values keep their range.
/// After a problem a harmless value is returned and reading goes on, so that one run names many problems.</summary>
internal sealed class Fields
{
    private readonly JsonValue value;
    private readonly string path;
    private readonly ProblemList problems;
    private readonly Dictionary<string, JsonField> byName = new(StringComparer.Ordinal);
    private readonly HashSet<string> asked = new(StringComparer.Ordinal);

    public Fields(JsonValue value, string path, ProblemList problems)
    {
        (this.value, this.path, this.problems) = (value, path, problems);
        if (value.Type != JsonTokenType.StartObject)
            Problem(value, path, "must be an object {…}");
        foreach (var field in value.Fields)
            if (!byName.TryAdd(field.Name, field))
                problems.Add(field.Offset, Under(field.Name), "field is repeated");
    }

    public int Offset => value.Offset;

    public string Path => path;

    public ProblemList Problems => problems;

    public string Under(string name) => path.Length == 0 ? name : $"{path}.{name}";

    public void Problem(string name, string reason)
    {
        asked.Add(name);
        problems.Add(byName.TryGetValue(name, out var field) ? field.Value.Offset : value.Offset, Under(name), reason);
    }

    public bool Has(string name) => byName.ContainsKey(name);

    /// <summary>The last call: every field not asked for is unknown.</summary>
    public void NothingElse()
    {
        foreach (var field in value.Fields)
            if (!asked.Contains(field.Name))
                problems.Add(field.Offset, Under(field.Name), "unknown field");
    }

    public JsonValue? Raw(string name)
    {
        asked.Add(name);
        if (byName.TryGetValue(name, out var field))
            return field.Value;
        if (value.Type == JsonTokenType.StartObject)
            problems.Add(value.Offset, Under(name), "field is missing");
        return null;
    }

    public JsonValue? Optional(string name)
    {
        asked.Add(name);
        return byName.TryGetValue(name, out var field) ? field.Value : null;
    }

    public string Text(string name, int longest = 1000)
    {
        if (Raw(name) is not { } raw)
            return "";
        if (raw.Type != JsonTokenType.String)
            return Problem(raw, Under(name), "must be a text", "");
        return raw.Text.Length <= longest ? raw.Text : Problem(raw, Under(name), $"longer than {longest} characters", "");
    }

    public string Id(string name) => Raw(name) is { } raw ? IdOf(raw, Under(name), problems) : "";

    public string? IdOrNull(string name) => Raw(name) is { Type: not JsonTokenType.Null } raw ? IdOf(raw, Under(name), problems) : null;

    public string? OptionalId(string name) => Optional(name) is { } raw ? IdOf(raw, Under(name), problems) : null;

    public static string IdOf(JsonValue raw, string path, ProblemList problems)
    {
        const string reason = "must be an id: 1–40 of A–Z a–z 0–9 - _ .";
        var good = raw.Type == JsonTokenType.String && raw.Text.Length is > 0 and <= 40 && raw.Text.All(IsIdCharacter);
        if (!good)
            problems.Add(raw.Offset, path, reason);
        return good ? raw.Text : "";
    }

    public bool Flag(string name)
    {
        if (Raw(name) is not { } raw)
            return false;
        if (raw.Type is not (JsonTokenType.True or JsonTokenType.False))
            problems.Add(raw.Offset, Under(name), "must be true or false");
        return raw.Type == JsonTokenType.True;
    }

    public int Whole(string name, long least = 0, long most = Limits.Seconds) => (int)Number(name, 0, least, most);

    public long Long(string name, long least = 0, long most = long.MaxValue) => Number(name, 0, least, most);

    public int? WholeOrNull(string name, long least = 0, long most = Limits.Seconds) => IsNull(name) ? null : Whole(name, least, most);

    /// <summary>A number with at most <paramref name="decimals"/> decimals, times 10 to their power; the range is in those units.</summary>
    public int Scaled(string name, int decimals, long least, long most) => (int)Number(name, decimals, least, most);

    public int? ScaledOrNull(string name, int decimals, long least, long most) => IsNull(name) ? null : Scaled(name, decimals, least, most);

    public bool IsNull(string name)
    {
        asked.Add(name);
        return byName.TryGetValue(name, out var field) && field.Value.Type == JsonTokenType.Null;
    }

    public long Number(string name, int decimals, long least, long most) =>
        Raw(name) is { } raw ? NumberOf(raw, Under(name), decimals, least, most) : Math.Max(0, least);

    private long NumberOf(JsonValue raw, string at, int decimals, long least, long most)
    {
        var harmless = Math.Max(0, least);
        if (raw.Type != JsonTokenType.Number)
            return Problem(raw, at, "must be a number", harmless);
        var number = ScaledNumber.Of(raw.Text, decimals);
        if (number.Units < least || number.Units > most)
            return Problem(raw, at, Range(decimals, least, most), harmless);
        if (number.IsWhole)
            return (long)number.Units;
        return Problem(raw, at, decimals == 0 ? "must be a whole number" : $"at most {decimals} decimals", harmless);
    }

    public List<T> List<T>(string name, Func<JsonValue, string, T?> item)
        where T : class
    {
        var list = new List<T>();
        if (Raw(name) is not { } raw)
            return list;
        if (raw.Type != JsonTokenType.StartArray)
            problems.Add(raw.Offset, Under(name), "must be a list […]");
        for (var i = 0; i < raw.Items.Count; i++)
            if (item(raw.Items[i], string.Create(CultureInfo.InvariantCulture, $"{Under(name)}[{i}]")) is { } read)
                list.Add(read);
        return list;
    }

    public List<T> Objects<T>(string name, Func<Fields, T?> item)
        where T : class => List(name, (raw, at) => item(new Fields(raw, at, problems)));

    private void Problem(JsonValue at, string where, string reason) => problems.Add(at.Offset, where, reason);

    private T Problem<T>(JsonValue at, string where, string reason, T harmless)
    {
        problems.Add(at.Offset, where, reason);
        return harmless;
    }

    private static string Range(int decimals, long least, long most)
    {
        var scale = (decimal)Math.Pow(10, decimals);
        return string.Create(CultureInfo.InvariantCulture, $"must be a number from {least / scale} to {most / scale}");
    }

    private static bool IsIdCharacter(char c) => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' or '.';
}

/// <summary>Ranges that every file keeps, so that sums stay exact.</summary>
internal static class Limits
{
    public const long Seconds = 100_000_000;
    public const long Micrometres = 100_000_000;
    public const long TenthsC = 20_000;
    public const long Thousandths = 2_000_000_000;
    public const long Weight = 1_000_000_000_000;
}
