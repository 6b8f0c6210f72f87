namespace ShopFloor.Domain.Workshop;

/// <summary>Places in a text that the owner may write and the program fills in, such as <c>{order}</c>.</summary>
public static class TextPlaces
{
    /// <summary>The customer's name.</summary>
    public const string Name = "{name}";

    /// <summary>The order's number.</summary>
    public const string Order = "{order}";

    /// <summary>The workshop's name.</summary>
    public const string Workshop = "{workshop}";

    /// <summary>What is asked.</summary>
    public const string Question = "{question}";

    /// <summary>The invoice's number.</summary>
    public const string Invoice = "{invoice}";

    /// <summary>The text with its places filled; what is filled in is not looked at for places again.</summary>
    public static string Fill(string text, IReadOnlyDictionary<string, string> places)
    {
        var filled = new System.Text.StringBuilder(text.Length);
        for (var at = 0; at < text.Length; )
        {
            var place = places.Keys.FirstOrDefault(p => string.CompareOrdinal(text, at, p, 0, p.Length) == 0);
            filled.Append(place is null ? text[at] : places[place]);
            at += place?.Length ?? 1;
        }
        return filled.ToString();
    }

    /// <summary>What is wrong with the places of a text; null when all are known and every brace is closed.</summary>
    /// <param name="text">As typed.</param>
    /// <param name="allowed">The places that this text has.</param>
    public static string? Fault(string text, IReadOnlyList<string> allowed)
    {
        for (var at = text.IndexOfAny(['{', '}']); at >= 0; at = text.IndexOfAny(['{', '}'], at))
        {
            var end = text.IndexOf('}', at);
            var place = text[at] == '{' && end > at ? text[at..(end + 1)] : text[at].ToString();
            if (!allowed.Contains(place, StringComparer.Ordinal))
                return $"“{(place.Length > 30 ? place[..30] + "…" : place)}” is nothing that is filled in here. There are {string.Join(", ", allowed)}.";
            at = end + 1;
        }
        return null;
    }
}
