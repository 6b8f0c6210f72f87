using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>A tax rate as typed.</summary>
public sealed class TypedRate
{
    public TypedRate() { }

    public TypedRate(TaxRate rate)
    {
        (Code, Name, Category) = (rate.Code, rate.Name, rate.Kind.Category);
        (Percent, Reason) = (NumberText.Write(rate.Kind.Percent), rate.Reason?.Text ?? rate.Reason?.Code);
        From = rate.ValidFrom == DateOnly.MinValue ? "" : Day(rate.ValidFrom);
        To = rate.ValidTo is { } to ? Day(to) : "";
    }

    public string? Code { get; set; }
    public string? Name { get; set; }
    public TaxCategory Category { get; set; }
    public string? Percent { get; set; }
    public string? Reason { get; set; }
    public string? From { get; set; }
    public string? To { get; set; }

    /// <summary>The rate, or what cannot be read.</summary>
    /// <param name="number">Its place in the list, counted from 0; the fields' names end with it.</param>
    public Result<TaxRate> Read(int number)
    {
        var percent = string.IsNullOrWhiteSpace(Percent) ? 0m : NumberText.Read(Percent, $"RatePercent{number}");
        List<Refusal> faults = [.. percent.Refusals];
        if (!TryDay(From, DateOnly.MinValue, out var from))
            faults.Add(NoDay($"RateFrom{number}"));
        if (!TryDay(To, null, out var to))
            faults.Add(NoDay($"RateTo{number}"));
        if (faults.Count > 0)
            return Result<TaxRate>.Refused(faults);
        var words = Reason?.Trim() ?? "";
        var reason =
            !Category.NeedsReason() || words.Length == 0 ? null
            : words.StartsWith("VATEX-", StringComparison.Ordinal) ? new ExemptionReason(Category, words, null)
            : new ExemptionReason(Category, null, words);
        return new TaxRate(Code?.Trim() ?? "", Name?.Trim() ?? "", new TaxKind(Category, percent.Value), reason, from!.Value, to);
    }

    internal static Refusal NoDay(string field) => new("tax-day", "Write days like 2026-07-01.", field);

    internal static bool TryDay(string? text, DateOnly? whenEmpty, out DateOnly? day)
    {
        day = whenEmpty;
        if (string.IsNullOrWhiteSpace(text))
            return true;
        var read = DateOnly.TryParseExact(text.Trim(), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var found);
        day = found;
        return read;
    }

    internal static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}

/// <summary>A step of reminding as typed.</summary>
public sealed class TypedLevel(DunningLevel level, string currency)
{
    public int Level => level.Level;
    public string? Name { get; set; } = level.Name;

    public NumberEntries<DunningLevel> Numbers { get; } =
        new(
            [
                new(
                    $"Days{level.Level}",
                    "Days after the due date",
                    "days",
                    l => l.DaysLate,
                    (l, v) => l with { DaysLate = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new($"Fee{level.Level}", "Fee", currency, l => l.Fee, (l, v) => l with { Fee = v!.Value }),
                new(
                    $"Interest{level.Level}",
                    "Interest a year",
                    "%",
                    l => l.InterestPercentPerYear,
                    (l, v) => l with { InterestPercentPerYear = v!.Value }
                ),
                new(
                    $"Pay{level.Level}",
                    "Days to pay",
                    "days",
                    l => l.DaysToPay,
                    (l, v) => l with { DaysToPay = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
            ],
            level
        );

    public Result<DunningLevel> Read() => Numbers.Read().Then(l => Result<DunningLevel>.Ok(l with { Name = Name?.Trim() ?? "" }));
}

/// <summary>What is typed into the page of taxes and reminders.</summary>
public sealed class InvoiceSettingsForm(InvoiceSettings start, string currency)
{
    private TaxScheme scheme = start.Scheme;

    /// <summary>The tax system; a label as shipped follows it.</summary>
    public TaxScheme Scheme
    {
        get => scheme;
        set => (scheme, TaxLabel) = (value, InvoiceSettings.LabelAfter(TaxLabel, value));
    }

    public TaxRounding Rounding { get; set; } = start.Rounding;
    public string? TaxLabel { get; set; } = start.TaxLabel;

    /// <summary>First day of the tax system; empty: ever since.</summary>
    public string? SchemeFrom { get; set; } = start.SchemeFrom is { } from ? TypedRate.Day(from) : "";

    /// <summary>Each earlier tax system with its last day.</summary>
    public IReadOnlyList<(TaxSystem System, DateOnly Until)> Before { get; } =
    [.. start.Before.Zip(start.Before.Skip(1).Append(start.Last()), (system, next) => (system, next.From.AddDays(-1)))];

    public string? CashStep { get; set; } = NumberText.Write(start.CashStep);
    public string? Blanks { get; set; } = start.Use.Blanks;
    public string? OwnPieces { get; set; } = start.Use.OwnPieces;
    public string? Charges { get; set; } = start.Use.Charges;
    public List<TypedRate> Rates { get; } = [.. start.Rates.Select(r => new TypedRate(r))];
    public IReadOnlyList<TypedLevel> Levels { get; } = [.. start.Reminders.Select(l => new TypedLevel(l, currency))];

    /// <summary>The settings, or everything that cannot be read.</summary>
    public Result<InvoiceSettings> Read()
    {
        var rates = Rates.Select((r, i) => r.Read(i)).ToList();
        var levels = Levels.Select(l => l.Read()).ToList();
        var step = NumberText.Read(CashStep, nameof(CashStep));
        List<Refusal> faults = [.. rates.SelectMany(r => r.Refusals), .. levels.SelectMany(l => l.Refusals), .. step.Refusals];
        if (!TypedRate.TryDay(SchemeFrom, null, out var from))
            faults.Add(TypedRate.NoDay(nameof(SchemeFrom)));
        if (faults.Count > 0)
            return Result<InvoiceSettings>.Refused(faults);
        return new InvoiceSettings
        {
            SchemeFrom = from,
            Scheme = Scheme,
            Rounding = Rounding,
            TaxLabel = TaxLabel?.Trim() ?? "",
            CashStep = step.Value,
            Use = new TaxUse(Blanks?.Trim() ?? "", OwnPieces?.Trim() ?? "", Charges?.Trim() ?? ""),
            Rates = [.. rates.Select(r => r.Value)],
            Reminders = [.. levels.Select(l => l.Value)],
        };
    }
}
