using ShopFloor.Domain;

namespace ShopFloor.Data.Records;

/// <summary>Something to be sent out after the save: mail, webhook. Sent at least once, with its id, so that the receiver can tell a second sending.</summary>
public sealed class OutboxMessage
{
    /// <summary>Kind of a mail.</summary>
    public const string Mail = "mail";

    /// <summary>Kind of a webhook's call.</summary>
    public const string Hook = "webhook";

    /// <summary>Failed tries after which a message rests until a person looks: with doubling pauses, after about five days.</summary>
    public const int MostTries = 14;

    private OutboxMessage() { }

    /// <summary>A message, written in the transaction that causes it.</summary>
    public OutboxMessage(Guid id, string kind, string json, DateTimeOffset at)
    {
        (Id, Kind, Json, At, NextTryAt) = (id, kind, json, at, at);
    }

    /// <summary>Names it; the receiver can tell a second sending by it.</summary>
    public Guid Id { get; private set; }

    /// <summary><see cref="Mail"/> or <see cref="Hook"/>.</summary>
    public string Kind { get; private set; } = "";

    /// <summary>What it is for, e.g. <c>ready/ORDER</c>; there is never a second message of the same key. Empty: none.</summary>
    public string Key { get; init; } = "";

    /// <summary>In words for the list, without names of people.</summary>
    public string Subject { get; init; } = "";

    /// <summary>The order it speaks of; its mails go when the customer is erased.</summary>
    public OrderId? Order { get; init; }

    /// <summary>The webhook it goes to.</summary>
    public Guid? Target { get; init; }

    /// <summary>Content; empty once it was sent and its time is over.</summary>
    public string Json { get; private set; } = "";

    /// <summary>When it was written, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>When it was sent, UTC.</summary>
    public DateTimeOffset? SentAt { get; private set; }

    /// <summary>Since when it rests after too many failed tries, UTC.</summary>
    public DateTimeOffset? DeadAt { get; private set; }

    /// <summary>Not before, UTC.</summary>
    public DateTimeOffset NextTryAt { get; private set; }

    /// <summary>Failed tries.</summary>
    public int Tries { get; private set; }

    /// <summary>Why the last try failed.</summary>
    public string Trouble { get; private set; } = "";

    /// <summary>Holds it back until then.</summary>
    public OutboxMessage NotBefore(DateTimeOffset at)
    {
        NextTryAt = at;
        return this;
    }

    /// <summary>It went out.</summary>
    public void Sent(DateTimeOffset at) => (SentAt, DeadAt, Trouble) = (at, null, "");

    /// <summary>
    /// It did not go out. The pause doubles from one minute to a day, each up to a quarter longer, so that what failed together does not
    /// come back together.
    /// </summary>
    public void Failed(DateTimeOffset at, string trouble)
    {
        (Tries, Trouble) = (Tries + 1, Short(trouble));
        if (Tries >= MostTries)
            DeadAt = at;
        else
            NextTryAt = at.AddMinutes(Math.Min(1440, Math.Pow(2, Tries - 1)) * (1 + Spread() / 4));
    }

    /// <summary>It can never go out as it is: it rests at once.</summary>
    public void GiveUp(DateTimeOffset at, string trouble) => (Tries, Trouble, DeadAt) = (Tries + 1, Short(trouble), at);

    /// <summary>A person has it sent once more, with the same id.</summary>
    public Result<Done> SendAgain(DateTimeOffset at)
    {
        if (Json.Length == 0)
            return new Refusal("content-gone", "What this message said is no longer kept, so it cannot be sent again.");
        (DeadAt, SentAt, Tries, NextTryAt) = (null, null, 0, at);
        return default(Done);
    }

    /// <summary>What is waiting to be sent says something else now.</summary>
    public void Rewrite(string json) => Json = json;

    /// <summary>Drops what it said; that it was sent stays known.</summary>
    public void Forget() => Json = "";

    private static string Short(string text) => text.Length > 500 ? text[..500] : text;

    /// <summary>0 to 1, another for each message and try, and always the same for the same.</summary>
    private double Spread() => (BitConverter.ToUInt32(Id.ToByteArray(), 12) + (uint)Tries * 2_654_435_761u) % 1000 / 1000.0;
}
