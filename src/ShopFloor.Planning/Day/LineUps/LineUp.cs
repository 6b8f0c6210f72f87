namespace ShopFloor.Planning.DayPlans;

/// <summary>Who comes after whom: one sequence in which all ops claim people, booth, ovens and presses, with the person of each and the
/// members of each batch. Times follow from it (<see cref="LineUpTimes"/>). Search kernel: flat arrays, changed in place.</summary>
internal sealed class LineUp
{
    private readonly LineUpShop at;

    public LineUp(LineUpShop at)
    {
        this.at = at;
        (Sequence, Position, Person) = (new int[at.Ops], new int[at.Ops], new int[at.Ops]);
        var steps = at.Shop.Nodes.Length;
        (Joins, BatchOf, Can, Booth) = (new bool[steps], new int[steps], new int[steps], new int[steps]);
        Batches = new LineBatch?[at.MostBatches];
        Array.Fill(Position, -1);
        Array.Fill(Person, -1);
        Array.Fill(BatchOf, -1);
    }

    /// <summary>The ops in order; the first <see cref="Count"/> of them.</summary>
    public int[] Sequence { get; }

    public int Count { get; set; }

    /// <summary>Where each op stands in the sequence, or -1.</summary>
    public int[] Position { get; }

    /// <summary>Who does each op.</summary>
    public int[] Person { get; }

    /// <summary>Whether a spray makes those before it wait, so that one shake does for all.</summary>
    public bool[] Joins { get; }

    /// <summary>The can of each spray.</summary>
    public int[] Can { get; }

    /// <summary>The booth of each spray.</summary>
    public int[] Booth { get; }

    /// <summary>The batch of each cure, drying or press.</summary>
    public int[] BatchOf { get; }

    /// <summary>The loads and sessions; null where a number is free.</summary>
    public LineBatch?[] Batches { get; }

    public void CopyFrom(LineUp other)
    {
        Array.Copy(other.Sequence, Sequence, other.Count);
        Count = other.Count;
        other.Position.CopyTo(Position, 0);
        other.Person.CopyTo(Person, 0);
        other.Joins.CopyTo(Joins, 0);
        other.Can.CopyTo(Can, 0);
        other.Booth.CopyTo(Booth, 0);
        other.BatchOf.CopyTo(BatchOf, 0);
        other.Batches.CopyTo(Batches, 0);
    }

    /// <summary>Whether the shake before a spray is an op by itself.</summary>
    public bool HasShake(int spray) => Position[at.ShakeOf(spray)] >= 0;

    /// <summary>The op with which a step begins.</summary>
    public int StartOp(int node) => BatchOf[node] < 0 ? node : at.LoadOp(BatchOf[node]);

    /// <summary>The op with which a step ends.</summary>
    public int EndOp(int node) => BatchOf[node] < 0 ? node : at.LoadOp(BatchOf[node]) + (Batches[BatchOf[node]]!.IsLoad ? 1 : 0);

    /// <summary>Puts an op into the sequence.</summary>
    public void Insert(int op, int position, int person)
    {
        Array.Copy(Sequence, position, Sequence, position + 1, Count - position);
        Sequence[position] = op;
        Person[op] = person;
        Count++;
        Number(position);
    }

    /// <summary>Takes an op out of the sequence.</summary>
    public void Remove(int op)
    {
        var position = Position[op];
        Count--;
        Array.Copy(Sequence, position + 1, Sequence, position, Count - position);
        Position[op] = -1;
        Number(position);
    }

    /// <summary>Finds the positions anew from one on.</summary>
    public void Number(int from = 0)
    {
        for (var i = from; i < Count; i++)
            Position[Sequence[i]] = i;
    }

    /// <summary>Gives a batch its members; those that it had before must have been given elsewhere.</summary>
    public void Fill(int batch, LineBatch made)
    {
        Batches[batch] = made;
        foreach (var n in made.Group.Nodes)
            BatchOf[n] = batch;
    }
}
