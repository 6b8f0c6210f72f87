using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Makes the line-up of a finished plan.</summary>
internal static class LineUpReader
{
    /// <summary>The line-up in which everything has the order, the persons and the batches of the plan; null when it cannot be said as one.</summary>
    public static LineUp? Read(LineUpShop at, Plan plan)
    {
        var shop = at.Shop;
        if (GoesOnWithARound(shop, plan))
            return null;
        var line = new LineUp(at);
        var nodeAt = shop.Nodes.ToDictionary(n => (shop.Pieces[n.Piece].Id, n.StepNumber), n => n.Index);
        if (!ReadBatches(at, line, plan, nodeAt, out var opOf))
            return null;
        foreach (var (id, spray) in EarlyShakes(plan))
            if (nodeAt.TryGetValue((spray.Piece!, spray.Step!.Value), out var n))
                opOf[id] = at.ShakeOf(n);
        foreach (var task in plan.Tasks.OrderBy(t => t.StartS).ThenBy(t => t.EndS))
        {
            var op = Op(at, task, nodeAt, opOf);
            if (op < 0)
                continue;
            line.Person[op] = Array.FindIndex(shop.People, p => p.Id == task.Person);
            if (line.Person[op] < 0)
                return null;
            line.Sequence[line.Count++] = op;
        }
        at.Starts.Can.CopyTo(line.Can, 0);
        at.Starts.Booth.CopyTo(line.Booth, 0);
        foreach (
            var round in plan
                .Tasks.Where(t => t is { Kind: TaskKinds.Spray, Batch: not null })
                .GroupBy(t => t.Batch, StringComparer.Ordinal)
        )
        foreach (var spray in round.OrderBy(t => t.StartS).Skip(1))
            if (nodeAt.TryGetValue((spray.Piece!, spray.Step!.Value), out var joining))
                line.Joins[joining] = true;
        line.Number();
        return line;
    }

    /// <summary>Whether something is sprayed in a round that runs already; its shake is none of a line-up's.</summary>
    private static bool GoesOnWithARound(Shop shop, Plan plan)
    {
        var running = shop.Running.Batches.Select(b => b.Batch.Id).ToHashSet(StringComparer.Ordinal);
        return plan.Tasks.Any(t => t is { Kind: TaskKinds.Spray, StartS: >= 0, Batch: { } id } && running.Contains(id));
    }

    /// <summary>Rounds between whose shake and first spray there is time for something else, with that spray.</summary>
    private static IEnumerable<(string Id, PlanTask Spray)> EarlyShakes(Plan plan)
    {
        var sprays = plan.Tasks.Where(t => t is { Kind: TaskKinds.Spray, Batch: not null }).ToLookup(t => t.Batch!, StringComparer.Ordinal);
        foreach (var shake in plan.Tasks.Where(t => t is { Kind: TaskKinds.Shake, StartS: >= 0 }))
            if (sprays[shake.Batch!].MinBy(t => t.StartS) is { } first && first.StartS > shake.EndS)
                yield return (shake.Batch!, first);
    }

    private static bool ReadBatches(
        LineUpShop at,
        LineUp line,
        Plan plan,
        Dictionary<(string, int), int> nodeAt,
        out Dictionary<string, int> opOf
    )
    {
        opOf = new Dictionary<string, int>(StringComparer.Ordinal);
        var next = 0;
        var stations = plan
            .Tasks.Where(t => t.Batch is not null)
            .DistinctBy(t => t.Batch)
            .ToDictionary(t => t.Batch!, t => t.Station, StringComparer.Ordinal);
        foreach (var batch in plan.Batches.Where(b => b.Kind != BatchKinds.Round && !at.Shop.Running.Batches.Any(r => r.Batch.Id == b.Id)))
        {
            int[] members = [.. batch.Places.Select(p => nodeAt[(p.Piece, p.Step)])];
            if (at.Room.Maker.Make(members) is not { } group)
                return false;
            var place = Array.FindIndex(group.Places, h => at.Shop.Heated[h].Station.Id == stations[batch.Id]);
            if (place < 0)
                return false;
            line.Fill(next, new LineBatch(at.Shop, group, place));
            opOf[batch.Id] = at.LoadOp(next++);
        }
        return true;
    }

    private static int Op(LineUpShop at, PlanTask task, Dictionary<(string, int), int> nodeAt, Dictionary<string, int> opOf)
    {
        if (Array.IndexOf(at.Given, task) is var given and >= 0)
            return at.FirstGiven + given;
        if (task.Kind is TaskKinds.Rest or TaskKinds.Dwell or TaskKinds.SetPoint)
            return -1;
        if (task is { Piece: { } piece, Step: { } step })
            return nodeAt.GetValueOrDefault((piece, step), -1);
        return !opOf.TryGetValue(task.Batch!, out var op) ? -1
            : task.Kind == TaskKinds.Unload ? op + 1
            : op;
    }
}
