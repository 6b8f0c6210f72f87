using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Reads out of a plan the decisions that would lead to it: which pieces share a load or session, and who comes first.</summary>
internal static class PlanOrder
{
    /// <summary>The groups in the order in which the plan starts them; pieces and steps that it does not have come last.</summary>
    /// <param name="shop">The day to plan.</param>
    /// <param name="maker">Makes its groups.</param>
    /// <param name="plan">A plan of this day or of one before.</param>
    /// <param name="shiftS">So much later than the plan's zero is the shop's.</param>
    /// <param name="leftOut">Pieces that are not planned.</param>
    /// <param name="placed">Steps that have their place already.</param>
    public static List<Group> Of(Shop shop, GroupMaker maker, Plan plan, int shiftS, bool[] leftOut, bool[] placed)
    {
        var at = shop.Nodes.ToDictionary(n => (shop.Pieces[n.Piece].Id, n.StepNumber), n => n.Index);
        var starts = plan
            .Tasks.Where(t => t.Batch is not null && t.Piece is null)
            .GroupBy(t => t.Batch!, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Min(t => t.StartS) - shiftS, StringComparer.Ordinal);
        var found = new List<(int Start, Group Group)>();
        var seen = new HashSet<int>();
        foreach (var batch in plan.Batches.Where(b => b.Kind != BatchKinds.Round && starts.ContainsKey(b.Id)))
        {
            int[] members =
            [
                .. batch
                    .Places.Select(p => at.GetValueOrDefault((p.Piece, p.Step), -1))
                    .Where(n => n >= 0 && !leftOut[shop.Nodes[n].Piece] && !placed[n]),
            ];
            foreach (var group in Whole(maker, members))
                found.Add((starts[batch.Id], group));
            seen.UnionWith(members);
        }
        var ends = plan.Tasks.Where(t => t.Piece is not null).ToLookup(t => t.Piece!, StringComparer.Ordinal);
        for (var p = 0; p < shop.Pieces.Length; p++)
            if (!leftOut[p] && shop.FirstNode[p] >= 0 && !placed[shop.LastNode[p]])
                AddRest(
                    shop,
                    maker,
                    p,
                    ends[shop.Pieces[p].Id].Select(t => t.StartS - shiftS).DefaultIfEmpty(Line.Never).Max(),
                    seen,
                    placed,
                    found
                );
        return [.. found.OrderBy(f => f.Start).ThenBy(f => f.Group.Nodes[0]).Select(f => f.Group)];
    }

    private static IEnumerable<Group> Whole(GroupMaker maker, int[] members)
    {
        if (members.Length == 0)
            return [];
        return maker.Make(members) is { } group ? [group] : members.Select(n => maker.Make([n])!);
    }

    private static void AddRest(Shop shop, GroupMaker maker, int p, int start, HashSet<int> seen, bool[] placed, List<(int, Group)> found)
    {
        var heated = false;
        for (var n = shop.FirstNode[p]; n >= 0; n = shop.Nodes[n].Next)
            if (shop.Nodes[n].IsHeated && !placed[n])
            {
                heated = true;
                if (!seen.Contains(n))
                    found.Add((Line.Never, maker.Make([n])!));
            }
        if (!heated)
            found.Add((start, maker.Make([shop.LastNode[p]])!));
    }
}
