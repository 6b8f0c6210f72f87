using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Workshop;
using ShopFloor.Domain.Yield;

namespace ShopFloor.Web.Office.Settings;

/// <summary>The dated settings as they hold at one instant; shipped values where the owner has set none.</summary>
public sealed record CurrentSettings
{
    public WorkshopProfile Profile { get; init; } = new();
    public WorkshopLogo Logo { get; init; } = new();
    public LetterTexts LetterTexts { get; init; } = new();
    public RateCard Rates { get; init; } = ShippedRates("EUR");
    public PriceRule Rule { get; init; } = ShippedRule("EUR");
    public PriceInputs Inputs { get; init; } = new();
    public ShopFloor.Planning.Exchange.Weights Weights { get; init; } = ShopFloor.Planning.Exchange.Weights.Default;
    public IReadOnlyList<ClosedDay> ClosedDays { get; init; } = [];
    public IReadOnlyList<Absence> Absences { get; init; } = [];
    public IReadOnlyList<DayHours> DayHours { get; init; } = [];
    public IReadOnlyList<Season> Seasons { get; init; } = [];
    public IReadOnlyDictionary<string, MaterialSheet> Materials { get; init; } = Shipped();
    public MailSettings Mail { get; init; } = new();
    public InvoiceSettings Invoices { get; init; } = new();
    public KeepingTimes Keeping { get; init; } = new();

    /// <summary>Settings read from the same rows have the same stamp.</summary>
    public string Stamp { get; private init; } = "";

    /// <summary>The version of each key that was ever set; a page hands it to <see cref="ShopFloor.Web.Commands.Asked.HavingSeen"/>.</summary>
    public IReadOnlyDictionary<string, Guid> Versions { get; private init; } = new Dictionary<string, Guid>();

    /// <summary>Names of the shipped pages that the owner has looked through, see <c>Office/Today/FirstSteps.cs</c>.</summary>
    public IReadOnlyList<string> LookedThrough { get; init; } = [];

    /// <summary>What the workshop's own test pieces have shown.</summary>
    public IReadOnlyList<MaterialTest> Tests { get; init; } = [];

    /// <summary>What the workshop measured of itself; used where <see cref="PriceInputs.UseMeasured"/> says so.</summary>
    public MeasuredShop Measured { get; init; } = new();

    /// <summary>Chance of spoiling a piece of a finish on a material: measured where there is enough, else the usual one.</summary>
    public decimal LossOf(Finish finish, string material) =>
        (Inputs.UseMeasured ? Measured.Loss(finish, material) : null) ?? Inputs.UsualLoss;

    /// <summary>The steps with the workshop's own minutes where they are measured and wanted.</summary>
    public IReadOnlyList<RecipeStep> Timed(Finish finish, IReadOnlyList<RecipeStep> steps) =>
        Inputs.UseMeasured ? Measured.Apply(finish, steps) : steps;

    /// <summary>True when the shop is closed on that day.</summary>
    public bool IsClosed(DateOnly day) => ClosedDays.Any(c => c.Day == day);

    /// <summary>True when the person does not work on that day.</summary>
    /// <param name="person">Code of the person.</param>
    /// <param name="day">Shop-local.</param>
    public bool IsAway(string person, DateOnly day) => Absences.Any(a => a.Person == person && a.Covers(day));

    /// <summary>When somebody works on a day: the hours of that one day where it has its own, else those of their week; none while the shop is
    /// closed or they are away.</summary>
    /// <param name="person">Who.</param>
    /// <param name="day">Shop-local.</param>
    public IEnumerable<Shift> ShiftsOn(Person person, DateOnly day) =>
        IsClosed(day) || IsAway(person.Code, day) ? []
        : DayHours.FirstOrDefault(h => h.Day == day && h.Person == person.Code) is { } own ? own.Shifts
        : person.Shifts.Where(s => s.Day == day.DayOfWeek);

    /// <summary>The shop's zone.</summary>
    public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(Profile.TimeZone);

    /// <summary>The shop's day at an instant.</summary>
    public DateOnly Day(DateTimeOffset at) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(at, Zone).DateTime);

    /// <summary>These settings under the tax system that holds on a day.</summary>
    /// <param name="day">Shop-local.</param>
    public CurrentSettings TaxedOn(DateOnly day) => this with { Invoices = Invoices.On(day) };

    /// <summary>The tax in force on a day, in percent: by the owner's list of rates, or the workshop's normal rate where no list is kept or it has none for that day.</summary>
    /// <param name="isOwn">Work on a customer's own piece; else a blank of the workshop.</param>
    /// <param name="day">Shop-local.</param>
    public decimal TaxPercentOf(bool isOwn, DateOnly day)
    {
        var rate = Invoices.RateOn(isOwn ? Invoices.Use.OwnPieces : Invoices.Use.Blanks, day, Profile.TaxPercent);
        return rate.IsOk ? rate.Value.Kind.Percent : Profile.TaxPercent;
    }

    /// <summary>The tax on charges that is in force on a day, in percent, as <see cref="TaxPercentOf"/>.</summary>
    public decimal ChargePercentOn(DateOnly day) =>
        Invoices.RateOn(Invoices.Use.Charges, day, Profile.TaxPercent) is { IsOk: true } rate
            ? rate.Value.Kind.Percent
            : Profile.TaxPercent;

    /// <summary>A material by key; the sheet of the unknown for a key nobody knows.</summary>
    public MaterialSheet Material(string key) => Materials.GetValueOrDefault(key) ?? ShippedMaterials.Unknown;

    /// <summary>Reads what holds at that instant.</summary>
    public static async Task<CurrentSettings> LoadAsync(ShopContext context, DateTimeOffset at, CancellationToken cancel)
    {
        var rows = await Holding(context, at).OrderBy(s => s.Key).ToListAsync(cancel);
        var tests = await context.MaterialTests.AsNoTracking().Where(t => t.At <= at).ToListAsync(cancel);
        // A verdict can be taken back and given anew: their number alone says too little.
        var last = tests.OrderBy(t => t.At).ThenBy(t => t.Id).LastOrDefault()?.Id;
        return Of(rows) with { Tests = tests, Stamp = $"{string.Join(' ', rows.Select(r => $"{r.Id:N}"))} {tests.Count} {last:N}" };
    }

    /// <summary>
    /// The version of each key that holds at an instant; of two that begin at the same one, the later id. Each is looked up in the index, so that the
    /// versions of many years cost nothing.
    /// </summary>
    internal static IQueryable<DatedSetting> Holding(ShopContext context, DateTimeOffset at)
    {
        var holding = context
            .Settings.Where(s => s.Key != SettingKeys.ClockSeen)
            .Select(s => s.Key)
            .Distinct()
            .Select(key =>
                context
                    .Settings.Where(s => s.Key == key && s.From <= at)
                    .OrderByDescending(s => s.From)
                    .ThenByDescending(s => s.Id)
                    .Select(s => s.Id)
                    .FirstOrDefault()
            );
        return context.Settings.AsNoTracking().Where(s => holding.Contains(s.Id));
    }

    /// <summary>What these versions say, the later before the earlier.</summary>
    /// <param name="rows">In order of their begin.</param>
    internal static CurrentSettings Of(IEnumerable<DatedSetting> rows)
    {
        var latest = new Dictionary<string, string>(StringComparer.Ordinal);
        var versions = new Dictionary<string, Guid>(StringComparer.Ordinal);
        foreach (var row in rows)
            (latest[row.Key], versions[row.Key]) = (row.Json, row.Id);
        var profile = Read(latest, SettingKeys.Profile, new WorkshopProfile());
        var rule = Read(latest, SettingKeys.PriceRule, ShippedRule(profile.Currency));
        return new CurrentSettings
        {
            Profile = profile,
            Logo = Read(latest, SettingKeys.Logo, new WorkshopLogo()),
            LetterTexts = Read(latest, SettingKeys.LetterTexts, new LetterTexts()),
            Rates = Read(latest, SettingKeys.Rates, ShippedRates(profile.Currency)),
            // Shipped in tenths, and earlier versions let them stand where the currency has none: no price could be made.
            Rule = rule.In(rule.MinimumPerLine.Currency),
            Inputs = Read(latest, SettingKeys.PriceInputs, new PriceInputs()),
            Weights = Read(latest, SettingKeys.Weights, ShopFloor.Planning.Exchange.Weights.Default),
            ClosedDays = Read(latest, SettingKeys.ClosedDays, (IReadOnlyList<ClosedDay>)[]),
            Absences = Read(latest, SettingKeys.Absences, (IReadOnlyList<Absence>)[]),
            DayHours = Read(latest, SettingKeys.DayHours, (IReadOnlyList<DayHours>)[]),
            Seasons = Read(latest, SettingKeys.Seasons, (IReadOnlyList<Season>)[]),
            Materials = WithEdits(latest),
            Measured = Read(latest, SettingKeys.Measured, new MeasuredShop()),
            Mail = Read(latest, SettingKeys.Mail, new MailSettings()),
            Invoices = Read(latest, SettingKeys.Invoices, new InvoiceSettings()),
            Keeping = Read(latest, SettingKeys.Keeping, new KeepingTimes()),
            LookedThrough = Read(latest, SettingKeys.LookedThrough, (IReadOnlyList<string>)[]),
            Versions = versions,
        };
    }

    private static T Read<T>(Dictionary<string, string> latest, string key, T shipped) =>
        latest.TryGetValue(key, out var json) ? JsonSerializer.Deserialize<T>(json, JsonForms.Default) ?? shipped : shipped;

    private static Dictionary<string, MaterialSheet> WithEdits(Dictionary<string, string> latest)
    {
        var all = Shipped();
        foreach (var (key, json) in latest)
            if (key.StartsWith(SettingKeys.MaterialPrefix, StringComparison.Ordinal))
                if (JsonSerializer.Deserialize<MaterialSheet>(json, JsonForms.Default) is { } sheet)
                    all[sheet.Key] = sheet;
        return all;
    }

    private static Dictionary<string, MaterialSheet> Shipped() => ShippedMaterials.All.ToDictionary(m => m.Key, StringComparer.Ordinal);

    /// <summary>Rates a new workshop begins with: common practice, no source, to be replaced by the owner's own.</summary>
    private static RateCard ShippedRates(string currency) =>
        new(
            "shipped",
            DateOnly.MinValue,
            new Money(36, currency),
            new Money(0.32m, currency),
            [new MachineRate("oven", new Money(2.4m, currency)), new MachineRate("press", new Money(3.2m, currency))],
            12
        );

    /// <summary>The rule a new workshop begins with: common practice, no source.</summary>
    private static PriceRule ShippedRule(string currency) =>
        new(
            "shipped",
            DateOnly.MinValue,
            ProfitKind.Margin,
            35,
            new Money(12, currency),
            30,
            [new QuantityStep(5, 5), new QuantityStep(20, 12), new QuantityStep(50, 18)],
            [],
            30,
            0.10m
        );
}
