namespace ShopFloor.Planning.DayPlans;

/// <summary>Orders the members of a load so that pieces which get the same coats stand together: they are then prepared one after another
/// and meet in one spray round.</summary>
internal sealed class CoatOrder
{
    private readonly Shop shop;
    private readonly int[][] coats;

    public CoatOrder(Shop shop)
    {
        this.shop = shop;
        coats = [.. shop.Nodes.Select(CoatsBefore)];
        var names = Enumerable.Range(0, shop.Pieces.Length).Select(Route).ToList();
        var known = names.Distinct().ToList();
        kindOf = [.. names.Select(name => known.IndexOf(name))];
        Kinds = known.Count;
    }

    private readonly int[] kindOf;

    /// <summary>How many different sequences of coats there are.</summary>
    public int Kinds { get; }

    /// <summary>Which sequence of coats a piece gets.</summary>
    public int KindOf(int piece) => kindOf[piece];

    private string Route(int piece)
    {
        var found = new List<int>();
        for (var n = shop.FirstNode[piece]; n >= 0; n = shop.Nodes[n].Next)
            if (shop.Nodes[n].IsSpray || (shop.Nodes[n].IsHeated && shop.Families[shop.Nodes[n].Family].IsLoad))
                found.Add(shop.Nodes[n].IsSpray ? shop.Nodes[n].Coating : -1 - shop.Nodes[n].Family);
        return string.Join(',', found);
    }

    /// <summary>Coatings sprayed since the oven or press before, in the order of spraying.</summary>
    private int[] CoatsBefore(Node node)
    {
        var found = new List<int>();
        for (var n = node.Before; n >= 0 && !shop.Nodes[n].IsHeated; n = shop.Nodes[n].Before)
            if (shop.Nodes[n].IsSpray)
                found.Insert(0, shop.Nodes[n].Coating);
        return [.. found];
    }

    /// <summary>The nodes with equal coats together, the coatings in an order drawn by chance; otherwise as they stood.</summary>
    public int[] Sorted(int[] nodes, SeededRandom random)
    {
        var rank = new int[shop.Coatings.Length];
        for (var c = 0; c < rank.Length; c++)
            rank[c] = random.Next(1_000);
        var most = random.Next(2) == 0;
        return [.. nodes.OrderBy(n => Key(coats[n], rank, most))];
    }

    // Those with two coats may all come first: their second coat then meets the others' only one.
    private static long Key(int[] coats, int[] rank, bool longestFirst)
    {
        var key = longestFirst ? 9 - Math.Min(9, coats.Length) : 0L;
        for (var i = 0; i < 3; i++)
            key = (key * 1_001) + (i < coats.Length ? rank[coats[i]] : 1_000);
        return key;
    }
}
