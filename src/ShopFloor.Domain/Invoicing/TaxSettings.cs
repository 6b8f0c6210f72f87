namespace ShopFloor.Domain.Invoicing;

/// <summary>The tax system a workshop lives under.</summary>
public enum TaxScheme
{
    /// <summary>Value added tax of the European kind; only here an EN 16931 invoice can be exported.</summary>
    Vat,

    /// <summary>Goods and services tax, e.g. Australia, New Zealand.</summary>
    Gst,

    /// <summary>Sales tax, always on top of the price, e.g. the United States.</summary>
    SalesTax,

    /// <summary>No tax at all.</summary>
    None,
}

/// <summary>Where the tax is rounded.</summary>
public enum TaxRounding
{
    /// <summary>Once for each category and rate, as EN 16931 asks (BR-CO-17).</summary>
    PerGroup,

    /// <summary>On each line, as some sales tax laws allow.</summary>
    PerLine,
}

/// <summary>Why no tax is charged in a category.</summary>
/// <param name="Category">The category.</param>
/// <param name="Code">Code of the VATEX list (BT-121), e.g. <c>VATEX-EU-AE</c>, or null.</param>
/// <param name="Text">Reason in words (BT-120), or null when the code is enough.</param>
public sealed record ExemptionReason(TaxCategory Category, string? Code, string? Text);

/// <summary>A rate as the owner keeps it, valid for a time. An issued document holds the values, never a link to it.</summary>
/// <param name="Code">Stable name, e.g. <c>normal</c>; the rates that follow one another share it.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Kind">Category and percent.</param>
/// <param name="Reason">Why no tax is charged, for the categories that need it; else null.</param>
/// <param name="ValidFrom">First day.</param>
/// <param name="ValidTo">Last day, or null while it lasts.</param>
public sealed record TaxRate(string Code, string Name, TaxKind Kind, ExemptionReason? Reason, DateOnly ValidFrom, DateOnly? ValidTo)
{
    /// <summary>The rate of a code in force on a day. The day is that of the supply, not of the invoice.</summary>
    /// <returns>The rate, or a refusal when none or more than one is in force.</returns>
    public static Result<TaxRate> On(IEnumerable<TaxRate> rates, string code, DateOnly day)
    {
        var inForce = rates
            .Where(r =>
                string.Equals(r.Code, code, StringComparison.Ordinal) && r.ValidFrom <= day && (r.ValidTo is null || day <= r.ValidTo)
            )
            .ToList();
        var when = day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        return inForce switch
        {
            [var one] => one,
            [] => new Refusal("no-tax-rate", $"No tax rate '{code}' is in force on {when}: enter one, or choose another."),
            _ => new Refusal(
                "tax-rate-twice",
                $"{inForce.Count} tax rates '{code}' are in force on {when}: let the older one end the day before."
            ),
        };
    }

    /// <summary>What is wrong with the rate; empty when nothing is. Codes are the rule ids of EN 16931 where it has the rule.</summary>
    public IReadOnlyList<Refusal> Check()
    {
        List<Refusal> found = [];
        if (Kind.IsTaxed && Kind.Percent is <= 0 or > 100)
            found.Add(
                new(
                    "BR-S-05",
                    "A taxed rate is above 0 and at most 100 %. For 0 % choose zero rated, exempt or another category.",
                    nameof(Kind)
                )
            );
        if (!Kind.IsTaxed && Kind.Percent != 0)
            found.Add(new($"BR-{Kind.Category.RulePart()}-05", "In this category no tax is charged: the rate is 0.", nameof(Kind)));
        if (Kind.Category.NeedsReason() && Reason is not { } reason)
            found.Add(new($"BR-{Kind.Category.RulePart()}-10", "Say why no tax is charged: it must stand on the invoice.", nameof(Reason)));
        else if (Kind.Category.NeedsReason() && string.IsNullOrWhiteSpace(Reason!.Code) && string.IsNullOrWhiteSpace(Reason.Text))
            found.Add(new($"BR-{Kind.Category.RulePart()}-10", "Say why no tax is charged: it must stand on the invoice.", nameof(Reason)));
        if (ValidTo < ValidFrom)
            found.Add(new("valid-to", "The last day is before the first.", nameof(ValidTo)));
        return found;
    }
}

/// <summary>How documents are made: fixed by the owner once, copied into every document.</summary>
/// <param name="Scheme">The tax system.</param>
/// <param name="Label">What the tax is called on paper, e.g. <c>VAT</c>.</param>
/// <param name="Currency">ISO 4217.</param>
/// <param name="PricesIncludeTax">Whether prices to customers are shown with tax.</param>
/// <param name="Rounding">Where the tax is rounded.</param>
/// <param name="CashStep">Cash payments are rounded to a multiple of this; 0 for no rounding.</param>
public sealed record TaxSettings(
    TaxScheme Scheme,
    string Label,
    string Currency,
    bool PricesIncludeTax,
    TaxRounding Rounding = TaxRounding.PerGroup,
    decimal CashStep = 0m
)
{
    /// <summary>Whether documents made so can be exported as EN 16931 invoices.</summary>
    public bool AllowsEInvoice => Scheme == TaxScheme.Vat && Rounding == TaxRounding.PerGroup;
}
