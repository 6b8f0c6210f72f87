namespace ShopFloor.Domain.Pieces;

/// <summary>Where a piece is in its life.</summary>
public enum PieceState
{
    /// <summary>Agreed, not here yet.</summary>
    Booked,

    /// <summary>In the workshop, nothing done yet.</summary>
    Received,

    /// <summary>Some step has begun.</summary>
    InWork,

    /// <summary>Put aside until somebody decides.</summary>
    Held,

    /// <summary>On its way through steps once more.</summary>
    Reworking,

    /// <summary>Inspected and right.</summary>
    CheckedGood,

    /// <summary>With the customer.</summary>
    HandedOver,

    /// <summary>Lost.</summary>
    Spoiled,

    /// <summary>Given back unworked.</summary>
    Returned,

    /// <summary>The customer's own piece of an order that was called off: nothing more is made of it, and it is still here.</summary>
    GoingBack,
}

/// <summary>Where one step of one piece is.</summary>
public enum WorkState
{
    /// <summary>Something comes before it.</summary>
    Waiting,

    /// <summary>It is the next.</summary>
    Ready,

    /// <summary>Begun.</summary>
    Running,

    /// <summary>Finished.</summary>
    Done,

    /// <summary>Ended with a fault.</summary>
    Failed,

    /// <summary>Left out on purpose.</summary>
    Skipped,
}

/// <summary>The moves of a piece.</summary>
public enum PieceMove
{
    /// <summary>It came in.</summary>
    Receive,

    /// <summary>A step begins.</summary>
    Start,

    /// <summary>A step ends.</summary>
    Finish,

    /// <summary>A running step is broken off.</summary>
    BreakOff,

    /// <summary>A step is left out.</summary>
    Skip,

    /// <summary>Put aside.</summary>
    Hold,

    /// <summary>Taken up again.</summary>
    Release,

    /// <summary>Back to an earlier step.</summary>
    Rework,

    /// <summary>Lost.</summary>
    Spoil,

    /// <summary>Given back unworked.</summary>
    Return,

    /// <summary>Its order is called off while it is here.</summary>
    CallOff,

    /// <summary>Handed to the customer.</summary>
    HandOver,
}
