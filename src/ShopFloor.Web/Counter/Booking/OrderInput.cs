using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Counter.Offers;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>One line as it was entered.</summary>
public sealed record LineInput
{
    public PieceDescription Piece { get; init; } = new();
    public int Quantity { get; init; } = 1;
    public Finish Finish { get; init; }
    public PictureId? Picture { get; init; }
    public PictureOnFace Placement { get; init; } = PictureOnFace.Whole;

    /// <summary>A second side shall get a picture too: neither priced nor promised, but asked about.</summary>
    public bool SecondSide { get; init; }

    /// <summary>Photos of the condition it was brought in.</summary>
    public IReadOnlyList<PictureId> Photos { get; init; } = [];

    /// <summary>One text for all pieces, or one for each.</summary>
    public IReadOnlyList<string> Texts { get; init; } = [];

    /// <summary>A price a clerk sets instead, for one piece as shown.</summary>
    public decimal? PriceByHand { get; init; }

    /// <summary>Why.</summary>
    public string PriceReason { get; init; } = "";
}

/// <summary>An order as it was entered.</summary>
public sealed record OrderInput
{
    /// <summary>The draft it comes from; booked once.</summary>
    public Guid? Draft { get; init; }

    /// <summary>A known customer; null: a new one from the contact.</summary>
    public CustomerId? Customer { get; init; }
    public Contact Contact { get; init; } = new("", "", "");

    /// <summary>Name of the customer in the program that sends it: a known one, or that of the new one. Empty: none.</summary>
    public string CustomerExternalId { get; init; } = "";

    /// <summary>Name of the order in the program that sends it; booked once. Empty: none.</summary>
    public string ExternalId { get; init; } = "";
    public IReadOnlyList<LineInput> Lines { get; init; } = [];
    public DateOnly? Wanted { get; init; }
    public bool IsRush { get; init; }

    /// <summary>Today's price shall count although an offer of the entry still holds.</summary>
    public bool TodaysPrice { get; init; }
    public bool IsGift { get; init; }
    public bool RiskAccepted { get; init; }
    public bool RightsAccepted { get; init; }
    public bool ContactAgreed { get; init; }

    /// <summary>Numbers of the lines of which the customer was told that the picture is too coarse for its size.</summary>
    public IReadOnlyList<int> CoarseTold { get; init; } = [];
    public string Language { get; init; } = "en";

    /// <summary>Fingerprints of the prices that were shown, line by line; booking refuses when a price is different now.</summary>
    public IReadOnlyList<string> ShownPriceHashes { get; init; } = [];

    /// <summary>The day that was shown beside them, of the shop; booking refuses when it is a later one now. Null: none was shown.</summary>
    public DateOnly? ShownDay { get; init; }
    public string Note { get; init; } = "";

    /// <summary>The order with its customer found by the name in the program that sends it.</summary>
    internal async Task<OrderInput> WithKnownCustomerAsync(ShopContext context, CancellationToken cancel) =>
        Customer is not null || CustomerExternalId.Length == 0
            ? this
            : this with
            {
                Customer = await context
                    .Customers.Where(c => c.ExternalId == CustomerExternalId)
                    .Select(c => (CustomerId?)c.Id)
                    .FirstOrDefaultAsync(cancel),
            };
}

/// <summary>What can be said of one line.</summary>
/// <param name="Verdict">Whether the material takes the finish.</param>
/// <param name="VerdictText">In plain words.</param>
/// <param name="Reasons">Every reason that is not "take", most severe first.</param>
/// <param name="Price">Null while the line has faults or is refused.</param>
/// <param name="Faults">What is wrong, with the field.</param>
public sealed record LineQuote(
    Verdict Verdict,
    string VerdictText,
    IReadOnlyList<string> Reasons,
    ShopFloor.Domain.Pricing.PriceBreakdown? Price,
    IReadOnlyList<Refusal> Faults
)
{
    /// <summary>The day on which the workshop's own test of this material came out well; null: there is none.</summary>
    public DateOnly? TestedOn { get; init; }

    /// <summary>How the verdict comes about; null where none could be made.</summary>
    public ShopFloor.Domain.Quantities.Explanation? Why { get; init; }
}

/// <summary>What can be said of an order before it is booked.</summary>
/// <param name="Lines">Line by line, in the order entered.</param>
/// <param name="Net">Without tax; null while a line has no price.</param>
/// <param name="Gross">With tax; null while a line has no price.</param>
/// <param name="TaxPercent">The rate.</param>
/// <param name="Currency">ISO 4217.</param>
/// <param name="PromisedAt">The earliest honest completion, UTC; null while it cannot be said.</param>
/// <param name="Deposit">Asked for on booking.</param>
/// <param name="AsOf">When this was computed, UTC.</param>
public sealed record OrderQuote(
    IReadOnlyList<LineQuote> Lines,
    decimal? Net,
    decimal? Gross,
    decimal TaxPercent,
    string Currency,
    DateTimeOffset? PromisedAt,
    decimal Deposit,
    DateTimeOffset AsOf
)
{
    /// <summary>What it comes to, as the customer is shown prices; null while there is no price.</summary>
    /// <param name="withTax">The shop shows its prices with tax.</param>
    public decimal? Shown(bool withTax) => withTax ? Gross : Net;

    /// <summary>What is wrong with the order as a whole, such as a day wanted that is over.</summary>
    public IReadOnlyList<Refusal> Faults { get; init; } = [];

    /// <summary>For a rush: whom it would make late. Shown to the workshop's people, never to customers.</summary>
    public IReadOnlyList<PushedOrder> Pushes { get; init; } = [];

    /// <summary>The lines, counted from 0, for which blanks are missing: the date waits for them.</summary>
    public IReadOnlyDictionary<int, ShortBlanks> Short { get; init; } = new Dictionary<int, ShortBlanks>();

    /// <summary>The offer of the entry, and whether its prices count; null: there is none.</summary>
    public OfferStanding? Offer { get; init; }

    /// <summary>The sum with tax above which an invoice needs the customer's address, where this comes to more and none is kept; null: nothing to say.</summary>
    public decimal? AddressAbove { get; init; }

    /// <summary>Why there is no date: for each line that cannot be planned, counted from 0, the plan's reason.</summary>
    public IReadOnlyDictionary<int, LeftOut> LeftOut { get; init; } = new Dictionary<int, LeftOut>();
}

/// <summary>What booking answers.</summary>
/// <param name="Order">The order.</param>
/// <param name="Number">The number people say.</param>
/// <param name="StatusToken">The secret of the status link: the order keeps its hash, the list of commands keeps it closed.</param>
/// <param name="Codes">Codes of its pieces.</param>
/// <param name="PromisedAt">The promise, UTC.</param>
public sealed record BookedOrder(OrderId Order, int Number, string StatusToken, IReadOnlyList<string> Codes, DateTimeOffset PromisedAt)
{
    private const int TokenLetters = 48;

    /// <summary>As the list of commands keeps it: a copy of the database alone opens no customer's page.</summary>
    internal BookedOrder Closed(SecretBox secrets) => this with { StatusToken = secrets.Close(StatusToken) };

    /// <summary>As it was answered; without the secret when the keys that closed it are no longer there.</summary>
    internal BookedOrder Opened(SecretBox secrets) =>
        IsPlain(StatusToken) ? this : this with { StatusToken = secrets.Open(StatusToken) ?? "" };

    // So it was written before it was closed.
    private static bool IsPlain(string token) => token.Length == TokenLetters && token.All(char.IsAsciiHexDigitLower);
}
