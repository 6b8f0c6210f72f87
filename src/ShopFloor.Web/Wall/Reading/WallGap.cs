using ShopFloor.Web.Office.Plans;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>Pieces that stand in no plan for one reason.</summary>
/// <param name="Why">In a few words.</param>
/// <param name="Coating">The coating that is missing; null: another reason.</param>
/// <param name="Pieces">How many.</param>
/// <param name="IsTrouble">True: they are here, and somebody has to do something first; false: they only have to come or to be laid out.</param>
public sealed record WallGap(string Why, string? Coating, int Pieces, bool IsTrouble)
{
    /// <summary>Pieces of customers that have not come.</summary>
    public const string NotHere = "not here yet";

    /// <summary>The workshop's blanks that wait on the shelf.</summary>
    public const string ToLayOut = "to be laid out";

    /// <summary>What cannot be planned first, most pieces first; then what is not here.</summary>
    public static IReadOnlyList<WallGap> Of(PlanGaps gaps) =>
        [
            .. gaps
                .Cannot.GroupBy(c => (c.Coating, Why: c.Coating is null ? c.Reason : ""))
                .Select(g => new WallGap(g.Key.Why, g.Key.Coating, g.Sum(c => c.Pieces), true))
                .OrderByDescending(g => g.Pieces),
            .. Waiting(NotHere, gaps.NotHere.Sum(r => r.Own)),
            .. Waiting(ToLayOut, gaps.NotHere.Sum(r => r.Blanks)),
        ];

    private static IEnumerable<WallGap> Waiting(string why, int pieces) => pieces > 0 ? [new WallGap(why, null, pieces, false)] : [];
}
