using ShopFloor.Domain;

namespace ShopFloor.Web.Office.Settings;

/// <summary>One number of a record that the owner may edit.</summary>
/// <typeparam name="T">The record.</typeparam>
/// <param name="Name">Name of the field; the record's own faults speak of the same name.</param>
/// <param name="Label">In plain words.</param>
/// <param name="Unit">Unit sign, or empty.</param>
/// <param name="Get">The number now.</param>
/// <param name="With">The record with another number; null only where <paramref name="MayBeEmpty"/>.</param>
/// <param name="MayBeEmpty">True when no number is an answer too.</param>
/// <param name="IsMoney">True for an amount of money, in which three digits after a single mark can mean thousands.</param>
/// <param name="IsCount">True for what is counted or weighed, in which they can as well; false for factors and lengths, which may have three decimals.</param>
public sealed record NumberOf<T>(
    string Name,
    string Label,
    string Unit,
    Func<T, decimal?> Get,
    Func<T, decimal?, T> With,
    bool MayBeEmpty = false,
    bool IsMoney = false,
    bool IsCount = false
);

/// <summary>What is typed into the numbers of a record: kept as typed, read when the owner saves.</summary>
/// <typeparam name="T">The record.</typeparam>
public sealed class NumberEntries<T>(IReadOnlyList<NumberOf<T>> fields, T start)
{
    private readonly Dictionary<string, string> texts = fields.ToDictionary(
        f => f.Name,
        f => NumberText.Write(f.Get(start)),
        StringComparer.Ordinal
    );

    /// <summary>The fields in order.</summary>
    public IReadOnlyList<NumberOf<T>> Fields => fields;

    /// <summary>What is typed in a field.</summary>
    public string this[string name]
    {
        get => texts[name];
        set => texts[name] = value;
    }

    /// <summary>These entries on a record that somebody else changed: what was typed here stays, the other numbers follow.</summary>
    /// <param name="before">The numbers as this form was opened with.</param>
    /// <param name="now">The numbers as they stand now.</param>
    /// <param name="meanwhile">Is told what is another now.</param>
    public NumberEntries<T> Follow(NumberEntries<T> before, NumberEntries<T> now, Meanwhile meanwhile)
    {
        foreach (var field in now.Fields)
        {
            var typed = texts.GetValueOrDefault(field.Name);
            if (before.texts.TryGetValue(field.Name, out var was))
                now[field.Name] = meanwhile.Take(field.Label, typed ?? was, was, now[field.Name]);
            else if (typed is not null)
                now[field.Name] = typed;
        }
        return now;
    }

    /// <summary>The record with all numbers read, or every field that cannot be read.</summary>
    public Result<T> Read()
    {
        var faults = new List<Refusal>();
        var value = start;
        foreach (var field in fields)
        {
            if (field.MayBeEmpty && string.IsNullOrWhiteSpace(texts[field.Name]))
            {
                value = field.With(value, null);
                continue;
            }
            var read = Read(field, texts[field.Name]);
            if (read.IsOk)
                value = Try(field, value, read.Value, faults);
            else
                faults.AddRange(read.Refusals.Select(r => r with { Text = $"{field.Label}: {InASentence(r.Text)}" }));
        }
        return faults.Count > 0 ? Result<T>.Refused(faults) : Result<T>.Ok(value);
    }

    /// <summary>The number in a field's text. What stands there as it was offered was read before and has one meaning.</summary>
    internal Result<decimal> Read(NumberOf<T> field, string text) =>
        text == NumberText.Write(field.Get(start)) ? NumberText.Read(text, field.Name)
        : field.IsMoney ? NumberText.Money(text, field.Name)
        : field.IsCount ? NumberText.Clear(text, field.Name)
        : NumberText.Read(text, field.Name);

    // The list of faults above a form has many fields to speak of.
    private static string InASentence(string text) => char.ToLowerInvariant(text[0]) + text[1..];

    private static T Try(NumberOf<T> field, T value, decimal number, List<Refusal> faults)
    {
        try
        {
            return field.With(value, number);
        }
        // A value type refuses what it cannot hold: a negative length, a number too large for a count.
        catch (Exception e) when (e is ArgumentOutOfRangeException or OverflowException)
        {
            faults.Add(new Refusal("out-of-range", $"{field.Label}: this number is not possible.", field.Name));
            return value;
        }
    }
}
