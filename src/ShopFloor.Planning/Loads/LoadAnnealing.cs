namespace ShopFloor.Planning.Loads;

/// <summary>
/// Simulated annealing over one <see cref="LoadState"/>: the temperature falls geometrically over a given number of steps. The steps,
/// the seed and the start decide the answer; nothing else does.
/// </summary>
internal sealed class LoadAnnealing
{
    /// <summary>The ramp at the begin, in mean shortest dwells, and the share of the cooling after which there is none.</summary>
    private const double RampInDwells = 8;
    private const double RampEnds = 0.5;

    private readonly LoadModel model;
    private readonly LoadState state;
    private readonly LoadState best;
    private readonly SeededRandom random;
    private readonly double meanDwell;
    private double temperature;

    public LoadAnnealing(LoadModel model, LoadState start, ulong seed)
    {
        this.model = model;
        state = new(model);
        best = new(model);
        random = new(seed);
        StartFrom(start);
        meanDwell = model.MinDwell.Average();
    }

    /// <summary>Whether late jobs are priced on a ramp at first, which grows shorter until the middle of the cooling.</summary>
    public bool HasRamp { get; set; }

    /// <summary>Begins anew from a state, which is also the best seen from now on.</summary>
    public void StartFrom(LoadState start)
    {
        state.CopyFrom(start);
        best.CopyFrom(start);
    }

    /// <summary>The best state seen.</summary>
    public LoadState Best => best;

    /// <summary>Runs a part of a cooling: steps <paramref name="from"/> to <paramref name="to"/> of <paramref name="total"/>.</summary>
    public void Run(long from, long to, long total, double hot, double cold, CancellationToken cancel)
    {
        const int block = 256;
        for (var s = from; s < to && !cancel.IsCancellationRequested; s += block)
        {
            state.Ramp = HasRamp ? RampAt((double)s / total) : 0;
            temperature = hot * Math.Pow(cold / hot, (double)s / total);
            for (var k = 0; k < block; k++)
            {
                Step();
                if (state.Ramp == 0 && state.Cost < best.Cost)
                    best.CopyFrom(state);
            }
        }
        // Whoever ends the search early still gets what was found on the ramp.
        state.Ramp = 0;
        if (state.Cost < best.Cost)
            best.CopyFrom(state);
    }

    private int RampAt(double share) => (int)(RampInDwells * meanDwell * Math.Max(0, 1 - (share / RampEnds)));

    // Shares of the neighbourhoods in a hundred steps; found by trials on generated problems of every size.
    private void Step()
    {
        var limit = (long)Math.Min(1e15, -temperature * Math.Log(1 - random.NextUnit()));
        var pick = random.Next(100);
        var j = random.Next(model.N);
        var load = state.LoadOf(j);
        var o = model.OvensOf[j][random.Next(model.OvensOf[j].Length)];
        if (pick < 60)
            state.JobIntoLoad(j, state.AnyLoad(model.Family[j], random), limit);
        else if (pick < 68)
            state.JobIntoNew(j, o, AnyPlace(o), limit);
        else if (pick < 76)
            state.SwapJobs(j, model.JobsOfFamily[model.Family[j]][random.Next(model.JobsOfFamily[model.Family[j]].Length)], limit);
        else if (pick < 86)
            state.MoveLoad(load, o, AnyPlace(o), limit);
        else if (pick < 96)
            state.SwapLoads(load, state.LoadOf(random.Next(model.N)), limit);
        else if (pick < 98)
            state.Merge(load, state.AnyLoad(model.Family[j], random), limit);
        else
            state.Split(load, random.NextBits(), o, AnyPlace(o), limit);
    }

    private int AnyPlace(int o) => random.Next(state.Length(o) + 1);
}
