using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Where pieces lie on shelves and platens.</summary>
internal sealed partial class PlanMaker
{
    private List<Place> Lay(PlacedBatch batch, bool onShelf) =>
        Lay(shop, maker, batch.Place, decoder.Groups[batch.Group].Nodes, decoder.Failed, onShelf);

    /// <summary>Where the members of a load or session lie that are not left out.</summary>
    public static List<Place> Lay(Shop shop, GroupMaker maker, int place, int[] group, bool[] leftOut, bool onShelf)
    {
        var byPiece = group.Where(n => !leftOut[shop.Nodes[n].Piece]).ToDictionary(n => shop.Nodes[n].Piece);
        // That the whole lies on the shelves does not prove that a part of it is found a place: then it lies as in the whole.
        var laid =
            maker.Lay(place, [.. byPiece.Values])
            ?? maker.Lay(place, group)
            ?? throw new InvalidOperationException("A group that fitted does not fit any more.");
        return
        [
            .. laid.Where(p => byPiece.ContainsKey(p.Piece))
                .Select(p => new Place(
                    shop.Pieces[p.Piece].Id,
                    shop.Nodes[byPiece[p.Piece]].StepNumber,
                    onShelf ? p.Surface + 1 : null,
                    p.X,
                    p.Y,
                    p.Turned
                ))
                .OrderBy(p => p.Piece, StringComparer.Ordinal),
        ];
    }
}
