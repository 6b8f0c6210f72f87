using ShopFloor.Planning.Loads;

namespace ShopFloor.Benchmarks;

/// <summary>Recomputes a written oven solution from the instance as it was read; shares no code with the search.</summary>
internal static class CheckLoads
{
    /// <summary>Every broken rule in words; empty when the solution holds.</summary>
    public static List<string> Findings(OvenInstance instance, WrittenLoads solution)
    {
        var findings = new List<string>();
        var problem = instance.Problem;
        var seen = new int[problem.Jobs.Count + 1];
        long value = 0;
        foreach (var batch in solution.Batches)
            value += CheckBatch(problem, batch, seen, findings);
        for (var o = 1; o <= problem.Ovens.Count; o++)
            value += CheckSequence(problem, o, [.. solution.Batches.Where(b => b.Oven == o).OrderBy(b => b.Start)], findings);
        for (var j = 1; j < seen.Length; j++)
            if (seen[j] != 1)
                findings.Add(seen[j] == 0 ? $"job {j} is missing" : $"job {j} is in {seen[j]} batches");
        if (value != solution.Value)
            findings.Add($"the value is {value}, not {solution.Value}");
        return findings;
    }

    // Oven time and late jobs of one batch; its own rules.
    private static long CheckBatch(LoadProblem problem, WrittenBatch batch, int[] seen, List<string> findings)
    {
        var name = $"batch of oven {batch.Oven} at {batch.Start}";
        if (batch.Oven < 1 || batch.Oven > problem.Ovens.Count)
        {
            findings.Add($"{name}: the oven is unknown");
            return 0;
        }
        if (batch.Jobs.Count == 0)
            findings.Add($"{name}: it is empty");
        var dwell = batch.End - batch.Start;
        long size = 0;
        var late = 0;
        foreach (var j in batch.Jobs)
        {
            if (j < 1 || j >= seen.Length)
            {
                findings.Add($"{name}: job {j} is unknown");
                continue;
            }
            seen[j]++;
            var job = problem.Jobs[j - 1];
            size += job.Size;
            late += batch.End > job.Due ? 1 : 0;
            if (!job.Ovens.Contains(batch.Oven - 1))
                findings.Add($"{name}: job {j} may not go into this oven");
            if (job.Family != batch.Attribute - 1)
                findings.Add($"{name}: job {j} has another attribute");
            if (batch.Start < job.Release)
                findings.Add($"{name}: job {j} is not there before {job.Release}");
            if (dwell < job.MinDwell || dwell > job.MaxDwell)
                findings.Add($"{name}: {dwell} is outside the oven time of job {j}");
        }
        if (size > problem.Ovens[batch.Oven - 1].Capacity)
            findings.Add($"{name}: {size} is above the capacity");
        return problem.Weights.Dwell * dwell + problem.Weights.LateJob * late;
    }

    // Set-ups of one oven; order, gaps and intervals.
    private static long CheckSequence(LoadProblem problem, int oven, WrittenBatch[] batches, List<string> findings)
    {
        var given = problem.Ovens[oven - 1];
        var attribute = given.FirstFamily;
        var end = int.MinValue / 2;
        long cost = 0;
        foreach (var batch in batches)
        {
            if (batch.Attribute < 1 || batch.Attribute > problem.Families)
            {
                findings.Add($"oven {oven} at {batch.Start}: attribute {batch.Attribute} is unknown");
                continue;
            }
            var setup = problem.SetupTimes[attribute, batch.Attribute - 1];
            cost += problem.Weights.SetupCost * problem.SetupCosts[attribute, batch.Attribute - 1] + problem.Weights.SetupTime * setup;
            if (batch.Start - setup < end)
                findings.Add($"oven {oven} at {batch.Start}: no time for the set-up of {setup} after {end}");
            if (!given.Available.Any(a => a.From <= batch.Start - setup && batch.End <= a.To))
                findings.Add($"oven {oven} at {batch.Start}: set-up and batch are not within one interval");
            attribute = batch.Attribute - 1;
            end = batch.End;
        }
        return cost;
    }
}
