namespace ShopFloor.Data.Records;

/// <summary>Something to be sent out after the save: mail, webhook. Sent at least once, with its id.</summary>
public sealed class OutboxMessage
{
    private OutboxMessage() { }

    /// <summary>A message, written in the transaction that causes it.</summary>
    public OutboxMessage(Guid id, string kind, string json, DateTimeOffset at)
    {
        (Id, Kind, Json, At, NextTryAt) = (id, kind, json, at, at);
    }

    /// <summary>Names it; the receiver can tell a second sending by it.</summary>
    public Guid Id { get; private set; }

    /// <summary><c>mail</c> or <c>webhook</c>.</summary>
    public string Kind { get; private set; } = "";

    /// <summary>Content.</summary>
    public string Json { get; private set; } = "";

    /// <summary>When it was written, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>When it was sent, UTC.</summary>
    public DateTimeOffset? SentAt { get; private set; }

    /// <summary>Not before, UTC.</summary>
    public DateTimeOffset NextTryAt { get; private set; }

    /// <summary>Failed tries.</summary>
    public int Tries { get; private set; }

    /// <summary>Why the last try failed.</summary>
    public string Trouble { get; private set; } = "";

    /// <summary>It went out.</summary>
    public void Sent(DateTimeOffset at) => SentAt = at;

    /// <summary>It did not go out; the pause doubles from one minute to a day.</summary>
    public void Failed(DateTimeOffset at, string trouble)
    {
        (Tries, Trouble) = (Tries + 1, trouble.Length > 500 ? trouble[..500] : trouble);
        NextTryAt = at.AddMinutes(Math.Min(1440, Math.Pow(2, Math.Min(Tries, 11) - 1)));
    }
}
