using ShopFloor.Domain;

namespace ShopFloor.Data.Records;

/// <summary>A customer whose personal data was erased, with what the law still asks to be kept and until when.</summary>
public sealed class Erasure
{
    private Erasure() { }

    /// <summary>An erasure.</summary>
    public Erasure(CustomerId customer, DateTimeOffset at, string by, DateOnly? documentsUntil)
    {
        (Customer, At, By, DocumentsUntil) = (customer, at, by, documentsUntil);
    }

    /// <summary>Whose data.</summary>
    public CustomerId Customer { get; private set; }

    /// <summary>When, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>Worker id, or <c>system</c> when the time was over.</summary>
    public string By { get; private set; } = "";

    /// <summary>Last day on which invoices with the name must be kept; null: there are none.</summary>
    public DateOnly? DocumentsUntil { get; private set; }

    /// <summary>When those went too, UTC.</summary>
    public DateTimeOffset? DocumentsGoneAt { get; private set; }

    /// <summary>The invoices' time is over as well.</summary>
    public void DocumentsGone(DateTimeOffset at) => DocumentsGoneAt = at;
}
