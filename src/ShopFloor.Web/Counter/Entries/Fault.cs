using Microsoft.Extensions.Localization;
using ShopFloor.Domain;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>What is wrong with an entry, still without a language: the English sentence is the key, the rest goes into its places.</summary>
/// <param name="Field">Name of the field.</param>
/// <param name="Key">English sentence, with {0}, {1} … for <paramref name="Values"/>.</param>
/// <param name="Values">What goes into the sentence; a sentence of ours is said in the same language.</param>
public sealed record Fault(string Field, string Key, params IReadOnlyList<object> Values)
{
    /// <summary>The fault in words.</summary>
    public Refusal Said(IStringLocalizer texts) =>
        new("entry", texts[Key, [.. Values.Select(v => v is string words ? texts[words].Value : v)]], Field);
}
