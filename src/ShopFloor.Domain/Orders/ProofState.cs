namespace ShopFloor.Domain.Orders;

/// <summary>Whether the picture may be printed.</summary>
public enum ProofState
{
    /// <summary>No picture of an own piece: nothing to approve.</summary>
    NotNeeded,

    /// <summary>Somebody has to look.</summary>
    Waiting,

    /// <summary>Seen and right.</summary>
    Approved,

    /// <summary>Seen and not right.</summary>
    ChangeWanted,
}

/// <summary>The states of a proof in words.</summary>
public static class ProofWords
{
    /// <summary>The state as people say it.</summary>
    public static string Words(this ProofState state) =>
        state switch
        {
            ProofState.NotNeeded => "Not needed",
            ProofState.Waiting => "Waiting for approval",
            ProofState.Approved => "Approved",
            ProofState.ChangeWanted => "Change wanted",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "No such state."),
        };
}
