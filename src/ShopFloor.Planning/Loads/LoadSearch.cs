namespace ShopFloor.Planning.Loads;

/// <summary>
/// The chains of one search. Whether it helps to price late jobs on a ramp while a search is young depends on the problem: with many late
/// jobs it wins, with few it loses. So a long search begins with a short cooling in which every second chain has a ramp, and all chains
/// of the long cooling do as the better one did. A small problem is cooled several times instead, half of the chains with a ramp: there one
/// long cooling now and then freezes beside the optimum, and many short ones do not.
/// </summary>
internal sealed class LoadSearch
{
    // Temperatures at the begin and the end of a cooling, as shares of what one late job with its load, and one second of dwell, cost.
    private const double Hot = 0.2;
    private const double Cold = 0.1;
    private const double StepsToBeginHot = 4000;

    /// <summary>One round of so many belongs to the short cooling.</summary>
    private const int PilotShare = 8;

    /// <summary>A late job must cost as much as so many loads of mean dwell before the short cooling is worth its steps.</summary>
    private const int LoadsForALateJob = 4;

    private const int FewJobs = 60;
    private const int MostCoolings = 8;
    private const double StepsOfACooling = 40_000;

    private readonly LoadModel model;
    private readonly LoadEffort effort;
    private readonly long bound;
    private readonly Action<LoadProgress>? progress;
    private readonly LoadAnnealing[] chains;
    private readonly double hot;
    private readonly double cold;
    private readonly bool isLong;
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
        if (!isLong || chains.Length == 1 || !RampMayHelp)
            Cool(0, effort.Rounds, cancel);
        else if (model.N <= FewJobs)
            CoolOften(cancel);
        else
            CoolAsThePilot(cancel);
        return best;
    }

    private bool RampMayHelp =>
        !model.CountsLateness && (model.N <= FewJobs || model.LatePrice > LoadsForALateJob * model.DwellPrice * model.MinDwell.Average());

    private void CoolOften(CancellationToken cancel)
    {
        GiveRamps();
        var coolings = Math.Clamp((int)(effort.Steps / (StepsOfACooling * model.N)), 1, Math.Min(MostCoolings, effort.Rounds));
        for (var k = 0; k < coolings; k++)
            Cool(effort.Rounds * k / coolings, effort.Rounds * (k + 1) / coolings, cancel);
    }

    private void CoolAsThePilot(CancellationToken cancel)
    {
        var pilot = effort.Rounds / PilotShare;
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
            Parallel.For(0, chains.Length, c => chains[c].Run(from, to, total, hot, cold, cancel));
            if (cancel.IsCancellationRequested)
                return;
            best = new LoadState(model);
            best.CopyFrom(chains.MinBy(c => c.Best.Cost)!.Best);
            progress?.Invoke(new(round + 1, effort.Rounds, best.Cost, bound));
        }
    }
}
