namespace ShopFloor.Domain.Film;

/// <summary>How the pieces of a spray round lie when they are laid close together, as they should for the round: rows under each other.</summary>
public static class RoundLaying
{
    /// <summary>Between pieces in mm, so that each edge gets its coat: common practice, no source.</summary>
    public const double GapMm = 10;

    /// <summary>The pieces in rows, the deepest first, about as wide as deep in all.</summary>
    /// <param name="pieces">Their widths and heights in mm.</param>
    /// <returns>Where each lies; none overlaps another.</returns>
    public static IReadOnlyList<SprayedRectangle> SideBySide(IReadOnlyList<(double WidthMm, double HeightMm)> pieces)
    {
        var across = Math.Sqrt(pieces.Sum(p => (p.WidthMm + GapMm) * (p.HeightMm + GapMm)));
        List<SprayedRectangle> laid = [];
        var (x, y, deep) = (0.0, 0.0, 0.0);
        foreach (var (width, height) in pieces.OrderByDescending(p => p.HeightMm).ThenByDescending(p => p.WidthMm))
        {
            if (x > 0 && x + width > across)
                (x, y, deep) = (0, y + deep + GapMm, 0);
            laid.Add(new SprayedRectangle(x, y, width, height));
            (x, deep) = (x + width + GapMm, Math.Max(deep, height));
        }
        return laid;
    }

    /// <summary>What a round takes when it is laid so, beside what its pieces were counted with one by one; null: nothing can be said, or nothing is saved.</summary>
    /// <param name="pieces">Widths and heights of its pieces in mm.</param>
    /// <param name="aloneMillilitres">What they were counted with, each by itself, in ml.</param>
    /// <param name="film">The coating's settings.</param>
    public static RoundUse? Saved(IReadOnlyList<(double WidthMm, double HeightMm)> pieces, double aloneMillilitres, FilmSettings film)
    {
        if (pieces.Count < 2 || !(aloneMillilitres > 0))
            return null;
        var use = CoatingUse.ForRound(SideBySide(pieces), 1, film);
        if (!use.IsOk || use.Value.Value is not { AloneMillilitres: > 0, SavedMillilitres: > 0 } found)
            return null;
        // The share of the swept area holds for what was counted when the pieces were booked, too.
        return new RoundUse(aloneMillilitres * found.Millilitres / found.AloneMillilitres, aloneMillilitres);
    }
}
