namespace ShopFloor.Data.Records;

/// <summary>Who changed prices, recipes, rights or stations, from what to what.</summary>
public sealed class AuditEntry
{
    private AuditEntry() { }

    /// <summary>An entry.</summary>
    public AuditEntry(Guid id, DateTimeOffset at, string by, string what, string subject, string before, string after)
    {
        (Id, At, By, What, Subject, Before, After) = (id, at, by, what, subject, before, after);
    }

    /// <summary>Names it.</summary>
    public Guid Id { get; private set; }

    /// <summary>When, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>Worker id.</summary>
    public string By { get; private set; } = "";

    /// <summary>What was done, e.g. <c>rates changed</c>.</summary>
    public string What { get; private set; } = "";

    /// <summary>To what.</summary>
    public string Subject { get; private set; } = "";

    /// <summary>Before, JSON; may be empty.</summary>
    public string Before { get; private set; } = "";

    /// <summary>After, JSON; may be empty.</summary>
    public string After { get; private set; } = "";

    /// <summary>Takes the words out that may name somebody; that and when it was done stays.</summary>
    public void Erase() => (Before, After) = ("", "");
}
