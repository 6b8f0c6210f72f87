namespace ShopFloor.Planning.DayPlans;

/// <summary>Who does each task and which comes first, at people and at stations. A task that comes later in the sequence never makes an
/// earlier one wait, save by a longest wait.</summary>
internal sealed class TimeOrder
{
    private readonly TimeNet net;
    private readonly IReadOnlyList<HeatedPlace> heated;

    /// <summary>An order.</summary>
    /// <param name="net">The tasks.</param>
    /// <param name="heated">Ovens and presses.</param>
    /// <param name="sequence">All tasks, each behind those that it is tied to.</param>
    /// <param name="person">Who does each task; -1: nobody.</param>
    /// <param name="stations">For each booth, oven and press what it does, in order.</param>
    /// <param name="first">For each station its set point before the first load or session, in tenths of °C, and from when it can change.</param>
    public TimeOrder(
        TimeNet net,
        IReadOnlyList<HeatedPlace> heated,
        int[] sequence,
        int[] person,
        Unit[][] stations,
        (int TenthsC, int FromS)[] first
    )
    {
        (this.net, this.heated, Sequence, Person, Stations, First) = (net, heated, sequence, person, stations, first);
        Ahead = new int[person.Length];
        Again = new int[person.Length];
        Lead = new int[person.Length];
        Follower = new int[person.Length];
        Since = new int[person.Length];
        Array.Fill(Since, int.MinValue / 2);
        Array.Fill(Ahead, -1);
        Array.Fill(Follower, -1);
        Array.Fill(Again, -1);
        for (var s = 0; s < stations.Length; s++)
            Link(stations[s], first[s]);
    }

    /// <summary>All tasks in the order in which they claim people.</summary>
    public int[] Sequence { get; }

    /// <summary>Who does each task.</summary>
    public int[] Person { get; }

    /// <summary>What each booth, oven and press does, in order.</summary>
    public Unit[][] Stations { get; }

    private (int TenthsC, int FromS)[] First { get; }

    /// <summary>The task before each one at its station, or -1.</summary>
    public int[] Ahead { get; }

    /// <summary>The task after each one at its station, or -1.</summary>
    public int[] Follower { get; }

    /// <summary>For a spray the longest pause since the task before it, or -1.</summary>
    public int[] Again { get; }

    /// <summary>Seconds that the change of the set point before each task takes.</summary>
    public int[] Lead { get; }

    private void Link(Unit[] units, (int TenthsC, int FromS) first)
    {
        var (before, tenths) = (-1, first.TenthsC);
        // What runs already has its place and its set point.
        if (units.Length > 0 && !net.Tasks[units[0].Tasks[0]].IsFixed)
            Since[units[0].Tasks[0]] = first.FromS;
        foreach (var unit in units)
        {
            var place = net.Tasks[unit.Tasks[0]].Heated;
            if (place >= 0 && unit.TenthsC != tenths && !net.Tasks[unit.Tasks[0]].IsFixed)
                Lead[unit.Tasks[0]] = heated[place].ChangeS(tenths, unit.TenthsC);
            for (var i = 0; i < unit.Tasks.Length; i++)
            {
                if (i > 0 && unit.AgainAfter >= 0)
                    Again[unit.Tasks[i]] = unit.AgainAfter;
                // The unloading of an oven is tied to its loading by the dwell already.
                if (i == 0 || unit.AgainAfter >= 0)
                    Ahead[unit.Tasks[i]] = before;
                if (before >= 0)
                    Follower[before] = unit.Tasks[i];
                before = unit.Tasks[i];
            }
            tenths = unit.TenthsC;
        }
    }

    /// <summary>For the first task of each station the time from which the station is free.</summary>
    public int[] Since { get; }

    /// <summary>How many changes of a set point the loads and sessions ask for.</summary>
    public int Changes => Lead.Count(l => l > 0);

    /// <summary>The same with another sequence and other people.</summary>
    public TimeOrder With(int[] sequence, int[] person) => new(this, sequence, person);

    private TimeOrder(TimeOrder other, int[] sequence, int[] person)
    {
        (net, heated, Sequence, Person, Stations, First) = (other.net, other.heated, sequence, person, other.Stations, other.First);
        (Ahead, Again, Lead, Follower, Since) = (other.Ahead, other.Again, other.Lead, other.Follower, other.Since);
    }

    /// <summary>The same with another order at one station, the sequence changed as little as that asks for; null when it cannot be.</summary>
    public TimeOrder? With(int station, Unit[] units)
    {
        var stations = (Unit[][])Stations.Clone();
        stations[station] = units;
        var made = new TimeOrder(net, heated, (int[])Sequence.Clone(), Person, stations, First);
        return made.Sort() ? made : null;
    }

    /// <summary>Puts every task behind what it is tied to, in the old order otherwise; false when the ties run in a circle.</summary>
    private bool Sort()
    {
        var (rank, waits) = (new int[Sequence.Length], new int[Sequence.Length]);
        for (var i = 0; i < Sequence.Length; i++)
            rank[Sequence[i]] = i;
        for (var t = 0; t < waits.Length; t++)
            waits[t] = net.Before[t].Length + (Ahead[t] >= 0 ? 1 : 0);
        var open = new PriorityQueue<int, int>();
        for (var t = 0; t < waits.Length; t++)
            if (waits[t] == 0)
                open.Enqueue(t, rank[t]);
        var at = 0;
        while (open.TryDequeue(out var t, out _))
        {
            Sequence[at++] = t;
            foreach (var arc in net.After[t])
                Release(arc.To);
            if (Follower[t] >= 0 && Ahead[Follower[t]] == t)
                Release(Follower[t]);
        }
        return at == Sequence.Length;

        void Release(int t)
        {
            if (--waits[t] == 0)
                open.Enqueue(t, rank[t]);
        }
    }
}
