using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Pricing;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Orders.Changes;

/// <summary>More or fewer pieces of a line.</summary>
/// <param name="Order">The order.</param>
/// <param name="SeenVersion">As the page showed it.</param>
/// <param name="Line">The line's number.</param>
/// <param name="Quantity">How many there shall be; 0: the line is left out.</param>
/// <param name="Texts">One for all pieces, one for each, or none.</param>
/// <param name="ShownPrice">Fingerprint of the price that was shown for it.</param>
public sealed record QuantityInput(
    OrderId Order,
    int SeenVersion,
    int Line,
    int Quantity,
    IReadOnlyList<string> Texts,
    string ShownPrice = ""
);

/// <summary>
/// A line that is to become more or fewer pieces, judged and priced by what holds now, as a booking is. The order that it was made of has
/// the new number, texts, price and deposit already; nothing is saved, and its pieces are as they were.
/// </summary>
internal sealed record ResizedLine(OrderLine Line, IReadOnlyList<Piece> Pieces, LinePieces Moves, JudgedLine? Judged, AskedOrder? Asked)
{
    /// <summary>Fingerprint of what is agreed to.</summary>
    public string Fingerprint => Judged?.Quote.Price?.Hash ?? "left out";

    /// <summary>Why its price changes; null where it is left out.</summary>
    public PriceWhy? Why { get; private init; }

    /// <summary>Changes the order in hand; or why it cannot be.</summary>
    /// <param name="context">Reads pieces, money and stock.</param>
    /// <param name="order">The order; changed.</param>
    /// <param name="input">What is wanted.</param>
    /// <param name="shop">What it is judged by.</param>
    /// <param name="cancel">Ends the reading.</param>
    public static async Task<Result<ResizedLine>> OfAsync(
        ShopContext context,
        Order order,
        QuantityInput input,
        (ShopFacts Facts, JudgedLines Lines) shop,
        CancellationToken cancel
    )
    {
        if (order.Lines.FirstOrDefault(l => l.Number == input.Line) is not { } line)
            return new Refusal("line-missing", $"The order has no line {input.Line}.");
        if (input.Quantity is < 0 or > LineFaults.MostPieces)
            return new Refusal("quantity", "Give a number of pieces between 1 and 1,000.", "quantity");
        if (input.Quantity == line.Quantity)
            return new Refusal("quantity-same", "That is how many are ordered already.", "quantity");
        var account = (await OrderAccount.LoadAsync(context, order.Id, shop.Facts.At, cancel))!;
        if (MoneyFault(account, line) is { } money)
            return money;
        var pieces = await context.Pieces.Where(p => p.Line == line.Id).OrderBy(p => p.Number).ToListAsync(cancel);
        var moves = LinePieces.For(line.Quantity, pieces, input.Quantity);
        if (!moves.IsOk)
            return Result<ResizedLine>.Refused(moves.Refusals);
        var resized =
            input.Quantity == 0
                ? order.LeaveOut(line.Number).Then<ResizedLine>(_ => new ResizedLine(line, pieces, moves.Value, null, null))
                : await ResizeAsync(context, order, (input, line, pieces, moves.Value), shop, cancel);
        return resized.IsOk && DepositFault(account, order) is { } deposit ? deposit : resized;
    }

    private static async Task<Result<ResizedLine>> ResizeAsync(
        ShopContext context,
        Order order,
        (QuantityInput Input, OrderLine Line, IReadOnlyList<Piece> Pieces, LinePieces Moves) of,
        (ShopFacts Facts, JudgedLines Lines) shop,
        CancellationToken cancel
    )
    {
        var texts = LineFaults.OfTexts(of.Input.Texts, of.Input.Quantity);
        if (texts.Count > 0)
            return Result<ResizedLine>.Refused(texts);
        var group = await context.Customers.Where(c => c.Id == order.Customer).Select(c => c.Group).FirstOrDefaultAsync(cancel);
        var entered = Entered(of.Line, of.Input, shop.Facts);
        var judged = shop.Lines.Of(entered, shop.Facts, order.IsRush, group);
        if (judged.Quote.Price is not { } price)
            return Result<ResizedLine>.Refused([.. judged.Quote.Faults.Select(f => f with { Field = "quantity" })]);
        var agreed = AgreeOn.Price(price, entered.Piece.IsOwn, shop.Facts);
        var same = shop.Lines.Of(entered with { Quantity = of.Line.Quantity, Texts = of.Line.Texts }, shop.Facts, order.IsRush, group);
        var why = WhyOf(of.Line, same, agreed, shop.Facts);
        var resize = new LineResize(of.Input.Quantity, of.Input.Texts, agreed, DepositOf(order, agreed, price));
        var done = order.Resize(of.Line.Number, resize, of.Pieces, of.Moves);
        if (!done.IsOk)
            return Result<ResizedLine>.Refused(done.Refusals);
        if (of.Moves.New.Count == 0)
            return new ResizedLine(of.Line, of.Pieces, of.Moves, judged, null) { Why = why };
        order.MakeBy(of.Line.Number, judged.Recipe!.Id, VerdictWords.Of(judged.Quote.Verdict));
        // A promise is asked for what comes on top: the others have theirs.
        var onTop = new OrderInput { Lines = [entered with { Quantity = of.Moves.New.Count }], IsRush = order.IsRush };
        var few = await ShortBlanks.OfAsync(context, onTop, shop.Facts, cancel);
        var promised = new JudgedOrder(onTop, [judged], shop.Facts) { Short = few }.Asked;
        return new ResizedLine(of.Line, of.Pieces, of.Moves, judged, promised) { Why = why };
    }

    /// <summary>Why the new price is another one.</summary>
    private static PriceWhy WhyOf(OrderLine line, JudgedLine same, AgreedPrice after, ShopFacts shop) =>
        PriceWhy.Of(line.Price, same.Quote.Price is { } today ? AgreeOn.Price(today, line.Piece.IsOwn, shop) : null, after);

    /// <summary>The deposit of a new price, with or without tax as the order was agreed, whatever the shop's prices are now.</summary>
    private static decimal DepositOf(Order order, AgreedPrice agreed, PriceBreakdown price)
    {
        var isWith = price.IncludedTaxPercent is not null;
        if (order.IsWithTax(isWith) == isWith)
            return price.Deposit.Amount;
        var factor = 1 + agreed.TaxPercent / 100m;
        return (price.Deposit with { Amount = isWith ? price.Deposit.Amount / factor : price.Deposit.Amount * factor }).Rounded().Amount;
    }

    /// <summary>The line as it would be entered now; a price that was set by hand stays what it is for one piece.</summary>
    private static LineInput Entered(OrderLine line, QuantityInput input, ShopFacts shop) =>
        new()
        {
            Piece = line.Piece,
            Quantity = input.Quantity,
            Finish = line.Finish,
            Picture = line.Picture,
            Placement = line.Placement,
            Texts = input.Texts,
            PriceByHand = line.Price.OverrideReason is null
                ? null
                : (shop.Settings.Profile.PricesIncludeTax ? line.Price.Gross : line.Price.Net) / line.Quantity,
            PriceReason = PriceOverride.ReasonIn(line.Price.OverrideReason ?? ""),
        };

    /// <summary>What was invoiced or given as a discount stays right: such a line keeps its number.</summary>
    private static Refusal? MoneyFault(OrderAccount account, OrderLine line)
    {
        if (account.Settings.Profile.Currency != account.Order.Currency)
            return new Refusal("currency", $"This order is in {account.Order.Currency}, and prices are made in another currency now.");
        if (account.Lines.FirstOrDefault(l => l.Line.Id == line.Id) is { Invoiced: > 0m })
            return new Refusal(
                "line-invoiced",
                "Pieces of this line stand on an invoice. Take that back by a credit note first, or make another order.",
                "quantity"
            );
        if (account.Order.Discounts.Any(d => d.Shares.Any(s => s.Line == line.Number)))
            return new Refusal(
                "line-discounted",
                "A discount lies on this line. Take it back under Discounts and charges, change the number, then give it again; if it stands on an invoice, make another order.",
                "quantity"
            );
        return null;
    }

    /// <summary>What is still to be invoiced has to be as much as the deposit that is to be taken off it.</summary>
    private static Refusal? DepositFault(OrderAccount account, Order order)
    {
        var invoiced = account.Lines.ToDictionary(l => l.Line.Id, l => l.Invoiced);
        var left =
            order.Lines.Sum(l => order.GrossOf(l) * Math.Max(0m, l.Quantity - invoiced[l.Id]) / l.Quantity)
            + account.OpenCharges.Sum(c => c.Amount);
        return account.OpenDeposits.Sum(d => d.Totals.Payable) <= left
            ? null
            : new Refusal(
                "deposit-left",
                "The deposit that was invoiced is more than what would be left to invoice. Take the deposit invoice back by a credit note first.",
                "quantity"
            );
    }
}
