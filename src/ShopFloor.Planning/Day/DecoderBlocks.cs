using System.Runtime.InteropServices;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Blocks: everything that hangs together by longest waits is placed together, and pushed back together when it must wait.</summary>
internal sealed partial class Decoder
{
    private const int Waiting = 0;
    private const int InProgress = 1;
    private const int Done = 2;
    private const int GaveUp = 3;

    private readonly int[] release;
    private readonly int[] inBlock;
    private readonly int[] blockMark;
    private readonly bool[] pinDropped;
    private readonly bool[] busy;
    private int blockCount;
    private int depth;

    /// <summary>So many blocks may wait for one another in a row; a longer chain of pieces is not followed.</summary>
    private const int DeepestChain = 100;

    /// <summary>One thing to place: a node, or a whole group as the complement of its position.</summary>
    private readonly record struct Op(int Code, int Stage, bool IsGroup, int Rank, int StepNumber)
    {
        /// <summary>Early stages first, and within a stage piece after piece before the batch that they join.</summary>
        public long Key => ((long)(MostStages - Stage) << 45) | (IsGroup ? 1L << 44 : 0) | ((long)Rank << 20) | (uint)StepNumber;

        private const int MostStages = 1 << 17;
    }

    /// <summary>Lists of ops, one for each block that waits for another.</summary>
    private readonly List<List<Op>> opLists = [];
    private long[] keys = new long[64];

    private void Sort(List<Op> ops)
    {
        if (keys.Length < ops.Count)
            keys = new long[2 * ops.Count];
        for (var i = 0; i < ops.Count; i++)
            keys[i] = ops[i].Key;
        keys.AsSpan(0, ops.Count).Sort(CollectionsMarshal.AsSpan(ops));
    }

    private bool PlaceGroup(int g)
    {
        if (groupState[g] != Waiting)
            return groupState[g] == Done;
        if (AllFailed(g))
        {
            groupState[g] = GaveUp;
            return false;
        }
        return PlaceBlock(~g);
    }

    private bool AllFailed(int g)
    {
        foreach (var n in groups[g].Nodes)
            if (!Failed[nodes[n].Piece])
                return false;
        return true;
    }

    /// <summary>Places the block around a node or group, and before it whatever it follows.</summary>
    private bool PlaceBlock(int seed)
    {
        // Groups of one order may wait for each other in a circle once pieces come after others: whoever is met again gives up.
        if ((seed >= 0 && busy[seed]) || depth >= DeepestChain)
            return false;
        while (opLists.Count <= depth)
            opLists.Add([]);
        var ops = opLists[depth++];
        ops.Clear();
        var placed = PlaceBlock(seed, ops);
        foreach (var op in ops)
            if (op.Code >= 0)
                busy[op.Code] = false;
        depth--;
        return placed;
    }

    private bool PlaceBlock(int seed, List<Op> ops)
    {
        var id = ++blockCount;
        var ranks = 0;
        Collect(seed, id, ops, ref ranks);
        foreach (var op in ops)
            if (op.Code < 0)
                groupState[~op.Code] = InProgress;
            else
                busy[op.Code] = true;
        if (!PlaceWhatIsBefore(ops, id))
        {
            GiveUp(ops);
            return false;
        }
        Sort(ops);
        for (var i = 0; i < ops.Count; i++)
            if (ops[i].Code >= 0)
                inBlock[ops[i].Code] = i;
            else
                foreach (var n in groups[~ops[i].Code].Nodes)
                    inBlock[n] = i;
        if (!PlaceOps(ops, id) && !(DropPins(ops) && PlaceOps(ops, id)))
        {
            if (Split(ops))
                return true;
            GiveUp(ops);
            return false;
        }
        foreach (var op in ops)
            if (op.Code < 0)
                groupState[~op.Code] = Done;
        PlaceWhatFollows(ops);
        return true;
    }

    private void GiveUp(List<Op> ops)
    {
        foreach (var op in ops)
            if (op.Code < 0)
            {
                groupState[~op.Code] = GaveUp;
                foreach (var n in groups[~op.Code].Nodes)
                    Fail(nodes[n].Piece);
            }
            else
                Fail(nodes[op.Code].Piece);
    }

    private bool DropPins(List<Op> ops)
    {
        var any = false;
        foreach (var op in ops)
            if (op.Code >= 0)
                any |= DropPin(op.Code);
            else
                foreach (var n in groups[~op.Code].Nodes)
                    any |= DropPin(n);
        return any;
    }

    private bool DropPin(int n)
    {
        var has =
            !pinDropped[n]
            && !nodes[n].PinIsHard
            && (
                nodes[n].PinnedAt >= 0
                || nodes[n].PinnedNotBefore > 0
                || nodes[n].PinnedStation >= 0
                || (nodes[n].RestAfter && nodes[nodes[n].Next].PinnedRack >= 0)
            );
        if (has)
            pinDropped[n] = true;
        return has;
    }

    private bool PlaceOps(List<Op> ops, int id)
    {
        foreach (var op in ops)
            if (op.Code >= 0)
                release[op.Code] = 0;
            else
                foreach (var n in groups[~op.Code].Nodes)
                    release[n] = 0;
        var start = journal.Count;
        Span<int> marks = ops.Count <= 512 ? stackalloc int[ops.Count] : new int[ops.Count];
        var tries = 40 + (4 * ops.Count);
        for (var i = 0; i < ops.Count; )
        {
            marks[i] = journal.Count;
            var code = ops[i].Code;
            var need = code >= 0 ? TryNode(code) : TryGroup(~code);
            if (need < 0)
            {
                i++;
                continue;
            }
            var back = need >= Line.Never || --tries < 0 ? -1 : PushBack(code, need, id);
            // What would have to move stands behind: the order within the block goes in a circle.
            if (back < 0 || back > i)
            {
                UndoTo(start);
                return false;
            }
            UndoTo(marks[back]);
            i = back;
        }
        return true;
    }

    /// <summary>Moves what the op follows closely so late that it can start when it must; the first position that changed, or -1.</summary>
    private int PushBack(int code, int need, int id)
    {
        if (code >= 0)
            return Push(code, need, id);
        var first = int.MaxValue;
        foreach (var n in groups[~code].Nodes)
            if (!Failed[nodes[n].Piece] && Latest(n) < need)
            {
                var at = Push(n, need, id);
                if (at < 0)
                    return -1;
                first = Math.Min(first, at);
            }
        return first == int.MaxValue ? -1 : first;
    }

    private int Push(int n, int need, int id)
    {
        var first = int.MaxValue;
        while (true)
        {
            var node = nodes[n];
            var before = node.Before;
            if (!node.IsTight && RackLimit(n) >= need)
                return first == int.MaxValue ? -1 : first;
            if (node.PinnedAt >= 0 && !pinDropped[n] && need > node.PinnedAt)
                return -1;
            if (EndOfBefore(n) is var end && Math.Min(Add(end, node.MaxLag), RackLimit(n)) >= need)
                return first == int.MaxValue ? -1 : first;
            if (before < 0 || blockMark[before] != id)
                return -1;
            var shift = need - Math.Min(Add(end, node.MaxLag), RackLimit(n));
            var wanted = Start[before] + shift;
            first = Math.Min(first, inBlock[before]);
            foreach (var member in Members(before))
                release[member] = Math.Max(release[member], wanted);
            (n, need) = (before, wanted);
        }
    }

    private ReadOnlySpan<int> Members(int n) => nodes[n].IsHeated ? groups[groupOf[n]].Nodes : new ReadOnlySpan<int>(in SelfOf(n));

    private ref readonly int SelfOf(int n)
    {
        self[0] = n;
        return ref self[0];
    }

    private readonly int[] self = new int[1];

    private static int Add(int time, int lag) => lag >= Line.Never ? Line.Never : time + lag;

    private int EndOfBefore(int n)
    {
        var node = nodes[n];
        if (node.Before >= 0)
            return End[node.Before];
        return node.GivenBatch >= 0 ? running[node.GivenBatch]!.End : node.GivenEnd;
    }

    private int Earliest(int n)
    {
        var node = nodes[n];
        var t = Math.Max(node.Ready, release[n]);
        if (holds is not null)
            t = Math.Max(t, holds[n]);
        if (!pinDropped[n])
            t = Math.Max(t, Math.Max(node.PinnedNotBefore, node.PinnedAt));
        else if (node.PinIsHard)
            t = Math.Max(t, node.PinnedAt);
        var end = EndOfBefore(n);
        if (end > int.MinValue)
            t = Math.Max(t, end + node.MinLag);
        if (node.Before < 0)
            foreach (var other in shop.After[node.Piece])
                t = Math.Max(t, PieceEnd(other));
        return t;
    }

    private int Latest(int n)
    {
        var node = nodes[n];
        var end = EndOfBefore(n);
        var t = end > int.MinValue ? Add(end, node.MaxLag) : Line.Never;
        t = Math.Min(t, RackLimit(n));
        return node.PinnedAt >= 0 && (node.PinIsHard || !pinDropped[n]) ? Math.Min(t, node.PinnedAt) : t;
    }
}
