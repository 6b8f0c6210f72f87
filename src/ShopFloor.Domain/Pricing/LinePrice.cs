using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Pricing;

/// <summary>A price set by a person instead of the computed one.</summary>
/// <param name="UnitPrice">As shown to the customer, at least zero, in the rate card's currency.</param>
/// <param name="Reason">Why; 3 to 500 characters.</param>
public sealed record PriceOverride(Money UnitPrice, string Reason)
{
    private const string Words = "Price set by hand: ";

    /// <summary>The part's name among the parts of a price.</summary>
    public string Name => Words + Reason.Trim();

    /// <summary>The reason that a part's name was made of.</summary>
    public static string ReasonIn(string name) => name.StartsWith(Words, StringComparison.Ordinal) ? name[Words.Length..] : name;
}

/// <summary>A line to be priced.</summary>
/// <param name="Work">What the line needs.</param>
/// <param name="Rates">The workshop's rates.</param>
/// <param name="Rule">How cost becomes price.</param>
/// <param name="Rush">Wanted before its turn.</param>
/// <param name="CustomerGroup">Code of the customer's group, or null.</param>
/// <param name="IncludedTaxPercent">The tax that the shown price contains, 0 to 100; null when prices are shown before tax.</param>
/// <param name="Override">A price set by hand, or null.</param>
public sealed record PriceRequest(
    LineWork Work,
    RateCard Rates,
    PriceRule Rule,
    bool Rush = false,
    string? CustomerGroup = null,
    decimal? IncludedTaxPercent = null,
    PriceOverride? Override = null
);

/// <summary>
/// Makes the price of a line: cost, profit, discount by number, discount of the customer's group, rush, minimum, tax contained, rounding of the
/// unit price, price set by hand; in this order, so the minimum holds after all discounts.
/// </summary>
public static class LinePrice
{
    /// <summary>Computes the price.</summary>
    /// <returns>The price with its parts, or everything that is wrong with the request.</returns>
    public static Result<PriceBreakdown> Compute(PriceRequest request)
    {
        IReadOnlyList<Refusal> refusals = [.. request.Rule.Check(), .. CheckRequest(request)];
        var cost = LineCost.Of(request.Work, request.Rates);
        return refusals.Count > 0 || !cost.IsOk
            ? Result<PriceBreakdown>.Refused([.. refusals, .. cost.Refusals])
            : Compute(request, cost.Value);
    }

    private static PriceBreakdown Compute(PriceRequest request, LineCost cost)
    {
        var pieces = request.Work.Pieces;
        List<ExactPart> parts = [.. cost.Parts];
        AddRule(parts, request, cost.Total);
        AddTax(parts, request.IncludedTaxPercent);
        var unit = UnitPrice(parts.Sum(p => p.Amount), request);
        AddRounding(parts, unit * pieces);
        if (request.Override is { } byHand)
        {
            parts.Add(new("override", byHand.Name, (byHand.UnitPrice.Amount - unit) * pieces));
            unit = byHand.UnitPrice.Amount;
        }
        var currency = request.Rates.Currency;
        var beforeTax = unit * pieces / (1m + ((request.IncludedTaxPercent ?? 0m) / 100m));
        return new PriceBreakdown(
            pieces,
            new Money(unit, currency),
            request.IncludedTaxPercent,
            Visible(parts, unit, pieces, currency),
            new Money(cost.Total, currency).Rounded(),
            beforeTax < cost.Total,
            new Money(unit * pieces * request.Rule.DepositPercent / 100m, currency).Rounded(),
            request.Rates.Code,
            request.Rule.Code
        );
    }

    private static void AddRule(List<ExactPart> parts, PriceRequest request, decimal cost)
    {
        var rule = request.Rule;
        var share = rule.ProfitPercent / 100m;
        parts.Add(new("profit", "Profit", rule.Profit == ProfitKind.MarkUp ? cost * share : cost * share / (1m - share)));
        if (rule.StepFor(request.Work.Pieces) is { DiscountPercent: > 0 } step)
            AddPercent(parts, "quantity", $"Discount from {step.FromPieces} pieces", -step.DiscountPercent);
        if (rule.DiscountFor(request.CustomerGroup) is { DiscountPercent: > 0 } group)
            AddPercent(parts, "group", $"Discount {group.Name}", -group.DiscountPercent);
        if (request.Rush && rule.RushPercent > 0)
            AddPercent(parts, "rush", "Rush", rule.RushPercent);
        var short_ = rule.MinimumPerLine.Amount - parts.Sum(p => p.Amount);
        if (short_ > 0)
            parts.Add(new("minimum", "Up to the smallest price", short_));
    }

    private static void AddTax(List<ExactPart> parts, decimal? percent)
    {
        if (percent is > 0)
            AddPercent(parts, "tax", string.Create(CultureInfo.InvariantCulture, $"Tax {percent:0.####} %"), percent.Value);
    }

    private static void AddPercent(List<ExactPart> parts, string code, string name, decimal percent) =>
        parts.Add(new(code, name, parts.Sum(p => p.Amount) * percent / 100m));

    /// <summary>To the nearest multiple of the rule's step; upwards where the nearest would fall below the minimum.</summary>
    private static decimal UnitPrice(decimal line, PriceRequest request)
    {
        var step = request.Rule.RoundUnitPriceTo;
        var steps = line / request.Work.Pieces / step;
        var unit = Money.Round(steps, 0) * step;
        var atLeast = request.Rule.MinimumPerLine.Amount * (1m + ((request.IncludedTaxPercent ?? 0m) / 100m));
        return unit * request.Work.Pieces < atLeast ? Math.Ceiling(atLeast / request.Work.Pieces / step) * step : unit;
    }

    private static void AddRounding(List<ExactPart> parts, decimal lineTotal)
    {
        var rounding = lineTotal - parts.Sum(p => p.Amount);
        if (rounding != 0)
            parts.Add(new("rounding", "Rounded price", rounding));
    }

    private static List<PricePart> Visible(List<ExactPart> parts, decimal unit, int pieces, string currency)
    {
        var digits = Money.MinorDigits(currency);
        // Division leaves a last digit that is off by less than 1e-20: cut off, so that it cannot turn into a coin.
        var perPiece = Apportion.ByLargestRemainder([.. parts.Select(p => Math.Round(p.Amount / pieces, 12))], unit, digits);
        var perLine = Apportion.ByLargestRemainder([.. parts.Select(p => Math.Round(p.Amount, 12))], unit * pieces, digits);
        return
        [
            .. parts
                .Select(
                    (p, i) =>
                        new PricePart(p.Code, p.Name, new Money(perPiece[i], currency), new Money(perLine[i], currency)) { Basis = p.Basis }
                )
                .Where(p => p.Code is not "rounding" || p.PerPiece.Amount != 0 || p.PerLine.Amount != 0),
        ];
    }

    private static IEnumerable<Refusal> CheckRequest(PriceRequest request)
    {
        var currency = request.Rates.Currency;
        if (!string.Equals(request.Rule.MinimumPerLine.Currency, currency, StringComparison.Ordinal))
            yield return new(
                "currency-mixed",
                $"The price rule must be in {currency}, the currency of the rates.",
                nameof(PriceRule.MinimumPerLine)
            );
        if (request.IncludedTaxPercent is < 0 or > 100)
            yield return new("tax-percent", "Tax contained in a price is between 0 and 100 %.", nameof(request.IncludedTaxPercent));
        if (request.Override is not { } byHand)
            yield break;
        if (
            byHand.UnitPrice.Amount is < 0 or > 1_000_000
            || byHand.UnitPrice.Rounded() != byHand.UnitPrice
            || byHand.UnitPrice.Currency != currency
        )
            yield return new(
                "override-price",
                $"A price set by hand is a whole number of coins between 0 and 1,000,000 {currency}.",
                nameof(byHand.UnitPrice)
            );
        if (byHand.Reason.Trim().Length is < 3 or > 500)
            yield return new("override-reason", "Say why the price is set by hand, in 3 to 500 characters.", nameof(byHand.Reason));
    }
}
