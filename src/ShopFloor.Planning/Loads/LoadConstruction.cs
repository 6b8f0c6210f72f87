namespace ShopFloor.Planning.Loads;

/// <summary>The first plan: jobs one after another, each where it costs least.</summary>
internal sealed partial class LoadState
{
    private readonly List<(long Delta, int Load, int Oven, int Position)> offers = [];

    /// <summary>Puts all unplaced jobs by due time where they cost least; tells the jobs for which no oven has time left.</summary>
    /// <param name="everywhere">True to try a place between loads for a job that finds none behind them.</param>
    public List<int> InsertByDue(bool everywhere)
    {
        var left = new List<int>();
        foreach (var j in Enumerable.Range(0, model.N).OrderBy(j => model.Due[j]).ThenBy(j => j))
            if (loadOf[j] < 0 && !Insert(j, false) && !(everywhere && Insert(j, true)))
                left.Add(j);
        return left;
    }

    /// <summary>
    /// Puts an unplaced job where it costs least: into a load of its family, or alone before or after any load of an eligible oven.
    /// False when no oven has time left.
    /// </summary>
    /// <param name="j">The job.</param>
    /// <param name="everywhere">True to try a new load at every place, false only at the end of each sequence.</param>
    public bool Insert(int j, bool everywhere)
    {
        offers.Clear();
        var f = model.Family[j];
        for (var k = 0; k < loadsCount[f]; k++)
            if (DraftInto(j, loadsOf[f][k]))
                Offer(loadsOf[f][k], 0, 0);
        foreach (var o in model.OvensOf[j])
        {
            if (model.Size[j] > model.Capacity[o])
                continue;
            for (var p = everywhere ? 0 : length[o]; p <= length[o]; p++)
            {
                DraftAlone(j, o, p);
                Offer(-1, o, p);
            }
        }
        offers.Sort();
        foreach (var (delta, load, o, p) in offers)
        {
            if (load >= 0)
                DraftInto(j, load);
            else
                DraftAlone(j, o, p);
            if (!RoomFor(load >= 0 ? draftB : draftNew, true))
                continue;
            Apply(delta);
            return true;
        }
        return false;
    }

    private void Offer(int load, int o, int p)
    {
        var delta = Price();
        if (delta < Impossible)
            offers.Add((delta, load, o, p));
    }

    private bool DraftInto(int j, int target)
    {
        Clear();
        draftB.Begin(target, oven[target], position[target], family[target]);
        draftB.AddAll(MembersOf(target));
        draftB.Add(j);
        return draftB.Possible;
    }

    private void DraftAlone(int j, int o, int p)
    {
        Clear();
        draftNew.Begin(-1, o, p, model.Family[j]);
        draftNew.Add(j);
    }

    /// <summary>Puts a load behind the last one of its oven.</summary>
    public void Append(PlannedLoad load)
    {
        Clear();
        draftNew.Begin(-1, load.Oven, length[load.Oven], load.Family);
        foreach (var j in load.Jobs)
            draftNew.Add(j);
        Apply(Price());
    }
}
