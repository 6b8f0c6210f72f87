namespace ShopFloor.Domain.Workshop;

/// <summary>How long things are kept. As shipped: common practice, no source, but for the years of invoices, which local law sets.</summary>
public sealed record KeepingTimes
{
    /// <summary>Days after its last change until an entry that became no order goes.</summary>
    public int DraftDays { get; init; } = 7;

    /// <summary>Days after an order is over until its pictures go; until then it can be repeated with them.</summary>
    public int PictureDays { get; init; } = 730;

    /// <summary>Days after an order is over until the customer's status link stops.</summary>
    public int LinkDays { get; init; } = 90;

    /// <summary>Days until the words of a sent message go.</summary>
    public int MessageDays { get; init; } = 30;

    /// <summary>Days that answers to commands are kept, so that one sent twice is known; at least 30.</summary>
    public int CommandDays { get; init; } = 60;

    /// <summary>Full years after the year of issue that invoices are kept with their names. The country's law says how many.</summary>
    public int InvoiceYears { get; init; } = 10;

    /// <summary>The last day that a document must be kept.</summary>
    public DateOnly LastDayOf(DateOnly issued) => new(issued.Year + InvoiceYears, 12, 31);

    /// <summary>What is wrong, beside its field; empty when sound.</summary>
    public IReadOnlyList<Refusal> Check()
    {
        List<Refusal> faults = [];
        void Must(int value, int least, int most, string field)
        {
            if (value < least || value > most)
                faults.Add(new Refusal("keeping-times", $"From {least} to {most}.", field));
        }
        Must(DraftDays, 1, 365, nameof(DraftDays));
        Must(PictureDays, 1, 3650, nameof(PictureDays));
        Must(LinkDays, 1, 3650, nameof(LinkDays));
        Must(MessageDays, 1, 3650, nameof(MessageDays));
        Must(CommandDays, 30, 3650, nameof(CommandDays));
        Must(InvoiceYears, 1, 30, nameof(InvoiceYears));
        return faults;
    }
}
