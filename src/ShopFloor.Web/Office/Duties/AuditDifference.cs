using System.Text.Json;

namespace ShopFloor.Web.Office.Duties;

/// <summary>One value that differs.</summary>
/// <param name="Name">Path of the value.</param>
/// <param name="Before">As it was; empty when it was not there.</param>
/// <param name="After">As it is; empty when it is gone.</param>
public sealed record AuditChange(string Name, string Before, string After);

/// <summary>What differs between two settings kept as JSON, value by value; texts that are no JSON are one value.</summary>
public static class AuditDifference
{
    /// <summary>The differences in the order of the newer one.</summary>
    public static IReadOnlyList<AuditChange> Of(string before, string after)
    {
        var (old, now) = (Flat(before), Flat(after));
        return
        [
            .. now
                .Keys.Concat(old.Keys)
                .Distinct(StringComparer.Ordinal)
                .Select(k => new AuditChange(k, old.GetValueOrDefault(k, ""), now.GetValueOrDefault(k, "")))
                .Where(c => !string.Equals(c.Before, c.After, StringComparison.Ordinal)),
        ];
    }

    private static Dictionary<string, string> Flat(string text)
    {
        Dictionary<string, string> flat = new(StringComparer.Ordinal);
        if (text.Length == 0)
            return flat;
        try
        {
            using var json = JsonDocument.Parse(text);
            Add(flat, "", json.RootElement);
        }
        // Plain words, such as the number of a printed paper.
        catch (JsonException)
        {
            flat["value"] = text;
        }
        return flat;
    }

    private static void Add(Dictionary<string, string> flat, string name, JsonElement value)
    {
        switch (value.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (var member in value.EnumerateObject())
                    Add(flat, name.Length == 0 ? member.Name : $"{name}.{member.Name}", member.Value);
                break;
            case JsonValueKind.Array:
                foreach (var (item, at) in value.EnumerateArray().Select((item, at) => (item, at)))
                    Add(flat, string.Create(CultureInfo.InvariantCulture, $"{name} {at + 1}").Trim(), item);
                break;
            default:
                flat[name.Length == 0 ? "value" : name] = value.ToString();
                break;
        }
    }
}
