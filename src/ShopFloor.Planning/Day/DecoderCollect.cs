namespace ShopFloor.Planning.DayPlans;

/// <summary>What belongs to one block: everything that hangs together by longest waits, in both directions, with its stage.</summary>
internal sealed partial class Decoder
{
    /// <summary>Adds what hangs on the seed by longest waits, in both directions.</summary>
    private int Collect(int seed, int id, List<Op> ops, ref int ranks)
    {
        if (seed >= 0 && groupOf[seed] >= 0 && nodes[seed].IsHeated)
            seed = ~groupOf[seed];
        if (seed < 0)
            return CollectGroup(~seed, id, ops, ref ranks);
        return CollectNode(seed, id, ops, ref ranks, ranks++);
    }

    private int CollectGroup(int g, int id, List<Op> ops, ref int ranks)
    {
        var group = groups[g];
        var at = ops.Count;
        if (group.Family < 0)
        {
            var stages = 0;
            foreach (var n in group.Nodes)
                if (blockMark[n] != id && !Failed[nodes[n].Piece])
                    stages = Math.Max(stages, CollectNode(n, id, ops, ref ranks, ranks++));
            return stages;
        }
        foreach (var n in group.Nodes)
            blockMark[n] = id;
        ops.Add(default);
        var stage = 0;
        foreach (var n in group.Nodes)
            if (!Failed[nodes[n].Piece])
                stage = Math.Max(stage, Forward(n, id, ops, ref ranks));
        stage++;
        ops[at] = new Op(~g, stage, true, ranks++, 0);
        StageOf(g, stage);
        foreach (var n in group.Nodes)
            if (!Failed[nodes[n].Piece])
                Backward(n, id, ops, ref ranks, stage, ranks++);
        return stage;
    }

    private int[] groupStage = [];

    private void StageOf(int g, int stage)
    {
        if (groupStage.Length < groups.Length)
            Array.Resize(ref groupStage, groups.Length);
        groupStage[g] = stage;
    }

    private int CollectNode(int n, int id, List<Op> ops, ref int ranks, int rank)
    {
        blockMark[n] = id;
        var stage = Forward(n, id, ops, ref ranks) + (nodes[n].IsSpray ? 1 : 0);
        ops.Add(new Op(n, stage, false, rank, nodes[n].StepNumber));
        Backward(n, id, ops, ref ranks, stage, rank);
        return stage;
    }

    /// <summary>Collects what follows a node closely; the number of batches from there on.</summary>
    private int Forward(int n, int id, List<Op> ops, ref int ranks)
    {
        var next = nodes[n].Next;
        if (next < 0 || !nodes[next].IsTight)
            return 0;
        if (blockMark[next] == id)
            return nodes[next].IsHeated ? groupStage[groupOf[next]] : 0;
        return Collect(next, id, ops, ref ranks);
    }

    private void Backward(int n, int id, List<Op> ops, ref int ranks, int stage, int rank)
    {
        while (nodes[n].IsTight && nodes[n].Before >= 0 && blockMark[nodes[n].Before] != id)
        {
            n = nodes[n].Before;
            if (nodes[n].IsHeated)
            {
                Collect(n, id, ops, ref ranks);
                return;
            }
            blockMark[n] = id;
            stage += nodes[n].IsSpray ? 1 : 0;
            ops.Add(new Op(n, stage, false, rank, nodes[n].StepNumber));
        }
    }
}
