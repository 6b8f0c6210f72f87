namespace ShopFloor.Web.Live;

/// <summary>What kind of thing was changed; screens subscribe to the kinds they show.</summary>
public enum Topic
{
    Piece,
    Batch,
    Order,
    Plan,
    Station,
    Stock,
    Price,
    Invoice,
    Draft,
    Person,
    Settings,
    Outbox,
    Complaint,
    Call,
}

/// <summary>Word that something was saved. It carries an id only: whoever cares reads again, so nobody can show what they may not see.</summary>
/// <param name="Topic">The kind of thing.</param>
/// <param name="Id">Its id, or <see cref="Guid.Empty"/> when many of the kind were changed at once.</param>
public readonly record struct Change(Topic Topic, Guid Id);
