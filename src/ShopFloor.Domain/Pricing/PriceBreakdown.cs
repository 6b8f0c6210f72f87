using System.Security.Cryptography;
using System.Text;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Pricing;

/// <summary>One visible part of a price.</summary>
/// <param name="Code">Stable code, e.g. <c>labour</c>.</param>
/// <param name="Name">Plain name for people.</param>
/// <param name="PerPiece">Rounded share of one piece's price, any sign.</param>
/// <param name="PerLine">Rounded share of the line's price, any sign.</param>
public sealed record PricePart(string Code, string Name, Money PerPiece, Money PerLine)
{
    /// <summary>What it was computed from, for the workshop's people; no part of the fingerprint, for customers are not shown it.</summary>
    public string Basis { get; init; } = "";
}

/// <summary>The price of a line, opened to its parts. The parts add up exactly, per piece and per line.</summary>
/// <param name="Pieces">Number of alike pieces.</param>
/// <param name="UnitPrice">Price of one piece as shown.</param>
/// <param name="IncludedTaxPercent">The tax contained in the price, in percent; null when prices are shown before tax.</param>
/// <param name="Parts">Every part in order: costs, profit, discounts, minimum, tax, rounding, price set by hand.</param>
/// <param name="Cost">What the line costs the workshop, rounded.</param>
/// <param name="BelowCost">True when the price before tax does not cover the cost.</param>
/// <param name="Deposit">To be paid on booking, rounded.</param>
/// <param name="RateCard">Code of the rates used.</param>
/// <param name="PriceRule">Code of the rule used.</param>
public sealed record PriceBreakdown(
    int Pieces,
    Money UnitPrice,
    decimal? IncludedTaxPercent,
    IReadOnlyList<PricePart> Parts,
    Money Cost,
    bool BelowCost,
    Money Deposit,
    string RateCard,
    string PriceRule
)
{
    /// <summary>Price of the line: pieces × unit price.</summary>
    public Money LineTotal => UnitPrice * Pieces;

    /// <summary>
    /// Fingerprint of everything the customer was shown: number, unit price, tax contained, every part with its amounts, and the deposit. A booking
    /// carries it; when the price computed on booking has another one, the booking is refused and the new price shown.
    /// </summary>
    public string Hash => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Canonical())))[..32];

    private string Canonical()
    {
        var text = new StringBuilder("price/1\n").Append(CultureInfo.InvariantCulture, $"{Pieces}|{Number(UnitPrice)}|");
        text.Append(IncludedTaxPercent is { } tax ? Number(tax) : "before tax").Append('|').Append(Number(Deposit)).Append('\n');
        foreach (var part in Parts)
            text.Append(CultureInfo.InvariantCulture, $"{part.Code}|{part.Name}|{Number(part.PerPiece)}|{Number(part.PerLine)}\n");
        return text.ToString();
    }

    private static string Number(Money money) => $"{Number(money.Amount)} {money.Currency}";

    /// <summary>No trailing zeros, so that 1.50 and 1.5 give one fingerprint.</summary>
    private static string Number(decimal number) => number.ToString("0.############################", CultureInfo.InvariantCulture);
}
