using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Counter.Offers;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>An order with its lines judged.</summary>
/// <param name="Order">As entered, with its customer found.</param>
/// <param name="Lines">Line by line, in the order entered.</param>
/// <param name="Shop">What it was judged by.</param>
public sealed record JudgedOrder(OrderInput Order, IReadOnlyList<JudgedLine> Lines, ShopFacts Shop)
{
    /// <summary>True when every line has its price.</summary>
    public bool IsPriced => Lines.Count > 0 && Lines.All(j => j.Quote.Price is not null);

    /// <summary>The lines, counted from 0, for which blanks are missing.</summary>
    public IReadOnlyDictionary<int, ShortBlanks> Short { get; init; } = new Dictionary<int, ShortBlanks>();

    /// <summary>The offer that was made for its entry, and whether its prices count; null: none.</summary>
    public OfferStanding? Offer { get; init; }

    /// <summary>The customer is known with an address.</summary>
    public bool HasAddress { get; init; }

    /// <summary>What a promise is asked for.</summary>
    public AskedOrder Asked =>
        new([.. Order.Lines.Zip(Lines).Select((l, i) => New(l.First, l.Second, i))], Order.IsRush)
        {
            // A picture still to come, or an own piece that is not to be printed before the customer has seen how.
            ProofOpen = Order.Lines.Any(l =>
                l.Piece.IsOwn || l.SecondSide || (l.Picture is null && (l.Placement.IsToCome || l.Texts.All(string.IsNullOrWhiteSpace)))
            ),
        };

    /// <summary>Judges an order.</summary>
    public static async Task<JudgedOrder> OfAsync(
        ShopContext context,
        OrderInput entered,
        (ShopFacts Facts, JudgedLines Lines) shop,
        CancellationToken cancel
    )
    {
        var order = await entered.WithKnownCustomerAsync(context, cancel);
        var group = await GroupAsync(context, order.Customer, cancel);
        var known = order.Customer;
        var judged = new JudgedOrder(order, [.. order.Lines.Select(l => shop.Lines.Of(l, shop.Facts, order.IsRush, group))], shop.Facts)
        {
            Short = await ShortBlanks.OfAsync(context, order, shop.Facts, cancel),
            HasAddress = known is not null && await context.Customers.AnyAsync(c => c.Id == known && c.Address != null, cancel),
        };
        return await OfferStanding.UnderAsync(context, judged, cancel);
    }

    /// <summary>The group of a known customer, which may have a discount; null: none.</summary>
    public static async Task<string?> GroupAsync(ShopContext context, CustomerId? customer, CancellationToken cancel) =>
        customer is { } id ? await context.Customers.Where(c => c.Id == id).Select(c => c.Group).FirstOrDefaultAsync(cancel) : null;

    /// <summary>The prices as they would be agreed; only when every line has one.</summary>
    public IReadOnlyList<AgreedPrice> Priced() =>
        [.. Order.Lines.Zip(Lines).Select(l => AgreeOn.Price(l.Second.Quote.Price!, l.First.Piece.IsOwn, Shop))];

    private NewPieces New(LineInput line, JudgedLine judged, int index) =>
        new(line.Piece, line.Quantity, judged.Steps, Shop.Settings.LossOf(line.Finish, line.Piece.Material))
        {
            Later = Short.TryGetValue(index, out var few)
                ? new LaterPieces(few.Here, DayTimes.Utc(few.By, TimeOnly.MinValue, Shop.Settings.Zone))
                : null,
            TestFirst = judged.Quote is { Verdict: Verdict.TestPiece, Price: not null },
        };
}
