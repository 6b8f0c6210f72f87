namespace ShopFloor.Planning.DayPlans;

/// <summary>A lag between two tasks: <paramref name="To"/> starts at least <paramref name="Lag"/> seconds after <paramref name="From"/> starts.
/// A longest wait is a negative lag from the later task back to the earlier one.</summary>
internal readonly record struct Arc(int From, int To, int Lag);

/// <summary>A task whose person and time are to be found.</summary>
internal sealed record NetTask
{
    /// <summary>Seconds that it takes.</summary>
    public required int Length { get; init; }

    /// <summary>Earliest start.</summary>
    public int Earliest { get; init; }

    /// <summary>Latest start.</summary>
    public int Latest { get; init; } = Line.Never;

    /// <summary>Whether it stays where it is, as running work and kept pins do: its earliest start is its start.</summary>
    public bool IsFixed { get; init; }

    /// <summary>Who may do it, as positions of people.</summary>
    public int[] Able { get; init; } = [];

    /// <summary>The spray round that it belongs to, all by one person, or -1.</summary>
    public int Round { get; init; } = -1;

    /// <summary>When its place cannot be used.</summary>
    public (int From, int To)[] Down { get; init; } = [];

    /// <summary>How long its place is needed from its start, in seconds.</summary>
    public int Needs { get; init; }

    /// <summary>The oven or press, for the task that begins a load or session, or -1.</summary>
    public int Heated { get; init; } = -1;
}

/// <summary>Tasks that follow one another at one booth, oven or press without anything between them: a round, a load, a session.</summary>
/// <param name="Tasks">In order.</param>
/// <param name="TenthsC">Set point of a load or session.</param>
/// <param name="AgainAfter">Longest pause within a round, in seconds; -1: no round.</param>
internal sealed record Unit(int[] Tasks, int TenthsC, int AgainAfter);

/// <summary>The tasks of a plan whose batches stay as they are, with everything that ties their times. Who does what and who comes first are
/// the solution's (<see cref="TimeOrder"/>); this class computes the earliest times that follow. Search kernel: flat arrays.</summary>
internal sealed class TimeNet
{
    private readonly NetTask[] tasks;
    private readonly int[] length;
    private readonly int[] earliest;
    private readonly int[] latest;
    private readonly int[] intoAt;
    private readonly Arc[] into;
    private readonly int[] backAt;
    private readonly Arc[] back;
    private readonly (int From, int To)[][] shifts;
    private readonly int[] last;
    private readonly int[] before;
    private readonly int[] place;

    /// <summary>A net.</summary>
    /// <param name="tasks">The tasks.</param>
    /// <param name="arcs">The ties that hold in every order.</param>
    /// <param name="shifts">For each person the spans in which tasks may lie.</param>
    public TimeNet(NetTask[] tasks, IReadOnlyCollection<Arc> arcs, (int From, int To)[][] shifts)
    {
        (this.tasks, this.shifts) = (tasks, shifts);
        length = [.. tasks.Select(t => t.Length)];
        earliest = [.. tasks.Select(t => t.Earliest)];
        latest = [.. tasks.Select(t => t.IsFixed ? t.Earliest : t.Latest)];
        (intoAt, into) = Flat(arcs.Where(a => a.Lag >= 0), a => a.To);
        (backAt, back) = Flat(arcs.Where(a => a.Lag < 0), a => a.From);
        Before = By(arcs, a => a.To);
        After = By(arcs, a => a.From);
        (last, before, place) = (new int[shifts.Length], new int[tasks.Length], new int[tasks.Length]);
        Start = new int[tasks.Length];
    }

    /// <summary>The tasks.</summary>
    public IReadOnlyList<NetTask> Tasks => tasks;

    /// <summary>Starts that the last call of <see cref="Place"/> found.</summary>
    public int[] Start { get; }

    /// <summary>What follows each task in every order.</summary>
    public Arc[][] After { get; }

    /// <summary>What each task follows in every order.</summary>
    public Arc[][] Before { get; }

    private Arc[][] By(IEnumerable<Arc> arcs, Func<Arc, int> task)
    {
        var sorted = arcs.Where(a => a.Lag >= 0).ToLookup(task);
        return [.. Enumerable.Range(0, tasks.Length).Select(t => sorted[t].ToArray())];
    }

    private (int[] At, Arc[] Arcs) Flat(IEnumerable<Arc> arcs, Func<Arc, int> task)
    {
        Arc[] sorted = [.. arcs.OrderBy(task)];
        var at = new int[tasks.Length + 1];
        foreach (var arc in sorted)
            at[task(arc) + 1]++;
        for (var t = 0; t < tasks.Length; t++)
            at[t + 1] += at[t];
        return (at, sorted);
    }

    /// <summary>The end of a task as last placed.</summary>
    public int End(int task) => Start[task] + length[task];

    /// <summary>Finds the earliest start of every task in this order; false when some limit cannot be kept. Tasks are placed one after
    /// another; where a longest wait pushes one that came before, it goes on from there.</summary>
    public bool Place(TimeOrder order)
    {
        Array.Copy(earliest, Start, earliest.Length);
        FindBefore(order);
        var (visits, at) = (MostVisits * tasks.Length, 0);
        while (at < tasks.Length)
        {
            var t = order.Sequence[at];
            var start = Earliest(t, order);
            if (start > latest[t] || --visits < 0)
                return false;
            Start[t] = start;
            pushed = at;
            PushBack(t, order);
            at = pushed == at ? at + 1 : pushed;
        }
        return true;
    }

    private const int MostVisits = 60;
    private int pushed;

    private void FindBefore(TimeOrder order)
    {
        Array.Fill(last, -1);
        for (var i = 0; i < order.Sequence.Length; i++)
        {
            var t = order.Sequence[i];
            place[t] = i;
            if (order.Person[t] is var person and >= 0)
                (before[t], last[person]) = (last[person], t);
        }
    }

    private int Earliest(int t, TimeOrder order)
    {
        var (at, person, ahead, lead) = (Start[t], order.Person[t], order.Ahead[t], order.Lead[t]);
        for (var i = intoAt[t]; i < intoAt[t + 1]; i++)
            at = Math.Max(at, Start[into[i].From] + into[i].Lag);
        at = Math.Max(at, lead + (ahead < 0 ? order.Since[t] : End(ahead)));
        if (person >= 0 && before[t] >= 0)
            at = Math.Max(at, End(before[t]));
        return tasks[t].IsFixed ? at : Fit(t, person, at, lead);
    }

    /// <summary>Moves what came before so far that no longest wait is passed.</summary>
    private void PushBack(int t, TimeOrder order)
    {
        var at = Start[t];
        for (var i = backAt[t]; i < backAt[t + 1]; i++)
            Push(back[i].To, at + back[i].Lag, order);
        if (order.Again[t] is var again and >= 0)
            Push(order.Ahead[t], at - length[order.Ahead[t]] - again, order);
    }

    private void Push(int t, int least, TimeOrder order)
    {
        if (Start[t] >= least)
            return;
        Start[t] = least;
        pushed = Math.Min(pushed, place[t]);
        PushBack(t, order);
    }

    /// <summary>The first start from a time on at which person and place are there, with a lead before it for the set point.</summary>
    private int Fit(int t, int person, int from, int lead)
    {
        var down = tasks[t].Down;
        for (var start = from; ; )
        {
            var next = person < 0 ? start : InShift(person, start, length[t]);
            foreach (var (begin, end) in down)
                if (begin < next + tasks[t].Needs && end > next - lead)
                    next = end + lead;
            if (next == start || next >= Line.Never)
                return next;
            start = next;
        }
    }

    private int InShift(int person, int start, int seconds)
    {
        foreach (var (from, to) in shifts[person])
            if (Math.Max(start, from) + seconds <= to)
                return Math.Max(start, from);
        return Line.Never;
    }
}
