using CsCheck;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Orders;

public sealed class OrderDiscountTests
{
    private static readonly Signature Given = new("owner", new DateTimeOffset(2026, 5, 4, 9, 0, 0, TimeSpan.Zero));
    private static readonly IReadOnlyDictionary<int, decimal> Nothing = new Dictionary<int, decimal>();

    private static readonly Gen<(Order Order, bool WithTax)> Orders = Gen.Select(
        Gen.Select(Gen.Int[1, 12], Gen.Int[1, 20_000], Gen.Int[0, 27]).Array[1, 6],
        Gen.Bool,
        (rows, withTax) => (Booked(rows, withTax), withTax)
    );

    /// <summary>A discount takes off what it says, and cut over any parts of the order it loses no cent.</summary>
    [Fact]
    public void Discount_AnyOrderInAnyParts_SharesAddUp() =>
        Gen.Select(Orders, Gen.Int[1, 100], Gen.Int[1, 60])
            .Sample(
                (x, percent, cut) =>
                {
                    var before = Shown(x.Order, x.WithTax);
                    Assert.True(x.Order.Discount(new(percent, true, "Friend"), Nothing, x.WithTax, Given).IsOk);
                    var discount = x.Order.Discounts[0];
                    Assert.Equal(Money.Round(before * percent / 100m), discount.Amount);
                    Assert.Equal(before - discount.Amount, Shown(x.Order, x.WithTax));
                    Assert.Equal(x.Order.Net, x.Order.Lines.Sum(x.Order.NetOf));
                    foreach (var share in discount.Shares)
                    {
                        var quantity = x.Order.Lines.First(l => l.Number == share.Line).Quantity;
                        var first = Math.Min(cut, quantity);
                        var parts = share.Of(share.Gross, 0m, first, quantity) + share.Of(share.Gross, first, quantity - first, quantity);
                        Assert.Equal(share.Gross, parts);
                    }
                },
                iter: 2000
            );

    /// <summary>What is agreed stays one price: net and gross of each line belong together by its rate, as they did when it was booked.</summary>
    [Fact]
    public void Discount_PricesWithTax_NetIsTheGrossWithoutItsTax() =>
        Gen.Select(Orders.Where(x => x.WithTax), Gen.Int[1, 99], Gen.Int[1, 99])
            .Sample(
                (x, first, second) =>
                {
                    Assert.True(x.Order.Discount(new(first, true, "Friend"), Nothing, true, Given).IsOk);
                    if (x.Order.Gross >= 1m)
                        Assert.True(x.Order.Discount(new(second, true, "Again"), Nothing, true, Given).IsOk);
                    foreach (var line in x.Order.Lines)
                    {
                        var shares = x.Order.Discounts.SelectMany(d => d.Shares).Where(s => s.Line == line.Number);
                        var gross = line.Price.Gross - shares.Sum(s => s.Gross);
                        Assert.Equal(Money.Round(gross / (1 + line.Price.TaxPercent / 100m)), x.Order.NetOf(line));
                    }
                },
                iter: 1000
            );

    [Fact]
    public void Discount_HalfIsInvoiced_IsTakenFromTheRest()
    {
        var order = Booked([(4, 1000, 20)], withTax: true);
        Assert.True(order.Discount(new(5m, false, "Scratch"), new Dictionary<int, decimal> { [1] = 2m }, true, Given).IsOk);
        var share = Assert.Single(order.Discounts[0].Shares);
        Assert.Equal(0m, share.Of(share.Gross, 0m, 2m, 4));
        Assert.Equal((2.50m, 2.50m), (share.Of(share.Gross, 2m, 1m, 4), share.Of(share.Gross, 3m, 1m, 4)));
        var refused = order.Discount(new(15.01m, false, "More"), new Dictionary<int, decimal> { [1] = 2m }, true, Given);
        Assert.Equal("discount-large", refused.Refusals[0].Code);
    }

    [Theory]
    [InlineData(0, true, "Friend", "discount-value")]
    [InlineData(-5, false, "Friend", "discount-value")]
    [InlineData(100.01, true, "Friend", "discount-value")]
    [InlineData(1.001, false, "Friend", "discount-value")]
    [InlineData(5, true, " ", "discount-reason")]
    [InlineData(41, false, "Friend", "discount-large")]
    public void Discount_BadWish_IsRefused(double value, bool isPercent, string reason, string code)
    {
        var order = Booked([(4, 1000, 20)], withTax: true);
        var refused = order.Discount(new((decimal)value, isPercent, reason), Nothing, true, Given);
        Assert.Equal(code, refused.Refusals[0].Code);
        Assert.Empty(order.Discounts);
    }

    [Fact]
    public void Discount_EverythingInvoiced_IsRefused() =>
        Assert.Equal(
            "discount-late",
            Booked([(4, 1000, 20)], withTax: true)
                .Discount(new(5m, true, "Friend"), new Dictionary<int, decimal> { [1] = 4m }, true, Given)
                .Refusals[0]
                .Code
        );

    [Fact]
    public void Deposit_AfterDiscount_IsTheSameShare()
    {
        var order = Booked([(4, 1000, 20)], withTax: true, deposit: 12m);
        Assert.True(order.Discount(new(25m, true, "Friend"), Nothing, true, Given).IsOk);
        Assert.Equal((30m, 9m), (order.Gross, order.Deposit));
        order.Undiscount(order.Discounts[0]);
        Assert.Equal((40m, 12m), (order.Gross, order.Deposit));
    }

    [Fact]
    public void Erase_ReasonOfADiscount_IsGoneAndThePriceStays()
    {
        var order = Booked([(4, 1000, 20)], withTax: true);
        Assert.True(order.Discount(new(25m, true, "For Orla"), Nothing, true, Given).IsOk);
        order.Erase();
        Assert.Equal(("Discount, 25 %", 30m), (order.Discounts[0].Words, order.Gross));
    }

    private static decimal Shown(Order order, bool withTax) => withTax ? order.Gross : order.Net;

    private static Order Booked((int Quantity, int UnitCents, int Rate)[] rows, bool withTax, decimal deposit = 0m)
    {
        var order = new Order(
            new OrderId(Guid.CreateVersion7()),
            1,
            new CustomerId(Guid.CreateVersion7()),
            new Contact("Orla Fenn", "", ""),
            "EUR",
            Given.At,
            "owner"
        )
        {
            DepositAsked = deposit,
        };
        foreach (var (row, i) in rows.Select((r, i) => (r, i)))
        {
            var total = row.Quantity * row.UnitCents / 100m;
            var factor = 1m + row.Rate / 100m;
            var (net, gross) = withTax ? (Money.Round(total / factor), total) : (total, Money.Round(total * factor));
            order.Add(
                new OrderLine(new OrderLineId(Guid.CreateVersion7()), i + 1, row.Quantity, new PieceDescription(), Finish.WhiteGround)
                {
                    Price = new AgreedPrice([], net, row.Rate, "S", gross, "", null),
                }
            );
        }
        return order;
    }
}
