namespace ShopFloor.Domain.Pieces;

/// <summary>A piece that may not join a batch.</summary>
/// <param name="Rule">Code of the refusal.</param>
/// <param name="Alone">Why, as a whole sentence about this piece.</param>
/// <param name="Why">Why, to stand behind a number of pieces, e.g. <c>standing at Clean</c>.</param>
public sealed record Misfit(string Rule, string Alone, string Why)
{
    /// <summary>One answer for all of them: who is alone is named, of several it is counted how many fit and how many do not, by reason.</summary>
    /// <param name="misfits">At least one.</param>
    /// <param name="of">How many pieces were to join, the fitting ones counted.</param>
    public static Refusal Refuse(IReadOnlyList<Misfit> misfits, int of)
    {
        if (misfits.Count == 1)
            return new Refusal(misfits[0].Rule, misfits[0].Alone);
        var reasons = misfits
            .GroupBy(m => m.Why, StringComparer.Ordinal)
            .OrderByDescending(g => g.Count())
            .ThenBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => string.Create(CultureInfo.InvariantCulture, $"{g.Count()} {g.Key}"));
        var fit = Math.Max(0, of - misfits.Count);
        var begin = fit > 0 ? $"{fit} of {of} pieces fit, {misfits.Count} do not" : $"None of {misfits.Count} pieces fits";
        return new Refusal(misfits[0].Rule, $"{begin}: {string.Join("; ", reasons)}.");
    }
}
