using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Orders;

/// <summary>
/// What a customer ordered. What may be put right after booking is in <c>OrderChanges.cs</c>, pictures and their approval in
/// <c>OrderProof.cs</c>.
/// </summary>
public sealed partial class Order
{
    private readonly List<OrderLine> lines = [];
    private string statusLinkHash = "";
    private IReadOnlyList<Agreement> agreements = [];
    private DateOnly? wanted;
    private decimal depositAsked;

    private Order() { }

    /// <summary>A booked order.</summary>
    public Order(OrderId id, int number, CustomerId customer, Contact contact, string currency, DateTimeOffset at, string by)
    {
        (Id, Number, Customer, Contact, Currency, BookedAt, BookedBy) = (id, number, customer, contact, currency, at, by);
    }

    /// <summary>Names it.</summary>
    public OrderId Id { get; private set; }

    /// <summary>The number people say.</summary>
    public int Number { get; private set; }

    /// <summary>Whose.</summary>
    public CustomerId Customer { get; private set; }

    /// <summary>Contact as given for this order.</summary>
    public Contact Contact { get; private set; } = new("", "", "");

    /// <summary>ISO 4217.</summary>
    public string Currency { get; private set; } = "EUR";

    /// <summary>When booked, UTC.</summary>
    public DateTimeOffset BookedAt { get; private set; }

    /// <summary>Worker id or device.</summary>
    public string BookedBy { get; private set; } = "";

    /// <summary>The day the customer asked for, shop-local.</summary>
    public DateOnly? Wanted
    {
        get => wanted;
        init => wanted = value;
    }

    /// <summary>The promise: ready by then, UTC.</summary>
    public DateTimeOffset PromisedAt { get; private set; }

    /// <summary>True when the customer pays for haste.</summary>
    public bool IsRush { get; init; }

    /// <summary>True when it is a gift: paper goes out without prices.</summary>
    public bool IsGift { get; init; }

    /// <summary>Deposit on the prices as booked.</summary>
    public decimal DepositAsked
    {
        get => depositAsked;
        init => depositAsked = value;
    }

    /// <summary>Deposit that is asked for: the same share of what is asked for after discounts.</summary>
    public decimal Deposit =>
        Discounts.Count == 0 || DepositAsked == 0m
            ? DepositAsked
            : new Money(DepositAsked * Gross / lines.Sum(l => l.Price.Gross), Currency).Rounded().Amount;

    /// <summary>Its name in the program that it came from, unique; empty when it was booked here.</summary>
    public string ExternalId { get; init; } = "";

    /// <summary>What is asked for beside the pieces.</summary>
    public IReadOnlyList<OrderCharge> Charges { get; private set; } = [];

    /// <summary>What was taken off the agreed prices by hand.</summary>
    public IReadOnlyList<OrderDiscount> Discounts { get; private set; } = [];

    /// <summary>What the customer is asked, and the answers.</summary>
    public IReadOnlyList<OrderQuestion> Questions { get; private set; } = [];

    /// <summary>What was agreed to.</summary>
    public IReadOnlyList<Agreement> Agreements
    {
        get => agreements;
        init => agreements = value;
    }

    /// <summary>The language in which the customer agreed, as two letters; English where nothing was agreed.</summary>
    public string Language => Agreements.Select(a => a.Language).FirstOrDefault(l => l.Length >= 2) ?? "en";

    /// <summary>SHA-256 of the secret status link, hex; empty when there is none.</summary>
    public string StatusLinkHash
    {
        get => statusLinkHash;
        init => statusLinkHash = value;
    }

    /// <summary>Whether the pictures may be printed.</summary>
    public ProofState Proof { get; private set; }

    /// <summary>When and by whom the proof was judged.</summary>
    public string ProofNote { get; private set; } = "";

    /// <summary>When the transfers were printed, UTC.</summary>
    public DateTimeOffset? PrintedAt { get; private set; }

    /// <summary>When it was called off, UTC.</summary>
    public DateTimeOffset? CancelledAt { get; private set; }

    /// <summary>The most characters of the inner note.</summary>
    public const int MostNote = 2000;

    /// <summary>Inner note, at most <see cref="MostNote"/> characters.</summary>
    public string Note { get; private set; } = "";

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Its lines by number, without those that were left out after booking.</summary>
    public IReadOnlyList<OrderLine> Lines => [.. AllLines.Where(l => l.Quantity > 0)];

    /// <summary>Its lines as booked, by number; what was left out has no pieces and no price any more.</summary>
    public IReadOnlyList<OrderLine> AllLines => [.. lines.OrderBy(l => l.Number)];

    /// <summary>Sum of the agreed net prices less discounts.</summary>
    public decimal Net => lines.Sum(NetOf);

    /// <summary>Sum of the agreed prices with tax less discounts.</summary>
    public decimal Gross => lines.Sum(GrossOf);

    /// <summary>The agreed net price of one of its lines less its share of the discounts.</summary>
    public decimal NetOf(OrderLine line) =>
        line.Price.Net - Discounts.SelectMany(d => d.Shares).Where(s => s.Line == line.Number).Sum(s => s.Net);

    /// <summary>The agreed price with tax of one of its lines less its share of the discounts.</summary>
    public decimal GrossOf(OrderLine line) =>
        line.Price.Gross - Discounts.SelectMany(d => d.Shares).Where(s => s.Line == line.Number).Sum(s => s.Gross);

    /// <summary>Whether its charges, discounts and deposit are amounts with tax, as its prices were agreed, whatever the shop does now.</summary>
    /// <param name="shop">Whether the shop's prices include tax now: it decides where the order does not say.</param>
    public bool IsWithTax(bool shop) => AgreedWithTax ?? shop;

    private bool? AgreedWithTax => lines.Select(l => l.Price.WithTax).FirstOrDefault(w => w is not null);

    /// <summary>Adds a line while booking.</summary>
    public void Add(OrderLine line) => lines.Add(line);

    /// <summary>Gives or moves the promise.</summary>
    public void Promise(DateTimeOffset at)
    {
        PromisedAt = at;
        Version++;
    }

    /// <summary>Changes the inner note.</summary>
    public Result<Done> Write(string note)
    {
        if (note.Length > MostNote)
            return new Refusal("note-long", "A note has at most 2,000 characters.", "note");
        Note = note;
        Version++;
        return default(Done);
    }

    /// <summary>Asks for something beside the pieces.</summary>
    public Result<Done> Charge(string name, decimal amount)
    {
        var charge = new OrderCharge(Charges.Select(c => c.Number).DefaultIfEmpty().Max() + 1, name.Trim(), amount);
        if (charge.Check() is { } fault)
            return fault;
        Charges = [.. Charges, charge];
        Version++;
        return default(Done);
    }

    /// <summary>Takes a charge back that stands on no invoice.</summary>
    public void Uncharge(OrderCharge charge)
    {
        Charges = [.. Charges.Where(c => c != charge)];
        Version++;
    }

    /// <summary>Takes something off the agreed prices.</summary>
    /// <param name="wish">What and why.</param>
    /// <param name="invoiced">Pieces already invoiced, by line number.</param>
    /// <param name="withTax">Whether the shop's prices include tax now; where the order says how it was agreed, the wish is meant so.</param>
    /// <param name="given">By whom and when.</param>
    public Result<Done> Discount(DiscountWish wish, IReadOnlyDictionary<int, decimal> invoiced, bool withTax, Signature given)
    {
        var discount = OrderDiscount.Of(this, wish, new(invoiced, IsWithTax(withTax)), given);
        if (!discount.IsOk)
            return Result<Done>.Refused(discount.Refusals);
        Discounts = [.. Discounts, discount.Value];
        Version++;
        return default(Done);
    }

    /// <summary>Takes a discount back of which no invoice has used anything.</summary>
    public void Undiscount(OrderDiscount discount)
    {
        Discounts = [.. Discounts.Where(d => d.Number != discount.Number)];
        Version++;
    }

    /// <summary>Asks the customer something.</summary>
    public Result<Done> Ask(string text, DateTimeOffset at)
    {
        var asked = text.Trim();
        if (asked.Length is 0 or > OrderQuestion.MostLetters)
            return new Refusal("question-words", "Write the question in at most 500 characters.", "question");
        if (Questions.Count >= OrderQuestion.MostOfOrder)
            return new Refusal("question-many", "An order has at most 20 questions. Call the customer.", "question");
        Questions = [.. Questions, new OrderQuestion(Questions.Count + 1, asked, at)];
        Version++;
        return default(Done);
    }

    /// <summary>The customer's answer to a question; once given it stays.</summary>
    public Result<Done> Answer(int number, string words, DateTimeOffset at)
    {
        var said = words.Trim();
        if (Questions.FirstOrDefault(q => q.Number == number) is not { } question)
            return new Refusal("question-missing", "This order has no such question.");
        if (!question.IsOpen)
            return new Refusal("question-closed", "This question is answered already.");
        if (said.Length is 0 or > OrderQuestion.MostLetters)
            return new Refusal("answer-words", "Please answer in at most 500 characters.", "answer");
        Questions = [.. Questions.Select(q => q == question ? q with { Answer = said, AnsweredAt = at } : q)];
        Version++;
        return default(Done);
    }

    /// <summary>Calls it off.</summary>
    public void Cancel(DateTimeOffset at)
    {
        CancelledAt = at;
        Version++;
    }
}
