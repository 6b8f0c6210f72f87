namespace ShopFloor.Planning.DayPlans;

/// <summary>Pins that no plain order keeps, because what shares a load with the pinned piece is due long before.</summary>
internal sealed partial class Workroom
{
    /// <summary>Each piece whose pin is not kept goes into loads and sessions of its own, before everything or behind everything, as long as that is better.</summary>
    private (Solution, long) WithPinsKept(Solution best, long bestCost)
    {
        if (!HasPins)
            return (best, bestCost);
        Evaluate(best);
        foreach (var p in Array.FindAll(pinned, p => PinCheck.Count(Shop, Decoder, [p]) > 0))
        {
            var alone = Alone(best, p);
            foreach (var next in new[] { AtTheFront(alone, [p]), AtTheBack(alone, p) })
                if (Evaluate(next) is var cost && cost < bestCost)
                    (best, bestCost) = (Decoder.AsPlaced(next), cost);
        }
        return (best, bestCost);
    }

    private Solution AtTheBack(Solution solution, int piece) =>
        solution with
        {
            Groups = [.. solution.Groups.OrderBy(g => Array.Exists(g.Nodes, n => Shop.Nodes[n].Piece == piece) ? 1 : 0)],
        };
}
