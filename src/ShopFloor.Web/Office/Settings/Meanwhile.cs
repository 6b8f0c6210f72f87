namespace ShopFloor.Web.Office.Settings;

/// <summary>A field that is another now than when the form was opened.</summary>
/// <param name="Label">In plain words.</param>
/// <param name="Before">What the form showed.</param>
/// <param name="Now">What somebody else made of it.</param>
/// <param name="IsOwn">True where the person had entered something else: that stays in the field.</param>
public sealed record ChangedField(string Label, string Before, string Now, bool IsOwn);

/// <summary>What somebody else changed while a form stood open: what nobody touched here follows it, what was entered here stays.</summary>
public sealed class Meanwhile
{
    private readonly List<ChangedField> fields = [];

    /// <summary>The fields in the order of the form.</summary>
    public IReadOnlyList<ChangedField> Fields => fields;

    /// <summary>What the field shows from now on.</summary>
    /// <typeparam name="T">What it holds.</typeparam>
    /// <param name="label">In plain words.</param>
    /// <param name="entered">What the field shows.</param>
    /// <param name="before">What it showed when the form was opened.</param>
    /// <param name="now">What it would show if the form were opened now.</param>
    /// <param name="words">How a person reads it.</param>
    public T Take<T>(string label, T entered, T before, T now, Func<T, string>? words = null)
    {
        var alike = EqualityComparer<T>.Default;
        words ??= value => value?.ToString() ?? "";
        if (!alike.Equals(before, now))
            fields.Add(new ChangedField(label, words(before), words(now), !alike.Equals(entered, before) && !alike.Equals(entered, now)));
        return alike.Equals(entered, before) ? now : entered;
    }
}
