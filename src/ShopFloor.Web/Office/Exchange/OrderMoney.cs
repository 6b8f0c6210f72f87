using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>
/// What an order's rows say of its money beside the prices of the pieces, in its first row: what was taken off, what is asked for on top, and
/// the sum that is invoiced. All as the workshop's prices are: with tax where they include it.
/// </summary>
/// <param name="Discount">Taken off by hand; 0: nothing.</param>
/// <param name="Charges">On top, such as shipping.</param>
/// <param name="Total">What the other program asks for; null: it does not say.</param>
internal sealed record OrderMoney(decimal Discount, IReadOnlyList<OrderCharge> Charges, decimal? Total)
{
    private const decimal Most = 10_000_000;

    public static IReadOnlyList<CsvColumn> Columns { get; } = [new("discount"), new("charges"), new("total")];

    /// <summary>The cells of a line.</summary>
    public static IEnumerable<object?> Of(Order order, OrderLine line, CurrentSettings settings)
    {
        var profile = settings.Profile;
        if (line.Number != order.Lines.Min(l => l.Number))
            return [null, null, null];
        var discount = order.Discounts.SelectMany(d => d.Shares).Sum(s => profile.PricesIncludeTax ? s.Gross : s.Net);
        var asked = order.Charges.Select(c => c with { Amount = AsPrices(order, c.Amount, settings) }).ToList();
        var charges = asked.Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.Name}={CsvText.Amount(c.Amount)}"));
        var total = (profile.PricesIncludeTax ? order.Gross : order.Net) + asked.Sum(c => c.Amount);
        return [discount == 0 ? null : CsvText.Amount(discount), string.Join('|', charges), CsvText.Amount(total)];
    }

    /// <summary>A charge of an order that was agreed the other way, as the workshop's prices are now.</summary>
    private static decimal AsPrices(Order order, decimal amount, CurrentSettings settings)
    {
        var isWith = order.IsWithTax(settings.Profile.PricesIncludeTax);
        if (isWith == settings.Profile.PricesIncludeTax)
            return amount;
        var factor = 1 + settings.ChargePercentOn(settings.Day(order.BookedAt)) / 100m;
        return new Money(isWith ? amount / factor : amount * factor, order.Currency).Rounded().Amount;
    }

    /// <summary>Reads them from an order's first row.</summary>
    public static OrderMoney Read(CellReader cells) =>
        new(cells.Money("discount", Most) ?? 0, [.. ReadCharges(cells)], cells.Money("total", Most));

    /// <summary>Whether the sum is the one that the file says; else it is told.</summary>
    public bool Fits(CellReader cells, IReadOnlyList<AgreedPrice> prices, ShopFacts shop)
    {
        var agreed = prices.Sum(p => shop.Settings.Profile.PricesIncludeTax ? p.Gross : p.Net);
        if (Money.Round(Discount) != Discount)
            cells.Fault("discount", "At most two decimals.");
        if (Discount > agreed)
            cells.Fault("discount", "More is taken off than the pieces cost.");
        var sum = agreed - Discount + Charges.Sum(c => c.Amount);
        if (Total is { } total && total != sum)
            cells.Fault("total", string.Create(CultureInfo.InvariantCulture, $"Prices, discount and charges make {sum}, not {total}."));
        return cells.IsGood;
    }

    /// <summary>Puts them onto the order that was just booked. They were checked, so nothing is refused.</summary>
    public void AddTo(CommandWork work, OrderId id, ShopFacts shop)
    {
        var order = work.Context.Orders.Local.Single(o => o.Id == id);
        foreach (var charge in Charges)
            _ = order.Charge(charge.Name, charge.Amount).Value;
        if (Discount > 0)
            _ = order
                .Discount(
                    new DiscountWish(Discount, false, "Agreed before"),
                    new Dictionary<int, decimal>(),
                    shop.Settings.Profile.PricesIncludeTax,
                    new Signature(work.By, work.Now)
                )
                .Value;
    }

    private static IEnumerable<OrderCharge> ReadCharges(CellReader cells)
    {
        var parts = cells.Text("charges", 2000).Split('|', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        foreach (var part in parts)
        {
            var at = part.LastIndexOf('=');
            var amount = NumberText.Money(at < 0 ? "" : part[(at + 1)..]);
            if (amount.Refusals is [{ Code: "amount-ambiguous" } ambiguous])
            {
                cells.Fault("charges", ambiguous.Text);
                continue;
            }
            var charge = new OrderCharge(0, at < 0 ? "" : part[..at].Trim(), amount.IsOk ? amount.Value : 0);
            if (charge.Check() is { } fault)
                cells.Fault("charges", $"Write charges like Shipping=5.90|Wrapping=2. {fault.Text}");
            else
                yield return charge;
        }
    }
}
