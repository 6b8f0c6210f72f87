namespace ShopFloor.Domain.Stock;

/// <summary>What is known of a stock item besides its count.</summary>
/// <param name="Name">What people call it, 1 to 80 characters.</param>
/// <param name="Unit">What is counted, 1 to 20 characters.</param>
/// <param name="ReorderAt">Order again at or below this, at least 0.</param>
/// <param name="Price">Purchase price of one unit without tax before the first dated one, 0 to 100,000.</param>
/// <param name="LeadDays">Days from order to delivery, 0 to 365.</param>
/// <param name="UsedEach">What one use takes: a blank for a piece, tape for a piece, a sheet for a press session, paper for a print; 0 to 1000.</param>
public sealed record StockItemFacts(string Name, string Unit, decimal ReorderAt, decimal Price, int LeadDays, decimal UsedEach)
{
    internal const string PriceRange = "The price of one is from 0 to 100,000.";

    internal static bool IsPrice(decimal price) => price is >= 0 and <= 100_000;

    /// <summary>What is wrong, beside its field.</summary>
    public IReadOnlyList<Refusal> Faults()
    {
        var faults = new List<Refusal>();
        void Must(bool ok, string field, string text)
        {
            if (!ok)
                faults.Add(new Refusal("out-of-range", text, field));
        }
        Must(Name.Trim().Length is > 0 and <= 80, "name", "Give the item a name of at most 80 characters.");
        Must(Unit.Trim().Length is > 0 and <= 20, "unit", "Say what is counted in at most 20 characters, like sheets or rolls.");
        Must(ReorderAt is >= 0 and <= 1_000_000, "reorderAt", "The reorder point is from 0 to 1,000,000.");
        Must(IsPrice(Price), "price", PriceRange);
        Must(LeadDays is >= 0 and <= 365, "leadDays", "Delivery takes from 0 to 365 days.");
        Must(UsedEach is >= 0 and <= 1000, "usedEach", "One use takes from 0 to 1,000.");
        return faults;
    }
}

/// <summary>Stock that is counted: paper, tape, blanks.</summary>
public sealed class StockItem
{
    /// <summary>A piece the workshop supplies; one is used when a piece comes in.</summary>
    public const string Blank = "blank";

    /// <summary>Transfer paper; used by printing.</summary>
    public const string Paper = "paper";

    /// <summary>Heat tape; used when a print is taped to a piece.</summary>
    public const string Tape = "tape";

    /// <summary>Protective sheet; used by each press session.</summary>
    public const string Sheet = "sheet";

    private string blankJson = "";

    private StockItem() { }

    /// <summary>An item.</summary>
    public StockItem(string code, string name, string kind, string unit, decimal onHand, decimal reorderAt, decimal price)
    {
        (Code, Name, Kind, Unit, OnHand, ReorderAt, Price) = (code, name, kind, unit, onHand, reorderAt, price);
    }

    /// <summary>Names it, e.g. <c>plate-100x60</c>.</summary>
    public string Code { get; private set; } = "";

    /// <summary>What people call it.</summary>
    public string Name { get; private set; } = "";

    /// <summary>One of <see cref="Blank"/>, <see cref="Paper"/>, <see cref="Tape"/>, <see cref="Sheet"/>, or any other word for stock that is only counted.</summary>
    public string Kind { get; private set; } = "";

    /// <summary>What is counted.</summary>
    public string Unit { get; private set; } = "pieces";

    /// <summary>How much is there; may go below zero when a count was wrong.</summary>
    public decimal OnHand { get; private set; }

    /// <summary>Order again at or below this.</summary>
    public decimal ReorderAt { get; private set; }

    /// <summary>Purchase price of one unit before the first dated one, without tax.</summary>
    public decimal Price { get; private set; }

    /// <summary>Purchase prices of one unit from a day on, by day; at most <see cref="DatedPrice.Most"/>.</summary>
    public IReadOnlyList<DatedPrice> Prices { get; private set; } = [];

    /// <summary>Days from order to delivery.</summary>
    public int LeadDays { get; private set; } = 5;

    /// <summary>What one use takes, in the item's unit.</summary>
    public decimal UsedEach { get; private set; } = 1;

    /// <summary>Name of the paper size for <see cref="Paper"/>, e.g. <c>A4</c>; empty for other stock.</summary>
    public string PaperSize { get; init; } = "";

    /// <summary>Material, size and thickness of a blank as JSON of a piece description; empty for other stock.</summary>
    public string BlankJson
    {
        get => blankJson;
        init => blankJson = value;
    }

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>What is known of it.</summary>
    public StockItemFacts Facts => new(Name, Unit, ReorderAt, Price, LeadDays, UsedEach);

    /// <summary>Changes what is there.</summary>
    public void Move(decimal amount)
    {
        OnHand += amount;
        Version++;
    }

    /// <summary>Purchase price of one unit on a day, without tax.</summary>
    public decimal PriceOn(DateOnly day) => DatedPrice.On(Price, Prices, day);

    /// <summary>Takes a price from a day on; one of the same day is replaced.</summary>
    public Result<Done> PriceFrom(DateOnly day, decimal price)
    {
        if (!StockItemFacts.IsPrice(price))
            return new Refusal("out-of-range", StockItemFacts.PriceRange, "price");
        var prices = DatedPrice.With(Prices, new DatedPrice(day, price));
        if (prices.Count > DatedPrice.Most)
            return new Refusal("out-of-range", "An item has at most 200 dated prices.", "price");
        Prices = prices;
        Version++;
        return default(Done);
    }

    /// <summary>Says a blank's names in other languages anew; what it is stays.</summary>
    /// <param name="json">JSON of the same piece description with its names.</param>
    public void Named(string json)
    {
        blankJson = json;
        Version++;
    }

    /// <summary>Changes what is known of it.</summary>
    public Result<Done> Change(StockItemFacts facts)
    {
        var faults = facts.Faults();
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        (Name, Unit, ReorderAt, Price) = (facts.Name.Trim(), facts.Unit.Trim(), facts.ReorderAt, facts.Price);
        (LeadDays, UsedEach) = (facts.LeadDays, facts.UsedEach);
        Version++;
        return default(Done);
    }
}
