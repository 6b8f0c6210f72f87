namespace ShopFloor.Planning.Loads;

/// <summary>
/// The chains of one search. Where only late jobs are counted and one costs more than some loads, a long search first plans the loads that
/// are in time (<see cref="LoadsInTime"/>) and then cools the whole from there, with less heat: how many are late is the greater part of
/// the cost, and a search of the whole spends its steps on where the late ones lie. Whether it helps to price late jobs on a ramp while a
/// search is young depends on the problem, so a short cooling in which every second chain has a ramp tells it, and all chains of the long
/// cooling do as the better one did. A small problem is cooled several times instead, half of the chains with a ramp, and any other with
/// very many steps for each job: one long cooling now and then freezes beside the optimum, and several do not.
/// </summary>
internal sealed class LoadSearch
{
    // Temperatures at the begin and the end of a cooling, as shares of what one late job with its load, and one second of dwell, cost.
    private const double Hot = 0.2;
    private const double Cold = 0.1;
    private const double StepsToBeginHot = 4000;

    /// <summary>The begin of the cooling that follows the loads in time, as a share of a late job.</summary>
    private const double HotAfterInTime = 0.06;

    /// <summary>One round of so many belongs to the loads in time.</summary>
    private const int InTimeShare = 4;

    /// <summary>One round of so many belongs to the short cooling.</summary>
    private const int PilotShare = 8;

    /// <summary>A late job must cost as much as so many loads of mean dwell before it is looked at by itself.</summary>
    private const int LoadsForALateJob = 4;

    private const int FewJobs = 60;
    private const int MostCoolings = 8;
    private const int MostCoolingsInTime = 4;
    private const double StepsOfACooling = 40_000;
    private const double StepsOfACoolingInTime = 150_000;
    private const int MostLongCoolings = 4;
    private const double StepsOfALongCooling = 1_000_000;

    private readonly LoadModel model;
    private readonly LoadEffort effort;
    private readonly long bound;
    private readonly Action<LoadProgress>? progress;
    private readonly LoadAnnealing[] chains;
    private readonly double cold;
    private readonly bool isLong;
    private double hot;
    private LoadState best;

    public LoadSearch(LoadModel model, LoadState start, LoadEffort effort, long bound, Action<LoadProgress>? progress)
    {
        (this.model, this.effort, this.bound, this.progress, best) = (model, effort, bound, progress, start);
        chains = [.. Enumerable.Range(0, effort.Chains).Select(c => new LoadAnnealing(model, start, (effort.Seed * 1000) + (ulong)c))];
        var price = Math.Max(1, model.DwellPrice + model.LoadPrice / 100 + model.MeanLateWeight);
        cold = Cold * price;
        // A short search that began hot would only destroy the start: below some steps per job it begins cooler.
        var patience = Math.Min(1, effort.Steps / (StepsToBeginHot * model.N));
        isLong = patience >= 1;
        hot = Math.Max(cold, Math.Pow(patience, 2) * Hot * (model.LatePrice + 5 * price));
    }

    /// <summary>The best state found; when cancelled, of the last finished round.</summary>
    public LoadState Run(CancellationToken cancel)
    {
        var isFew = model.N <= FewJobs;
        if (!isLong || model.CountsLateness)
            Cool(0, effort.Rounds, cancel);
        else if (!(isFew || LateJobsWeighMost))
            CoolOften(Coolings(StepsOfALongCooling, MostLongCoolings), cancel);
        else if (isFew)
            CoolOftenWithRamps(Coolings(StepsOfACooling, MostCoolings), cancel);
        else if (PlanInTime(cancel) is var first and > 0)
            Cool(first, effort.Rounds, cancel);
        else
            CoolAsThePilot(cancel);
        return best;
    }

    private bool LateJobsWeighMost => model.LatePrice > LoadsForALateJob * model.DwellPrice * model.MinDwell.Average();

    // Begins with the loads in time; the rounds spent on them, none when the problem has no such part.
    private int PlanInTime(CancellationToken cancel)
    {
        var rounds = effort.Rounds / InTimeShare;
        if (best.Cost <= bound || rounds == 0 || LoadsInTime.Of(model) is not { } part)
            return 0;
        var effortInTime = effort with { Steps = effort.Steps / InTimeShare, Rounds = rounds };
        var search = new LoadSearch(part.Model, part.Start(), effortInTime, 0, Tell);
        // Where the others find no time beside them, the whole is cooled from its first plan, from all heat.
        if (part.ToWhole(search.RunInTime(cancel)) is { } whole && whole.Cost < best.Cost)
            StartFrom(whole);
        return rounds;
    }

    private void StartFrom(LoadState whole)
    {
        best = whole;
        foreach (var chain in chains)
            chain.StartFrom(whole);
        hot = Math.Max(cold, HotAfterInTime * model.LatePrice);
    }

    private void Tell(LoadProgress inTime) => progress?.Invoke(new(inTime.Round, effort.Rounds, best.Cost, bound));

    private LoadState RunInTime(CancellationToken cancel)
    {
        var coolings = model.N <= FewJobs ? Coolings(StepsOfACooling, MostCoolings) : Coolings(StepsOfACoolingInTime, MostCoolingsInTime);
        if (coolings > 1)
            CoolOftenWithRamps(coolings, cancel);
        else
            CoolAsThePilot(cancel);
        return best;
    }

    private int Coolings(double steps, int most) => Math.Clamp((int)(effort.Steps / (steps * model.N)), 1, Math.Min(most, effort.Rounds));

    private void CoolOftenWithRamps(int coolings, CancellationToken cancel)
    {
        GiveRamps();
        CoolOften(coolings, cancel);
    }

    private void CoolOften(int coolings, CancellationToken cancel)
    {
        for (var k = 0; k < coolings; k++)
            Cool(effort.Rounds * k / coolings, effort.Rounds * (k + 1) / coolings, cancel);
    }

    private void CoolAsThePilot(CancellationToken cancel)
    {
        var pilot = chains.Length > 1 ? effort.Rounds / PilotShare : 0;
        GiveRamps();
        Cool(0, pilot, cancel);
        var ramp = pilot > 0 && chains.MinBy(c => c.Best.Cost)!.HasRamp;
        foreach (var chain in chains)
            chain.HasRamp = ramp;
        Cool(pilot, effort.Rounds, cancel);
    }

    // Every second chain.
    private void GiveRamps()
    {
        for (var c = 1; c < chains.Length; c += 2)
            chains[c].HasRamp = true;
    }

    // One cooling over a part of the rounds.
    private void Cool(int first, int end, CancellationToken cancel)
    {
        var begin = effort.Steps * first / effort.Rounds;
        var total = (effort.Steps * end / effort.Rounds) - begin;
        for (var round = first; round < end && best.Cost > bound && !cancel.IsCancellationRequested; round++)
        {
            var (from, to) = ((effort.Steps * round / effort.Rounds) - begin, (effort.Steps * (round + 1) / effort.Rounds) - begin);
            SideBySide.Run(chains.Length, chains.Length, c => chains[c].Run(from, to, total, hot, cold, cancel));
            if (cancel.IsCancellationRequested)
                return;
            best = new LoadState(model);
            best.CopyFrom(chains.MinBy(c => c.Best.Cost)!.Best);
            progress?.Invoke(new(round + 1, effort.Rounds, best.Cost, bound));
        }
    }
}
