using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Says what a piece lacked that found no place in a plan.</summary>
internal static class Shortage
{
    /// <summary>Why a piece is left out.</summary>
    /// <param name="shop">The day.</param>
    /// <param name="decoder">Holds the plan.</param>
    /// <param name="impossible">Pieces that no plan can finish, and why.</param>
    /// <param name="p">The piece.</param>
    public static LeftOut Of(Shop shop, Decoder decoder, LeftOut?[] impossible, int p)
    {
        var id = shop.Pieces[p].Id;
        if (Array.Find(shop.After[p], a => decoder.Failed[a]) is var other && shop.After[p].Contains(other) && decoder.Failed[other])
            return new LeftOut(id, "waits for piece", $"It comes after {shop.Pieces[other].Id}, which is left out.");
        for (var n = shop.FirstNode[p]; n >= 0; n = shop.Nodes[n].Next)
            if (shop.Nodes[n].IsSpray && decoder.LacksCoating(shop.Nodes[n]))
                return new LeftOut(id, LeftOut.NoCoating, Coating(shop, decoder, impossible, shop.Nodes[n]));
        return new LeftOut(id, "no time", "No time before the end of the plan suits its longest waits, the people and the stations.");
    }

    /// <summary>What all that are left out need of the coating, less what is in the cans; cans that hold a remainder too small for a piece may
    /// have enough in all.</summary>
    private static string Coating(Shop shop, Decoder decoder, LeftOut?[] impossible, Node spray)
    {
        var lacking = -decoder.LeftOf(spray.Coating);
        foreach (var node in shop.Nodes)
            if (node.IsSpray && node.Coating == spray.Coating && decoder.Failed[node.Piece] && impossible[node.Piece] is null)
                lacking += node.Step.Ul;
        return TooLittle(spray.Step.Coating, lacking);
    }

    internal static string TooLittle(string coating, long lacking) =>
        lacking > 0
            ? FormattableString.Invariant(
                $"{LeftOut.TooLittleOf}{coating} is left once the other pieces are coated: {(lacking + 999) / 1_000} ml are missing."
            )
            : $"{LeftOut.TooLittleOf}{coating} is left once the other pieces are coated.";

    internal static string NoCan(string coating, int step, int neededUl, int fullestUl) =>
        FormattableString.Invariant(
            $"{LeftOut.NoCanOf}{coating} that is still good holds the {neededUl / 1_000m} ml that step {step} needs; the fullest has {fullestUl / 1_000m} ml."
        );
}
