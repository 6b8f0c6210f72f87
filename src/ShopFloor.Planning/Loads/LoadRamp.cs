namespace ShopFloor.Planning.Loads;

/// <summary>The ramp on which late jobs are priced while a search is young.</summary>
internal sealed partial class LoadState
{
    private int ramp;

    /// <summary>Seconds over which the price of a late job rises; 0 when the cost is the objective's.</summary>
    public int Ramp
    {
        get => ramp;
        set
        {
            if (ramp == value)
                return;
            ramp = value;
            if (model.CountsLateness)
                return;
            for (var o = 0; o < model.M; o++)
            for (var p = 0; p < length[o]; p++)
            {
                var late = Late(sequence[o][p], endAt[o][p]);
                Cost += late - lateAt[o][p];
                lateAt[o][p] = late;
            }
        }
    }
}
