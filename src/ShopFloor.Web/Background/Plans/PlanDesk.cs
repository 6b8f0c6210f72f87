using ShopFloor.Web.Live;

namespace ShopFloor.Web.Background.Plans;

/// <summary>What the planner is doing.</summary>
public enum PlannerState
{
    /// <summary>Nothing has changed since the last plan.</summary>
    Resting,

    /// <summary>A first plan is being made.</summary>
    Planning,

    /// <summary>There is a plan; a better one is looked for.</summary>
    Improving,

    /// <summary>The last plan was refused; the one before stays.</summary>
    Refused,
}

/// <summary>How the planner stands, for screens.</summary>
/// <param name="State">What it does.</param>
/// <param name="Round">Finished rounds of the search.</param>
/// <param name="Rounds">Rounds in all.</param>
/// <param name="Value">Value of the best found.</param>
/// <param name="Bound">What no plan can go below.</param>
/// <param name="Text">A plain word when a plan was refused; else empty.</param>
public sealed record PlannerStatus(PlannerState State, int Round, int Rounds, long Value, long Bound, string Text)
{
    /// <summary>Gap between the best found and the bound, 0 to 1.</summary>
    public double Gap => Value <= 0 ? 0 : (double)(Value - Bound) / Value;
}

/// <summary>Where screens see how the planner stands, and say that the best so far will do.</summary>
public sealed class PlanDesk(Notifier notifier)
{
    private CancellationTokenSource enough = new();
    private bool asked;

    /// <summary>How it stands now.</summary>
    public PlannerStatus Status { get; private set; } = new(PlannerState.Resting, 0, 0, 0, 0, "");

    /// <summary>True from when a plan was refused until one is published: what is shown until then may be old.</summary>
    public bool IsBehind { get; private set; }

    /// <summary>The best so far will do.</summary>
    public void Enough() => enough.Cancel();

    /// <summary>A plan is wanted although nothing was changed.</summary>
    public void Again()
    {
        asked = true;
        notifier.Tell([new Change(Topic.Settings, Guid.Empty)]);
    }

    /// <summary>Whether a plan was asked for since this was last looked at.</summary>
    internal bool TakeAsked() => Interlocked.Exchange(ref asked, false);

    internal CancellationToken Begin()
    {
        enough = new CancellationTokenSource();
        return enough.Token;
    }

    /// <summary>Says how it stands now.</summary>
    public void Show(PlannerStatus status)
    {
        var tell = status.State != Status.State || status.Value != Status.Value;
        Status = status;
        if (status.State != PlannerState.Planning)
            IsBehind = status.State == PlannerState.Refused;
        if (tell)
            notifier.Tell([new Change(Topic.Plan, Guid.Empty)]);
    }
}
