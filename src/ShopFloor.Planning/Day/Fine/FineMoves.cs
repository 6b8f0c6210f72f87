namespace ShopFloor.Planning.DayPlans;

/// <summary>Small changes of who does what and who comes first.</summary>
internal sealed class FineMoves
{
    private readonly TimeNet net;
    private readonly SeededRandom random;
    private readonly int[] free;
    private readonly int[][] rounds;
    private readonly int[] position;

    public FineMoves(TimeNet net, SeededRandom random)
    {
        (this.net, this.random) = (net, random);
        free = [.. Enumerable.Range(0, net.Tasks.Count).Where(t => !net.Tasks[t].IsFixed)];
        rounds = [.. free.Where(t => net.Tasks[t].Round >= 0).GroupBy(t => net.Tasks[t].Round).Select(g => g.ToArray()).Where(IsWhole)];
        position = new int[net.Tasks.Count];
    }

    private bool IsWhole(int[] round) => net.Tasks.Count(t => t.Round == net.Tasks[round[0]].Round) == round.Length;

    /// <summary>Another order, or null when the change that was drawn does not apply.</summary>
    public TimeOrder? Change(TimeOrder order)
    {
        if (free.Length == 0)
            return null;
        return random.Next(20) switch
        {
            < 6 => Shift(order, free[random.Next(free.Length)], false),
            < 10 => ShiftSome(order),
            < 14 => Shift(order, free[random.Next(free.Length)], true),
            < 16 => OtherPerson(order),
            < 18 => SwapInUnit(order),
            _ => SwapUnits(order),
        };
    }

    /// <summary>Another place in the sequence, between what the task follows and what follows it; by chance with another person.</summary>
    private TimeOrder? Shift(TimeOrder order, int task, bool other)
    {
        for (var i = 0; i < order.Sequence.Length; i++)
            position[order.Sequence[i]] = i;
        var (low, high) = (0, order.Sequence.Length - 1);
        foreach (var arc in net.Before[task])
            low = Math.Max(low, position[arc.From] + 1);
        foreach (var arc in net.After[task])
            high = Math.Min(high, position[arc.To] - 1);
        if (order.Ahead[task] >= 0)
            low = Math.Max(low, position[order.Ahead[task]] + 1);
        if (order.Follower[task] is var next and >= 0 && order.Ahead[next] == task)
            high = Math.Min(high, position[next] - 1);
        if (random.Next(2) == 0)
            (low, high) = (Math.Max(low, position[task] - Reach), Math.Min(high, position[task] + Reach));
        if (low > high)
            return null;
        var to = low + random.Next(high - low + 1);
        var person = order.Person;
        if (other && net.Tasks[task] is { Round: < 0, Able.Length: > 1 } one)
            (person = (int[])person.Clone())[task] = one.Able[random.Next(one.Able.Length)];
        return to == position[task] && ReferenceEquals(person, order.Person)
            ? null
            : order.With(Moved(order.Sequence, position[task], to), person);
    }

    private const int Reach = 8;

    /// <summary>Some tasks in a row come earlier or later together.</summary>
    private TimeOrder? ShiftSome(TimeOrder order)
    {
        var count = 2 + random.Next(MostTogether - 1);
        var slots = order.Sequence.Length - count;
        if (slots < 1)
            return null;
        var from = random.Next(slots + 1);
        var to = Math.Clamp(from + random.Next((2 * FarReach) + 1) - FarReach, 0, slots);
        if (from == to)
            return null;
        var moved = order.Sequence.AsSpan(from, count).ToArray();
        if (Array.Exists(moved, t => net.Tasks[t].IsFixed))
            return null;
        var result = (int[])order.Sequence.Clone();
        if (from < to)
            Array.Copy(order.Sequence, from + count, result, from, to - from);
        else
            Array.Copy(order.Sequence, to, result, to + count, from - to);
        moved.CopyTo(result, to);
        for (var i = 0; i < result.Length; i++)
            position[result[i]] = i;
        return Array.TrueForAll(moved, t => IsBehind(order, t)) ? order.With(result, order.Person) : null;
    }

    private const int MostTogether = 5;
    private const int FarReach = 12;

    /// <summary>Whether a task stands behind all that it follows and before all that follows it.</summary>
    private bool IsBehind(TimeOrder order, int task)
    {
        foreach (var arc in net.Before[task])
            if (position[arc.From] > position[task])
                return false;
        foreach (var arc in net.After[task])
            if (position[arc.To] < position[task])
                return false;
        var (ahead, next) = (order.Ahead[task], order.Follower[task]);
        return (ahead < 0 || position[ahead] < position[task])
            && (next < 0 || order.Ahead[next] != task || position[next] > position[task]);
    }

    private static int[] Moved(int[] sequence, int from, int to)
    {
        var result = (int[])sequence.Clone();
        var task = result[from];
        if (from < to)
            Array.Copy(sequence, from + 1, result, from, to - from);
        else
            Array.Copy(sequence, to, result, to + 1, from - to);
        result[to] = task;
        return result;
    }

    /// <summary>A task, or a round whole, by another person at the same place of the sequence.</summary>
    private TimeOrder? OtherPerson(TimeOrder order)
    {
        var task = free[random.Next(free.Length)];
        int[] whole = net.Tasks[task].Round < 0 ? [task] : Array.Find(rounds, r => r.Contains(task)) ?? [];
        var able = net.Tasks[task].Able;
        if (whole.Length == 0 || able.Length < 2)
            return null;
        var person = (int[])order.Person.Clone();
        var chosen = able[random.Next(able.Length)];
        foreach (var t in whole)
            person[t] = chosen;
        return chosen == order.Person[task] ? null : order.With(order.Sequence, person);
    }

    /// <summary>Two sprays of one round change places.</summary>
    private TimeOrder? SwapInUnit(TimeOrder order)
    {
        var s = random.Next(order.Stations.Length);
        if (order.Stations[s].Length == 0)
            return null;
        var u = random.Next(order.Stations[s].Length);
        var unit = order.Stations[s][u];
        if (unit.AgainAfter < 0 || unit.Tasks.Length < 3)
            return null;
        var i = 1 + random.Next(unit.Tasks.Length - 2);
        if (net.Tasks[unit.Tasks[i]].IsFixed || net.Tasks[unit.Tasks[i + 1]].IsFixed)
            return null;
        var tasks = (int[])unit.Tasks.Clone();
        (tasks[i], tasks[i + 1]) = (tasks[i + 1], tasks[i]);
        var units = (Unit[])order.Stations[s].Clone();
        units[u] = unit with { Tasks = tasks };
        return order.With(s, units);
    }

    /// <summary>Two rounds, loads or sessions that follow one another change places.</summary>
    private TimeOrder? SwapUnits(TimeOrder order)
    {
        var s = random.Next(order.Stations.Length);
        if (order.Stations[s].Length < 2)
            return null;
        var units = (Unit[])order.Stations[s].Clone();
        var u = random.Next(units.Length - 1);
        if (net.Tasks[units[u].Tasks[0]].IsFixed || net.Tasks[units[u + 1].Tasks[0]].IsFixed)
            return null;
        (units[u], units[u + 1]) = (units[u + 1], units[u]);
        return order.With(s, units);
    }
}
