namespace ShopFloor.Planning.Reports;

/// <summary>What is different between two days, so that the plan had to be made anew.</summary>
public enum CauseKind
{
    /// <summary>Pieces may be worked on that were not there before. Name: the order.</summary>
    PiecesNew,

    /// <summary>Pieces are there no more: finished, held, spoiled or given back. Name: the order.</summary>
    PiecesGone,

    /// <summary>Finished steps are open again: rework. Name: the order.</summary>
    BegunAgain,

    /// <summary>A step ended later than planned. Seconds: by how much. Name: the order.</summary>
    EndedLate,

    /// <summary>A step ended sooner than planned. Seconds: by how much. Name: the order.</summary>
    EndedSoon,

    /// <summary>A step should have begun and has not. Seconds: how long ago. Name: the order.</summary>
    NotBegun,

    /// <summary>A transfer is ready sooner than was thought. Name: the order.</summary>
    TransferReady,

    /// <summary>A transfer is still not ready. Name: the order.</summary>
    TransferWaits,

    /// <summary>The order's promise or its weight is another. Name: the order.</summary>
    PromiseChanged,

    /// <summary>The steps of pieces are others: the recipe as it applies to them. Name: the order.</summary>
    RouteChanged,

    /// <summary>A pin was set, changed or taken away. Name: the order.</summary>
    PinChanged,

    /// <summary>A station can be used less than before. Name: the station.</summary>
    StationDown,

    /// <summary>A station can be used more than before, or is new. Name: the station.</summary>
    StationBack,

    /// <summary>A station's settings are others. Name: the station.</summary>
    StationChanged,

    /// <summary>A person's shifts or skills are others. Name: the person.</summary>
    ShiftsChanged,

    /// <summary>A can has come. Name: the coating.</summary>
    CanNew,

    /// <summary>A can is empty or may not be used any more. Name: the coating.</summary>
    CanGone,

    /// <summary>The weights of the objective are others. Name: empty.</summary>
    WeightsChanged,
}

/// <summary>One reason for a new plan.</summary>
/// <param name="Kind">What happened.</param>
/// <param name="Name">To whom: an order, a station, a person or a coating.</param>
/// <param name="Pieces">The pieces it is about; empty when it is about none.</param>
/// <param name="Seconds">How long, where that means something; else 0.</param>
public sealed record PlanCause(CauseKind Kind, string Name, IReadOnlyList<string> Pieces, int Seconds);
