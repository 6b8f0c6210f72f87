using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Writes a plan anew whose tasks have been given other persons and times.</summary>
internal sealed partial class PlanMaker
{
    /// <summary>A plan of the same batches with other tasks: sums and reasons are found anew.</summary>
    /// <param name="room">The day; its decoder holds the plan afterwards.</param>
    /// <param name="plan">What the tasks and batches are taken from.</param>
    /// <param name="tasks">All tasks.</param>
    /// <param name="batches">All batches.</param>
    /// <param name="bounds">What no plan can go below, part by part.</param>
    public static Plan Rewritten(Workroom room, Plan plan, List<PlanTask> tasks, List<Batch> batches, PartBounds bounds)
    {
        room.Decoder.Load(plan with { Tasks = Sorted(tasks), Batches = batches });
        var writer = new PlanMaker(room.Shop, room.Maker, room.Decoder);
        writer.tasks.AddRange(tasks);
        writer.batches.AddRange(batches);
        writer.WriteReasons();
        LeftOut?[] left = [.. room.Shop.Pieces.Select(p => plan.LeftOut.FirstOrDefault(l => l.Piece == p.Id))];
        return writer.Finish(left, plan.DaySha256, bounds, plan.Search);
    }

    private void WriteReasons()
    {
        var ids = tasks.Where(t => t.Kind is TaskKinds.Load or TaskKinds.Press).ToDictionary(t => (t.Station, t.StartS), t => t.Batch!);
        foreach (var batch in decoder.Placed.OrderBy(b => shop.Heated[b.Place].IsOven ? 0 : 1).ThenBy(b => b.Start).ThenBy(b => b.Place))
            why.Add(reasons.OfBatch(batch, ids[(shop.Heated[batch.Place].Station.Id, batch.Start)]));
        foreach (var node in shop.Nodes.Where(n => !decoder.Failed[n.Piece]))
        {
            if (!node.IsHeated)
                why.Add(reasons.OfNode(node.Index));
            if (Rests(node))
                why.Add(Reasons.OfRest(shop.Pieces[node.Piece].Id, node.RestStep));
        }
    }
}
