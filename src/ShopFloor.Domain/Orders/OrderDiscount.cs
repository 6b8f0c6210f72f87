using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Orders;

/// <summary>A discount as a person gives it.</summary>
/// <param name="Value">Percent of what is still to be invoiced, or an amount: with tax where the order was agreed with tax. Above zero.</param>
/// <param name="IsPercent">Whether the value is a percent.</param>
/// <param name="Reason">Why, as the customer reads it; 1 to 100 characters.</param>
public sealed record DiscountWish(decimal Value, bool IsPercent, string Reason);

/// <summary>By whom and when, UTC.</summary>
public sealed record Signature(string By, DateTimeOffset At);

/// <summary>A line's share of a discount, over the pieces that were not invoiced when it was given.</summary>
/// <param name="Line">Number of the line.</param>
/// <param name="From">Pieces of the line that were invoiced before.</param>
/// <param name="Net">Taken off the line's net price.</param>
/// <param name="Gross">Taken off the line's price with tax.</param>
public sealed record DiscountShare(int Line, decimal From, decimal Net, decimal Gross)
{
    /// <summary>What falls on some pieces of the line: the difference of running sums, so that parts add up to the share.</summary>
    /// <param name="share">The whole, net or with tax.</param>
    /// <param name="from">Pieces before these.</param>
    /// <param name="count">How many.</param>
    /// <param name="quantity">Pieces of the line.</param>
    public decimal Of(decimal share, decimal from, decimal count, int quantity)
    {
        decimal UpTo(decimal piece) => Money.Round(share * Math.Clamp(piece - From, 0m, quantity - From) / (quantity - From));
        return UpTo(from + count) - UpTo(from);
    }
}

/// <summary>How the money of an order stands when a discount is given.</summary>
/// <param name="Invoiced">Pieces already invoiced, by line number.</param>
/// <param name="WithTax">Whether the order was agreed with tax.</param>
public sealed record DiscountGround(IReadOnlyDictionary<int, decimal> Invoiced, bool WithTax);

/// <summary>Something taken off the agreed prices by hand. It is cut into coins when it is given, and nothing changes it later.</summary>
/// <param name="Number">1, 2, 3 … in its order.</param>
/// <param name="Reason">As the customer reads it.</param>
/// <param name="Percent">The percent it was given as, or null for an amount.</param>
/// <param name="Amount">With tax where the order was agreed with tax.</param>
/// <param name="Given">By whom and when.</param>
/// <param name="Shares">What each line bears.</param>
public sealed record OrderDiscount(
    int Number,
    string Reason,
    decimal? Percent,
    decimal Amount,
    Signature Given,
    IReadOnlyList<DiscountShare> Shares
)
{
    /// <summary>The reason with the percent, as papers say it.</summary>
    public string Words => Percent is { } p ? string.Create(CultureInfo.InvariantCulture, $"{Reason}, {p:0.##} %") : Reason;

    /// <summary>Percent and amount without the reason, which may name somebody.</summary>
    public string Size(string currency) =>
        Percent is { } p
            ? string.Create(CultureInfo.InvariantCulture, $"{p:0.##} %, {new Money(Amount, currency)}")
            : new Money(Amount, currency).ToString();

    internal static Result<OrderDiscount> Of(Order order, DiscountWish wish, DiscountGround ground, Signature given)
    {
        var reason = wish.Reason.Trim();
        if (reason.Length is 0 or > 100)
            return new Refusal("discount-reason", "Say why, in at most 100 characters.", "Name");
        if (wish.Value <= 0m || Money.Round(wish.Value) != wish.Value || (wish.IsPercent && wish.Value > 100m))
            return new Refusal(
                "discount-value",
                "Enter an amount above 0, or a percent above 0 up to 100, with at most two decimals.",
                "Amount"
            );
        var open = order
            .Lines.Where(l => ground.Invoiced.GetValueOrDefault(l.Number) < l.Quantity)
            .Select(l => OpenPart.Of(order, l, ground))
            .ToList();
        var sum = open.Sum(o => o.Left);
        if (sum <= 0m)
            return new Refusal("discount-late", "Nothing is left to invoice. Take an invoice back by a credit note instead.", "Amount");
        var amount = new Money(wish.IsPercent ? sum * wish.Value / 100m : wish.Value, order.Currency).Rounded();
        if (amount.Amount > sum)
            return new Refusal("discount-large", $"That is more than is still to be invoiced: {new Money(sum, order.Currency)}.", "Amount");
        var shares = Apportion.ByWeight(amount, [.. open.Select(o => o.Left)]);
        return new OrderDiscount(
            order.Discounts.Select(d => d.Number).DefaultIfEmpty().Max() + 1,
            reason,
            wish.IsPercent ? wish.Value : null,
            amount.Amount,
            given,
            [.. open.Select((o, i) => o.Share(shares[i], ground.WithTax)).Where(s => s.Net != 0m || s.Gross != 0m)]
        );
    }

    /// <summary>What of a line is not invoiced yet, after earlier discounts.</summary>
    private sealed record OpenPart(OrderLine Line, decimal From, decimal Left)
    {
        public static OpenPart Of(Order order, OrderLine line, DiscountGround ground)
        {
            var from = ground.Invoiced.GetValueOrDefault(line.Number);
            decimal Whole(decimal net, decimal gross) => ground.WithTax ? gross : net;
            var price = Whole(line.Price.Net, line.Price.Gross);
            var earlier = order
                .Discounts.SelectMany(d => d.Shares)
                .Where(s => s.Line == line.Number)
                .Sum(s => s.Of(Whole(s.Net, s.Gross), from, line.Quantity - from, line.Quantity));
            return new(line, from, Math.Max(0m, price - Money.Round(price * from / line.Quantity) - earlier));
        }

        /// <summary>The other side of the tax is the difference of before and after, so that the line's net and gross stay one price.</summary>
        public DiscountShare Share(Money discount, bool withTax)
        {
            var (factor, amount) = (1m + Line.Price.TaxPercent / 100m, discount.Amount);
            decimal Other(decimal sum) => (discount with { Amount = withTax ? sum / factor : sum * factor }).Rounded().Amount;
            var other = Other(Left) - Other(Left - amount);
            return withTax ? new(Line.Number, From, other, amount) : new(Line.Number, From, amount, other);
        }
    }
}
