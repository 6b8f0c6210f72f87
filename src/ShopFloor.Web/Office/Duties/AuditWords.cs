using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Web.Office.Keys;
using ShopFloor.Web.Office.Sending;

namespace ShopFloor.Web.Office.Duties;

/// <summary>What the record keeps by the names that programs use, in the words of the page where it is granted.</summary>
public static class AuditWords
{
    /// <param name="what">What was done.</param>
    /// <param name="kept">How it was, or is since, as kept.</param>
    public static string Of(string what, string kept) =>
        kept.Length == 0 ? kept
        : what is MakeKey.What or RevokeKey.What ? Scopes(kept)
        : what is ChangeWebhook.Changed or ChangeWebhook.NewSecret ? Webhook(kept)
        : kept;

    private static string Scopes(string kept) => string.Join("; ", kept.Split(", ").Select(KeyWords.Of));

    // Address, events, on or off: value by value, since the address may hold any sign.
    private static string Webhook(string kept)
    {
        var (state, events) = (kept.LastIndexOf("; ", StringComparison.Ordinal), 0);
        if (state > 0)
            events = kept.LastIndexOf("; ", state - 1, StringComparison.Ordinal);
        if (events <= 0)
            return kept;
        Dictionary<string, string> values = new(StringComparer.Ordinal)
        {
            ["Address"] = kept[..events],
            ["Events"] = string.Join(", ", kept[(events + 2)..state].Split(", ").Select(EventWords.Of)),
            ["State"] = kept[(state + 2)..],
        };
        return JsonSerializer.Serialize(values, JsonForms.Default);
    }
}
