namespace ShopFloor.Domain.Orders;

/// <summary>What somebody has typed so far, kept in the database so that no dropped line and no restart loses it.</summary>
public sealed class Draft
{
    private Draft() { }

    /// <summary>An empty draft.</summary>
    public Draft(Guid id, string kind, string owner, DateTimeOffset at)
    {
        (Id, Kind, Owner, MadeAt, ChangedAt) = (id, kind, owner, at, at);
    }

    /// <summary>Names it; stands in the page's address.</summary>
    public Guid Id { get; private set; }

    /// <summary>What it becomes, e.g. <c>order</c>.</summary>
    public string Kind { get; private set; } = "";

    /// <summary>Worker id whose device it was begun on.</summary>
    public string Owner { get; private set; } = "";

    /// <summary>Content as JSON.</summary>
    public string Json { get; private set; } = "{}";

    /// <summary>The step the person is at.</summary>
    public string Step { get; private set; } = "";

    /// <summary>SHA-256 of the token with which a phone may add a picture, hex; empty: none.</summary>
    public string UploadTokenHash { get; private set; } = "";

    /// <summary>When begun, UTC.</summary>
    public DateTimeOffset MadeAt { get; private set; }

    /// <summary>When last changed, UTC.</summary>
    public DateTimeOffset ChangedAt { get; private set; }

    /// <summary>The order it became.</summary>
    public OrderId? BecameOrder { get; private set; }

    /// <summary>When it was put away, UTC: nobody sees it any more.</summary>
    public DateTimeOffset? WipedAt { get; private set; }

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Keeps what was typed.</summary>
    public Result<Done> Keep(string json, string step, DateTimeOffset at)
    {
        if (BecameOrder is not null)
            return new Refusal("draft-booked", "This order is booked already.");
        if (WipedAt is not null)
            return new Refusal("draft-wiped", "This entry was closed. Please start a new one.");
        if (json.Length > 1_000_000)
            return new Refusal("draft-large", "This is more than one order can hold.");
        (Json, Step, ChangedAt) = (json, step, at);
        Version++;
        return default(Done);
    }

    /// <summary>Lets a phone add a picture.</summary>
    public void AllowUpload(string tokenHash)
    {
        UploadTokenHash = tokenHash;
        Version++;
    }

    /// <summary>It became an order.</summary>
    public Result<Done> Become(OrderId order, DateTimeOffset at)
    {
        if (BecameOrder is not null)
            return new Refusal("draft-booked", "This order is booked already.");
        (BecameOrder, ChangedAt, UploadTokenHash) = (order, at, "");
        Version++;
        return default(Done);
    }

    /// <summary>Its device gives it up: from now on only who works here sees it.</summary>
    public void PutBy()
    {
        (Owner, UploadTokenHash) = ("", "");
        Version++;
    }

    /// <summary>Puts it away.</summary>
    public void Wipe(DateTimeOffset at)
    {
        (WipedAt, UploadTokenHash) = (at, "");
        Version++;
    }
}
