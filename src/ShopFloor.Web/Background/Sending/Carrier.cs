using ShopFloor.Data.Records;

namespace ShopFloor.Web.Background.Sending;

/// <summary>How a try ended.</summary>
public enum CarryEnd
{
    /// <summary>The other side took it.</summary>
    Taken,

    /// <summary>Not now; it is tried again.</summary>
    Failed,

    /// <summary>Nothing went wrong, but it is not its time yet: it waits.</summary>
    NotYet,

    /// <summary>Never as it is; it rests until a person looks.</summary>
    Never,

    /// <summary>There is nothing to tell any more.</summary>
    Withdrawn,
}

/// <summary>How a try ended and why.</summary>
public readonly record struct Carried(CarryEnd End, string Why = "");

/// <summary>Brings one kind of message out of the house. It may bring the same message twice and says its id each time.</summary>
public interface ICarrier
{
    /// <summary>Kind of message.</summary>
    string Kind { get; }

    /// <summary>Tries once. Trouble of the other side is an answer, not an exception.</summary>
    Task<Carried> CarryAsync(OutboxMessage message, CancellationToken cancel);
}
