using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Invoicing;

/// <summary>An allowance or a charge. All amounts are in the document's currency.</summary>
/// <param name="IsCharge">True adds, false takes off.</param>
/// <param name="Amount">Rounded to the coin; negative only on a document that undoes another.</param>
/// <param name="Reason">Why (BT-97, -104, -139, -144).</param>
/// <param name="Base">The amount that the percent is of, or null.</param>
/// <param name="Percent">Percent of the base, or null.</param>
/// <param name="ReasonCode">UNTDID 5189 for allowances, 7161 for charges, or null.</param>
public sealed record Adjustment(
    bool IsCharge,
    decimal Amount,
    string Reason,
    decimal? Base = null,
    decimal? Percent = null,
    string? ReasonCode = null
)
{
    /// <summary>The amount as it counts in a sum.</summary>
    public decimal Signed => IsCharge ? Amount : -Amount;

    /// <summary>A percent of a base: amount = base × percent ÷ 100, rounded (Peppol R040).</summary>
    public static Adjustment OfPercent(bool isCharge, decimal @base, decimal percent, string reason) =>
        new(isCharge, Money.Round(@base * percent / 100m), reason, @base, percent);
}

/// <summary>An allowance or a charge on the whole document, with the tax it falls under (BG-20, BG-21).</summary>
/// <param name="Adjustment">What and why.</param>
/// <param name="Tax">Category and rate.</param>
public sealed record DocumentAdjustment(Adjustment Adjustment, TaxKind Tax)
{
    /// <summary>The amount with tax that the customer was shown, without sign; null when prices are without.</summary>
    public decimal? Shown { get; init; }
}

/// <summary>A name and a value that describe an item (BG-32), e.g. material: slate.</summary>
public sealed record ItemProperty(string Name, string Value);

/// <summary>What the customer was shown when prices include tax: kept for the readable paper, no part of the sums.</summary>
/// <param name="UnitPrice">Price of one with tax.</param>
/// <param name="DiscountPercent">Taken off the line, 0 for none.</param>
/// <param name="Amount">Of the line with tax, rounded.</param>
public sealed record ShownPrice(decimal UnitPrice, decimal DiscountPercent, decimal Amount);

/// <summary>One line of a document (BG-25). Prices and amounts are in the document's currency and without tax.</summary>
/// <param name="Id">Number of the line, unique in the document (BT-126).</param>
/// <param name="Name">What it is (BT-153).</param>
/// <param name="Quantity">Not zero; negative takes off, as a deduction does (BT-129).</param>
/// <param name="Unit">Code of UN/ECE Recommendation 20, e.g. <c>H87</c> piece (BT-130).</param>
/// <param name="Price">Net price of <see cref="PriceQuantity"/> units, at least zero, any number of decimals (BT-146).</param>
/// <param name="Tax">Category and rate (BT-151, BT-152).</param>
public sealed record InvoiceLine(string Id, string Name, decimal Quantity, string Unit, decimal Price, TaxKind Tax)
{
    /// <summary>The number of units that <see cref="Price"/> is for, above zero (BT-149).</summary>
    public decimal PriceQuantity { get; init; } = 1m;

    /// <summary>Price before <see cref="PriceDiscount"/>, or null (BT-148).</summary>
    public decimal? ListPrice { get; init; }

    /// <summary>Taken off the list price of each price quantity, or null (BT-147).</summary>
    public decimal? PriceDiscount { get; init; }

    /// <summary>Allowances and charges of the line (BG-27, BG-28).</summary>
    public IReadOnlyList<Adjustment> Adjustments { get; init; } = [];

    /// <summary>More words (BT-154), or null.</summary>
    public string? Description { get; init; }

    /// <summary>Material, size, picture and the like.</summary>
    public IReadOnlyList<ItemProperty> Properties { get; init; } = [];

    /// <summary>What the customer was shown with tax, or null when prices are without.</summary>
    public ShownPrice? Shown { get; init; }

    /// <summary>
    /// BT-131: quantity × price ÷ price quantity, rounded once, less allowances plus charges. Multiplied first and divided last, so that no digit is
    /// lost to an early division.
    /// </summary>
    public decimal Net() => Money.Round(Quantity * Price / PriceQuantity) + Adjustments.Sum(a => a.Signed);

    /// <summary>The line with a price that gives exactly this net: four decimals where they do, else the net itself for the whole quantity.</summary>
    /// <param name="net">Wanted net, of the quantity's sign or zero.</param>
    public InvoiceLine PricedAt(decimal net)
    {
        var price = Money.Round(net / Quantity, 4);
        return Money.Round(price * Quantity) == net
            ? this with
            {
                Price = price,
                PriceQuantity = 1m,
            }
            : this with
            {
                Price = net * Math.Sign(Quantity),
                PriceQuantity = Math.Abs(Quantity),
            };
    }
}
