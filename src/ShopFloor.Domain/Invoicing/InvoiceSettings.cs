namespace ShopFloor.Domain.Invoicing;

/// <summary>Which tax rate is used for what; codes of <see cref="TaxRate.Code"/>.</summary>
/// <param name="Blanks">Pieces that the workshop supplies: goods.</param>
/// <param name="OwnPieces">Work on the customer's own pieces: a service.</param>
/// <param name="Charges">Shipping and other charges.</param>
public sealed record TaxUse(string Blanks = "normal", string OwnPieces = "normal", string Charges = "normal");

/// <summary>Days on which no rate of a code holds.</summary>
/// <param name="Code">The code.</param>
/// <param name="From">The first of them.</param>
/// <param name="Until">The last of them; null: from then on.</param>
public sealed record RateGap(string Code, DateOnly From, DateOnly? Until);

/// <summary>How the owner wants documents made: rates of tax with their time, rounding of cash, reminders.</summary>
public sealed record InvoiceSettings
{
    /// <summary>The tax system.</summary>
    public TaxScheme Scheme { get; init; } = TaxScheme.Vat;

    /// <summary>Where the tax is rounded.</summary>
    public TaxRounding Rounding { get; init; } = TaxRounding.PerGroup;

    /// <summary>What the tax is called on paper.</summary>
    public string TaxLabel { get; init; } = "VAT";

    /// <summary>First day on which this tax system holds; null: ever since.</summary>
    public DateOnly? SchemeFrom { get; init; }

    /// <summary>The tax systems that held before it, by their first day.</summary>
    public IReadOnlyList<TaxSystem> Before { get; init; } = [];

    /// <summary>What a tax is called as shipped; empty where there is none.</summary>
    public static string LabelOf(TaxScheme scheme) =>
        scheme switch
        {
            TaxScheme.Vat => "VAT",
            TaxScheme.Gst => "GST",
            TaxScheme.SalesTax => "Sales tax",
            _ => "",
        };

    /// <summary>The label that goes with another tax system: one as shipped follows it, the owner's own words stay.</summary>
    public static string LabelAfter(string? label, TaxScheme next) =>
        LabelOf(next) is { Length: > 0 } proposed && Enum.GetValues<TaxScheme>().Any(s => Same(LabelOf(s), label)) ? proposed : label ?? "";

    private static bool Same(string shipped, string? label) => string.Equals(shipped, label?.Trim(), StringComparison.OrdinalIgnoreCase);

    /// <summary>The owner's rates; empty: the workshop's normal rate alone.</summary>
    public IReadOnlyList<TaxRate> Rates { get; init; } = [];

    /// <summary>Which is used for what.</summary>
    public TaxUse Use { get; init; } = new();

    /// <summary>Cash is rounded to a multiple of this; 0: to the smallest coin of the currency.</summary>
    public decimal CashStep { get; init; }

    /// <summary>Steps of reminding. As shipped: days and words are common practice, no source; no fee and no interest until the owner sets one.</summary>
    public IReadOnlyList<DunningLevel> Reminders { get; init; } =
    [new(1, "Reminder", 7, 0m, 0m, 10), new(2, "Second reminder", 21, 0m, 0m, 10), new(3, "Last reminder", 35, 0m, 0m, 7)];

    /// <summary>The rate of a code in force on a day; the workshop's normal rate where the owner keeps no list, none where there is no tax.</summary>
    /// <param name="code">Which.</param>
    /// <param name="day">Day of supply, shop-local.</param>
    /// <param name="normalPercent">The workshop's normal rate; 0 is an exempt workshop.</param>
    public Result<TaxRate> RateOn(string code, DateOnly day, decimal normalPercent) => this.On(day).RateUnder(code, day, normalPercent);

    private Result<TaxRate> RateUnder(string code, DateOnly day, decimal normalPercent) =>
        Scheme == TaxScheme.None ? Always("No tax", new TaxKind(TaxCategory.ZeroRated, 0m))
        : Rates.Count > 0 ? TaxRate.On(Rates, code, day)
        : normalPercent > 0 ? Always("Normal rate", TaxKind.Standard(normalPercent))
        : Always("Normal rate", new TaxKind(TaxCategory.Exempt, 0m)) with
        {
            Reason = new ExemptionReason(TaxCategory.Exempt, null, Exempt),
        };

    private string Exempt => Scheme == TaxScheme.Vat ? "No VAT is charged: exempt." : $"Exempt from {TaxLabel}.";

    private static TaxRate Always(string name, TaxKind kind) => new("normal", name, kind, null, DateOnly.MinValue, null);

    /// <summary>What is wrong with how prices are shown; null when nothing is. Sales tax is never in a price.</summary>
    /// <param name="pricesIncludeTax">Whether customers are shown prices with tax.</param>
    /// <param name="field">The field to say it beside.</param>
    public Refusal? ShownFault(bool pricesIncludeTax, string field) =>
        Scheme == TaxScheme.SalesTax && pricesIncludeTax
            ? new(
                "sales-tax-on-top",
                "Sales tax comes on top of the price, never in it. On the page Workshop take the tick off “Customers are shown prices with tax”; the tax system is chosen under Taxes and reminders.",
                field
            )
            : null;

    /// <summary>What is wrong, beside its field; empty when sound.</summary>
    public IReadOnlyList<Refusal> Check()
    {
        List<Refusal> found =
        [
            .. Rates.SelectMany((r, i) => Faults(r).Select(f => f with { Field = $"{FieldOf(f)}{i}" })),
            .. Dunning.Check(Reminders),
        ];
        if (TaxLabel.Trim().Length is 0 or > 20)
            found.Add(new("tax-label", "At most 20 characters, for example VAT.", nameof(TaxLabel)));
        else if (Scheme is TaxScheme.Gst or TaxScheme.SalesTax && Same("VAT", TaxLabel))
            found.Add(
                new(
                    "tax-label-vat",
                    $"VAT is another tax: papers would name the wrong one. Write {LabelOf(Scheme)}, or what yours is called.",
                    nameof(TaxLabel)
                )
            );
        if (Scheme == TaxScheme.None && Rates.Any(r => (r.ValidTo ?? DateOnly.MaxValue) >= this.Last().From))
            found.Add(
                new(
                    "tax-none",
                    "Without a tax there are no rates: take them out of the list, or let them end the day before it.",
                    nameof(Scheme)
                )
            );
        if (CashStep is not (0m or 0.05m or 0.1m or 0.5m or 1m))
            found.Add(new("cash-step", "0, 0.05, 0.10, 0.50 or 1.00.", nameof(CashStep)));
        found.AddRange(
            Endless()
                .Select(older => new Refusal(
                    "tax-rate-twice",
                    "Two rates of this code hold on the same day: let the older end the day before.",
                    $"RateTo{older}"
                ))
        );
        foreach (var (code, field) in new[] { (Use.Blanks, "Use"), (Use.OwnPieces, "UseOwn"), (Use.Charges, "UseCharges") })
            if (Rates.Count > 0 && !Rates.Any(r => r.Code == code))
                found.Add(new("tax-use", $"There is no rate '{code}' in the list.", field));
        return found;
    }

    /// <summary>The older of each two rates of a code that hold on the same day, counted from 0.</summary>
    private IEnumerable<int> Endless() =>
        Rates
            .SelectMany((a, i) => Rates.Select((b, j) => (A: a, B: b, I: i, J: j)).Skip(i + 1))
            .Where(p => Overlap(p.A, p.B))
            .Select(p => p.A.ValidFrom <= p.B.ValidFrom ? p.I : p.J)
            .Distinct();

    /// <summary>The field of a rate that a fault of it is about, without the rate's place in the list.</summary>
    private static string FieldOf(Refusal fault) =>
        fault.Field switch
        {
            nameof(TaxRate.Kind) => "RatePercent",
            nameof(TaxRate.Reason) => "RateReason",
            nameof(TaxRate.ValidTo) => "RateTo",
            _ => nameof(Rates),
        };

    /// <summary>Days on which a code of the list has no rate: between two of its rates, and after the last one of a code that is in use.</summary>
    public IReadOnlyList<RateGap> Gaps()
    {
        List<RateGap> found = [];
        foreach (var rates in Rates.GroupBy(r => r.Code, StringComparer.Ordinal))
        {
            var inTurn = rates.OrderBy(r => r.ValidFrom).ToList();
            foreach (var (rate, next) in inTurn.Zip(inTurn.Skip(1).Append(null)))
                if (
                    rate.ValidTo is { } last
                    && last < DateOnly.MaxValue
                    && next?.ValidFrom != last.AddDays(1)
                    && (next is not null || IsUsed(rates.Key))
                    && this.SystemOn(last.AddDays(1)).Scheme != TaxScheme.None
                )
                    found.Add(new RateGap(rates.Key, last.AddDays(1), next?.ValidFrom.AddDays(-1)));
        }
        return found;
    }

    private bool IsUsed(string code) => Use.Blanks == code || Use.OwnPieces == code || Use.Charges == code;

    private static IEnumerable<Refusal> Faults(TaxRate rate)
    {
        if (rate.Code.Trim().Length is 0 or > 20 || rate.Code.Any(char.IsWhiteSpace))
            yield return new("tax-code", "A code of 1 to 20 characters without blanks.");
        foreach (var fault in rate.Check())
            yield return fault;
    }

    private static bool Overlap(TaxRate a, TaxRate b) =>
        a.Code == b.Code && a.ValidFrom <= (b.ValidTo ?? DateOnly.MaxValue) && b.ValidFrom <= (a.ValidTo ?? DateOnly.MaxValue);
}
