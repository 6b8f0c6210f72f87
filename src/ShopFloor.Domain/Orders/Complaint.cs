namespace ShopFloor.Domain.Orders;

/// <summary>How a complaint ends.</summary>
public enum ComplaintState
{
    /// <summary>Nobody has decided yet.</summary>
    Open,

    /// <summary>Made once more at the workshop's cost.</summary>
    Remade,

    /// <summary>Paid back by a credit note.</summary>
    Refunded,

    /// <summary>Not the workshop's fault; the customer was told why.</summary>
    Refused,
}

/// <summary>A customer brings something back after it was handed over.</summary>
public sealed class Complaint
{
    /// <summary>The most characters of the customer's words, and of what they are told.</summary>
    public const int MostWords = 2000;

    private Complaint() { }

    /// <summary>A new complaint about pieces of one order.</summary>
    public Complaint(Guid id, OrderId order, IReadOnlyList<PieceId> pieces, string words, DateTimeOffset at, string by)
    {
        (Id, Order, Pieces, Words, At, By) = (id, order, pieces, words, at, by);
    }

    /// <summary>Names it.</summary>
    public Guid Id { get; private set; }

    /// <summary>The order.</summary>
    public OrderId Order { get; private set; }

    /// <summary>Which pieces, at least one.</summary>
    public IReadOnlyList<PieceId> Pieces { get; private set; } = [];

    /// <summary>What is wrong, in the customer's words.</summary>
    public string Words { get; private set; } = "";

    /// <summary>When it came in, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>Worker id.</summary>
    public string By { get; private set; } = "";

    /// <summary>How it stands.</summary>
    public ComplaintState State { get; private set; }

    /// <summary>What the customer was told.</summary>
    public string Answer { get; private set; } = "";

    /// <summary>When it was decided, UTC.</summary>
    public DateTimeOffset? DecidedAt { get; private set; }

    /// <summary>The order that makes the pieces once more.</summary>
    public OrderId? Remake { get; private set; }

    /// <summary>The credit note.</summary>
    public Guid? CreditNote { get; private set; }

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Pieces are made once more.</summary>
    public Result<Done> RemadeAs(OrderId order, string answer, DateTimeOffset at) =>
        Decide(ComplaintState.Remade, answer, at).Then(done => Set(() => Remake = order, done));

    /// <summary>Money goes back.</summary>
    public Result<Done> RefundedBy(Guid creditNote, string answer, DateTimeOffset at) =>
        Decide(ComplaintState.Refunded, answer, at).Then(done => Set(() => CreditNote = creditNote, done));

    /// <summary>Turned down, with the reason that the customer was given.</summary>
    public Result<Done> Refuse(string answer, DateTimeOffset at) =>
        answer.Trim().Length < 3
            ? new Refusal("complaint-reason", "Say why, as the customer was told: at least 3 characters.", "Answer")
            : Decide(ComplaintState.Refused, answer, at);

    /// <summary>Takes out what the customer said and was told.</summary>
    public void Erase()
    {
        (Words, Answer) = ("", "");
        Version++;
    }

    /// <summary>What is wrong with a new complaint; null when nothing is.</summary>
    public static Refusal? Check(IReadOnlyCollection<PieceId> pieces, string words)
    {
        if (pieces.Count == 0)
            return new Refusal("complaint-pieces", "Tick the pieces that are complained about.", "Pieces");
        return words.Trim().Length is >= 3 and <= MostWords
            ? null
            : new Refusal("complaint-words", "Say what is wrong, in 3 to 2,000 characters.", "Words");
    }

    private Result<Done> Decide(ComplaintState state, string answer, DateTimeOffset at)
    {
        if (State != ComplaintState.Open)
            return new Refusal("complaint-decided", "This complaint is decided already.");
        if (answer.Length > MostWords)
            return new Refusal("complaint-answer", "At most 2,000 characters.", "Answer");
        (State, Answer, DecidedAt) = (state, answer.Trim(), at);
        Version++;
        return default(Done);
    }

    private static Result<Done> Set(Action set, Done done)
    {
        set();
        return done;
    }
}
