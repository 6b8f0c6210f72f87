namespace ShopFloor.Planning.Loads;

/// <summary>Finds what cannot be planned, and says why.</summary>
internal static class LoadFaults
{
    /// <summary>The jobs that can be planned, in an order that does not depend on the input's, and the others with reasons.</summary>
    /// <exception cref="ArgumentException">The problem as a whole makes no sense: matrices, families or ovens do not match.</exception>
    public static (IReadOnlyList<int> Plannable, IReadOnlyList<LeftOutJob> LeftOut) Find(LoadProblem problem)
    {
        CheckWhole(problem);
        var room = problem.Room?.Invoke();
        var plannable = new List<int>();
        var left = new List<LeftOutJob>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        for (var j = 0; j < problem.Jobs.Count; j++)
        {
            var reason = seen.Add(problem.Jobs[j].Id) ? Reason(problem, room, j) : "another piece has the same id";
            if (reason is null)
                plannable.Add(j);
            else
                left.Add(new(j, $"{problem.Jobs[j].Id} cannot be planned, because {reason}."));
        }
        return ([.. plannable.OrderBy(j => problem.Jobs[j].Id, StringComparer.Ordinal)], left);
    }

    /// <summary>The ovens that a job may go into: named by it, large enough, with room for it alone.</summary>
    public static int[] OvensFor(LoadProblem problem, LoadRoom? room, int j)
    {
        var job = problem.Jobs[j];
        return
        [
            .. Reached(problem, job)
                .Where(o => problem.Ovens[o].Capacity >= Math.Max(1, job.Size))
                .Where(o => room is null || room.Fits(o, [j]))
                .Distinct()
                .Order(),
        ];
    }

    private static string? Reason(LoadProblem problem, LoadRoom? room, int j)
    {
        var job = problem.Jobs[j];
        if (job.Family < 0 || job.Family >= problem.Families)
            return "its temperature family is unknown";
        if (job.MinDwell < 1 || job.MaxDwell < job.MinDwell)
            return Text($"its window from {job.MinDwell} s to {job.MaxDwell} s is empty");
        if (job.Size < 0 || job.Weight < 0 || job.Release < 0)
            return "its size, weight and release cannot be below zero";
        if (!Reached(problem, job).Any())
            return "no oven reaches its temperature";
        if (Reached(problem, job).All(o => problem.Ovens[o].Capacity <= 0))
            return "the ovens for it have no capacity";
        var ovens = OvensFor(problem, room, j);
        if (ovens.Length == 0)
            return "it is larger than every oven for it";
        return ovens.Any(o => HasTime(problem, job, o)) ? null : "no oven for it is free long enough after its release";
    }

    private static IEnumerable<int> Reached(LoadProblem problem, LoadJob job) => job.Ovens.Where(o => o >= 0 && o < problem.Ovens.Count);

    private static bool HasTime(LoadProblem problem, LoadJob job, int o) =>
        problem.Ovens[o].Available.Any(a => Math.Max(a.From, job.Release) + (long)job.MinDwell <= a.To);

    private static void CheckWhole(LoadProblem problem)
    {
        if (problem.Ovens.Count > LoadModel.MostOvens)
            throw new ArgumentException($"More than {LoadModel.MostOvens} ovens are not supported.", nameof(problem));
        if (problem.SetupTimes.GetLength(0) < problem.Families || problem.SetupTimes.GetLength(1) < problem.Families)
            throw new ArgumentException("The matrix of set-up times is smaller than the number of families.", nameof(problem));
        if (problem.SetupCosts.GetLength(0) < problem.Families || problem.SetupCosts.GetLength(1) < problem.Families)
            throw new ArgumentException("The matrix of set-up costs is smaller than the number of families.", nameof(problem));
        foreach (var oven in problem.Ovens)
        {
            if (oven.FirstFamily < 0 || oven.FirstFamily >= problem.Families)
                throw new ArgumentException($"Oven {oven.Id}: the first family is unknown.", nameof(problem));
            for (var k = 0; k < oven.Available.Count; k++)
                if (oven.Available[k].From >= oven.Available[k].To || (k > 0 && oven.Available[k].From < oven.Available[k - 1].To))
                    throw new ArgumentException($"Oven {oven.Id}: its times are not sorted and disjoint.", nameof(problem));
        }
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
