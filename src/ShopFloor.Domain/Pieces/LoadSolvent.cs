using ShopFloor.Domain.Film;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Domain.Pieces;

/// <summary>
/// The solvent that pieces bring into an oven, against the oven's limit. The recipe's figure of a piece stands for its shortest flash-off; what
/// flashes off longer has less, half of it in each half time.
/// </summary>
/// <param name="Grams">Solvent still in the coats, g.</param>
/// <param name="LimitGrams">What the oven takes in one load, g.</param>
/// <param name="MayGoIn">How many of the pieces may go in together, those with the least solvent.</param>
/// <param name="FlashUntil">When all may, UTC, up to the whole minute.</param>
/// <param name="IsWithinRecipe">True when that is no longer than the longest flash-off of any of them.</param>
public sealed record LoadSolvent(decimal Grams, decimal LimitGrams, int MayGoIn, DateTimeOffset FlashUntil, bool IsWithinRecipe)
{
    /// <summary>True when the load must not begin as it is.</summary>
    public bool IsTooMuch => Grams > LimitGrams;

    /// <summary>A load that goes in at a moment, each piece at the earliest when its shortest flash-off is over.</summary>
    /// <param name="pieces">The pieces, with the number of the step in the oven.</param>
    /// <param name="oven">The oven.</param>
    /// <param name="at">When, UTC.</param>
    public static LoadSolvent At(IReadOnlyList<(Piece Piece, int Step)> pieces, OvenSettings oven, DateTimeOffset at) =>
        Of(pieces, oven, at, [.. pieces.Select(p => Left(p, Later(at, Ready(p))))]);

    /// <summary>A load that goes in this moment; what has its flash-off cut short brings more than its recipe says.</summary>
    /// <param name="pieces">The pieces, with the number of the step in the oven.</param>
    /// <param name="oven">The oven.</param>
    /// <param name="now">Now, UTC.</param>
    public static LoadSolvent Now(IReadOnlyList<(Piece Piece, int Step)> pieces, OvenSettings oven, DateTimeOffset now) =>
        Of(pieces, oven, now, [.. pieces.Select(p => Left(p, now))]);

    private static LoadSolvent Of(
        IReadOnlyList<(Piece Piece, int Step)> pieces,
        OvenSettings oven,
        DateTimeOffset at,
        IReadOnlyList<decimal> grams
    )
    {
        var limit = OvenVapour.Limit(oven).Value;
        var from = pieces.Select(Ready).OfType<DateTimeOffset>().Append(at).Max();
        var left = (double)pieces.Sum(p => Left(p, from));
        var until = WholeMinute(from.AddMinutes(SolventVapour.FlashMinutes(left, (double)Math.Max(limit, 0.001m))));
        return new LoadSolvent(
            grams.Sum(),
            limit,
            MostWithin(grams, limit),
            until,
            limit > 0 && pieces.All(p => Longest(p) is not { } end || until <= end)
        );
    }

    private static int MostWithin(IEnumerable<decimal> grams, decimal limit)
    {
        var (count, sum) = (0, 0m);
        foreach (var one in grams.Order())
        {
            if ((sum += one) > limit)
                break;
            count++;
        }
        return count;
    }

    private static decimal Left((Piece Piece, int Step) member, DateTimeOffset at)
    {
        var grams = member.Piece.Items.First(i => i.Number == member.Step).Settings.VapourGrams;
        if (grams == 0 || RestBefore(member) is not { StartedAt: { } began } rest)
            return grams;
        // What a broken-off load gave back goes on losing solvent where it lies.
        var longer = (at - began).TotalMinutes - (rest.Settings.MinSeconds / 60.0);
        return (decimal)((double)grams * Math.Pow(0.5, longer / FreshLoad.DefaultHalfMinutes));
    }

    private static DateTimeOffset? Ready((Piece, int) member) =>
        RestBefore(member) is { StartedAt: { } began } rest ? began.AddSeconds(rest.Settings.MinSeconds) : null;

    private static DateTimeOffset? Longest((Piece, int) member) =>
        RestBefore(member) is { StartedAt: { } began, Settings.MaxSeconds: { } most } ? began.AddSeconds(most) : null;

    private static WorkItem? RestBefore((Piece Piece, int Step) member) =>
        member.Piece.Items.FirstOrDefault(i => i.Number == member.Step - 1 && i.Kind.IsRest());

    private static DateTimeOffset Later(DateTimeOffset at, DateTimeOffset? other) => other is { } it && it > at ? it : at;

    private static DateTimeOffset WholeMinute(DateTimeOffset at)
    {
        var over = at.Ticks % TimeSpan.TicksPerMinute;
        return over == 0 ? at : at.AddTicks(TimeSpan.TicksPerMinute - over);
    }
}
