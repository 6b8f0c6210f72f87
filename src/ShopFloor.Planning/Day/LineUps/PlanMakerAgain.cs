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

    /// <summary>The plan with leeway in its longest waits.</summary>
    /// <param name="room">The day; its decoder holds the plan afterwards.</param>
    /// <param name="plan">A plan of it.</param>
    /// <param name="bounds">What no plan can go below, part by part.</param>
    public static Plan WithLeeway(Workroom room, Plan plan, PartBounds bounds)
    {
        var (shop, decoder) = (room.Shop, room.Decoder);
        decoder.Load(plan);
        decoder.GiveLeeway();
        var hands = shop
            .Nodes.Where(n => !n.IsHeated && !n.IsSpray && decoder.Start[n.Index] >= 0)
            .ToDictionary(n => (shop.Pieces[n.Piece].Id, (int?)n.StepNumber), n => n.Index);
        return Rewritten(room, plan, [.. plan.Tasks.Select(Moved)], [.. plan.Batches], bounds);

        PlanTask Moved(PlanTask task) =>
            task is { Piece: { } piece, Kind: not TaskKinds.Rest } && hands.TryGetValue((piece, task.Step), out var n)
                ? task with
                {
                    Person = shop.People[decoder.PersonOf[n]].Id,
                    StartS = decoder.Start[n],
                    EndS = decoder.End[n],
                }
                : task;
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
