namespace ShopFloor.Planning.Loads;

/// <summary>A load as it would be after a change that is being priced.</summary>
internal sealed class LoadDraft
{
    private readonly LoadModel model;

    public LoadDraft(LoadModel model)
    {
        this.model = model;
        Jobs = new int[Math.Max(1, model.N)];
    }

    /// <summary>The load that it replaces, or −1 for a new one.</summary>
    public int Load { get; set; } = -1;

    /// <summary>False when this draft plays no part in the change.</summary>
    public bool Used { get; set; }
    public int Oven { get; set; }
    public int Position { get; set; }
    public int[] Jobs { get; }
    public int Count { get; private set; }
    public int Family { get; private set; }
    public int Dwell { get; private set; }
    public int Longest { get; private set; }
    public int Release { get; private set; }
    public long Size { get; private set; }
    public ulong Ovens { get; private set; }
    private int firstDue;
    private int lastDue;

    /// <summary>Begins an empty load.</summary>
    public void Begin(int load, int oven, int position, int family)
    {
        (Used, Load, Oven, Position, Family) = (true, load, oven, position, family);
        Count = 0;
        Dwell = 0;
        Longest = int.MaxValue;
        Release = 0;
        Size = 0;
        Ovens = ulong.MaxValue;
        firstDue = int.MaxValue;
        lastDue = int.MinValue;
    }

    /// <summary>Puts a job in.</summary>
    public void Add(int j)
    {
        Jobs[Count++] = j;
        Dwell = Math.Max(Dwell, model.MinDwell[j]);
        Longest = Math.Min(Longest, model.MaxDwell[j]);
        Release = Math.Max(Release, model.Release[j]);
        Size += model.Size[j];
        Ovens &= model.Eligible[j];
        firstDue = Math.Min(firstDue, model.Due[j]);
        lastDue = Math.Max(lastDue, model.Due[j]);
    }

    /// <summary>Puts jobs in, leaving out one of them (−1 for none).</summary>
    public void AddAll(ReadOnlySpan<int> jobs, int except = -1)
    {
        foreach (var j in jobs)
            if (j != except)
                Add(j);
    }

    /// <summary>True when windows, capacity and ovens allow the load, lay-out not looked at.</summary>
    public bool Possible => Dwell <= Longest && Size <= model.Capacity[Oven] && ((Ovens >> Oven) & 1) != 0;

    /// <summary>What the jobs cost when the load ends at a given second; for the ramp see <see cref="LoadModel.LateCost"/>.</summary>
    public long Late(int end, int ramp)
    {
        if (end <= firstDue)
            return 0;
        if (!model.CountsLateness && end > lastDue + ramp)
            return Count * model.LatePrice;
        long sum = 0;
        for (var k = 0; k < Count; k++)
            sum += model.LateCost(Jobs[k], end, ramp);
        return sum;
    }
}
