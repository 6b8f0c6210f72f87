namespace ShopFloor.Web.Shared.Controls;

/// <summary>
/// Keys for rows that may be alike: the first of a kind has its own, each further one a number with it. Two rows of one list with the same
/// key end the page at the next change, so whatever is typed, or named by people, is no key by itself.
/// </summary>
public static class RowKeys
{
    /// <summary>The rows in their order, each with a key that no other has.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="key">What a row is known by, be it that others have the same; null: the row has no key.</param>
    public static IEnumerable<(object? Key, TRow Row)> Of<TRow>(IEnumerable<TRow> rows, Func<TRow, object?>? key)
    {
        var seen = new Dictionary<object, int>();
        foreach (var row in rows)
        {
            if (key?.Invoke(row) is not { } own)
            {
                yield return (null, row);
                continue;
            }
            var nth = seen[own] = seen.GetValueOrDefault(own) + 1;
            yield return (nth == 1 ? own : (own, nth), row);
        }
    }
}
