namespace ShopFloor.Data.Records;

/// <summary>Something that concerns the program's safety: sign-ins, refused rights, keys, exports, erasures. Ids only, no names; never changed.</summary>
public sealed class SecurityEvent
{
    private SecurityEvent() { }

    /// <summary>An event.</summary>
    public SecurityEvent(Guid id, DateTimeOffset at, string what, string by, string subject, bool isGood)
    {
        (Id, At, What, By, Subject, IsGood) = (id, at, what, by, subject, isGood);
    }

    /// <summary>Names it.</summary>
    public Guid Id { get; private set; }

    /// <summary>When, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>What, e.g. <c>sign-in</c>.</summary>
    public string What { get; private set; } = "";

    /// <summary>Worker id, key id, <c>system</c>, or empty for a stranger.</summary>
    public string By { get; private set; } = "";

    /// <summary>To what: an id or the name of a command.</summary>
    public string Subject { get; private set; } = "";

    /// <summary>False: it was refused.</summary>
    public bool IsGood { get; private set; }
}
