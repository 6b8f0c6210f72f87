using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Goes on from a plan whose near part stays exactly as it is: everything later may move, as long as nobody is made late by it,
/// or later still. More pieces come in behind a place in the order.</summary>
internal sealed class Continuation
{
    private readonly Shop shop;
    private readonly GroupMaker maker;
    private readonly Decoder decoder;
    private readonly List<Group> order;
    private readonly Dictionary<string, int> before;
    private readonly bool[] leftOut;
    private readonly List<int> later;

    public Continuation((Shop Shop, GroupMaker Maker, Decoder Decoder) room, Plan plan, int nearS)
    {
        (shop, maker, decoder) = room;
        var near = PlanStart.Of(shop, plan, nearS);
        before = PlanEnds.Of(plan);
        var gone = plan.LeftOut.Select(l => l.Piece).ToHashSet(StringComparer.Ordinal);
        leftOut = [.. shop.Pieces.Select(p => !before.ContainsKey(p.Id) || gone.Contains(p.Id))];
        order = PlanOrder.Of(shop, maker, plan, 0, leftOut, near.Kept);
        later =
        [
            .. Enumerable
                .Range(0, shop.Pieces.Length)
                .Where(p => shop.LastNode[p] >= 0 && !near.Kept[shop.LastNode[p]] && !gone.Contains(shop.Pieces[p].Id)),
        ];
        decoder.Load(near.Plan);
        state = decoder.Save();
    }

    private readonly Decoder.Saved state;

    /// <summary>How many places there are to come in behind.</summary>
    public int Places => order.Count;

    /// <summary>Places everything with the groups coming in behind so many others, those that fit into a later load or session joining
    /// it. The end of the last of the pieces, or <see cref="Line.Never"/> when some piece finds no time.</summary>
    public int Place(IReadOnlyList<Group> more, IReadOnlyList<int> pieces, int behind)
    {
        decoder.Back(state, later);
        return decoder.PlaceMore(Merged(more, behind)) ? pieces.Max(decoder.PieceEnd) : Line.Never;
    }

    private List<Group> Merged(IReadOnlyList<Group> more, int behind)
    {
        var merged = order.ToList();
        var at = behind;
        foreach (var group in more)
        {
            var k = group.Family < 0 ? -1 : merged.FindIndex(at, g => g.Family == group.Family);
            if (k >= 0 && k < at + Reach && maker.Make([.. merged[k].Nodes, .. group.Nodes]) is { } together)
                (merged[k], at) = (together, k);
            else
                merged.Insert(at++, group);
        }
        return merged;
    }

    /// <summary>A load or session so many places later still takes more members rather than open one of their own.</summary>
    private const int Reach = 6;

    /// <summary>Pieces that what is placed now makes late, or later than they were.</summary>
    public List<Pushed> Pushed()
    {
        var pushed = new List<Pushed>();
        for (var p = 0; p < shop.Pieces.Length; p++)
        {
            var piece = shop.Pieces[p];
            if (leftOut[p] || shop.LastNode[p] < 0 || !before.TryGetValue(piece.Id, out var was))
                continue;
            if (decoder.Start[shop.LastNode[p]] < 0)
                pushed.Add(new Pushed(piece.Id, piece.Order, piece.PromiseS, null, 0));
            else if (decoder.PieceEnd(p) is var end && end > piece.PromiseS && end > was)
                pushed.Add(new Pushed(piece.Id, piece.Order, piece.PromiseS, end, end - piece.PromiseS));
        }
        return [.. pushed.OrderBy(x => x.PromiseS).ThenBy(x => x.Piece, StringComparer.Ordinal)];
    }
}
