using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Workshop;

/// <summary>One text of the profile.</summary>
public sealed record TextOf(
    string Name,
    string Label,
    Func<WorkshopProfile, string> Get,
    Func<WorkshopProfile, string, WorkshopProfile> With
);

/// <summary>What is typed into the workshop's page.</summary>
public sealed class ProfileForm(WorkshopProfile start)
{
    private readonly Dictionary<string, string> texts = All.ToDictionary(t => t.Name, t => t.Get(start), StringComparer.Ordinal);

    /// <summary>The texts in order.</summary>
    public static IReadOnlyList<TextOf> All { get; } =
    [
        new(nameof(WorkshopProfile.Name), "Name", p => p.Name, (p, v) => p with { Name = v }),
        new(nameof(WorkshopProfile.Street), "Street and number", p => p.Street, (p, v) => p with { Street = v }),
        new(nameof(WorkshopProfile.Postcode), "Postcode", p => p.Postcode, (p, v) => p with { Postcode = v }),
        new(nameof(WorkshopProfile.City), "Town", p => p.City, (p, v) => p with { City = v }),
        new(nameof(WorkshopProfile.Country), "Country", p => p.Country, (p, v) => p with { Country = v }),
        new(nameof(WorkshopProfile.Email), "E-mail", p => p.Email, (p, v) => p with { Email = v }),
        new(nameof(WorkshopProfile.Phone), "Phone", p => p.Phone, (p, v) => p with { Phone = v }),
        new(nameof(WorkshopProfile.VatId), "VAT number, with its country's letters", p => p.VatId, (p, v) => p with { VatId = v }),
        new(
            nameof(WorkshopProfile.TaxNumber),
            "Tax number, where there is no VAT number",
            p => p.TaxNumber,
            (p, v) => p with { TaxNumber = v }
        ),
        new(
            nameof(WorkshopProfile.RegisterNumber),
            "Register number, of a firm in the trade register",
            p => p.RegisterNumber,
            (p, v) => p with { RegisterNumber = v }
        ),
        new(nameof(WorkshopProfile.Iban), "Account (IBAN)", p => p.Iban, (p, v) => p with { Iban = v }),
        new(
            nameof(WorkshopProfile.AccountWords),
            "Account in other words (bank, branch, number), where there is no IBAN",
            p => p.AccountWords,
            (p, v) => p with { AccountWords = v }
        ),
        new(nameof(WorkshopProfile.Currency), "Currency, three letters", p => p.Currency, (p, v) => p with { Currency = v }),
        new(nameof(WorkshopProfile.TimeZone), "Time zone", p => p.TimeZone, (p, v) => p with { TimeZone = v }),
        new(nameof(WorkshopProfile.LettersOn), "Letters on", p => p.LettersOn, (p, v) => p with { LettersOn = v }),
        new(
            nameof(WorkshopProfile.PublicAddress),
            "Address of this program for labels and links",
            p => p.PublicAddress,
            (p, v) => p with { PublicAddress = v }
        ),
    ];

    /// <summary>The numbers.</summary>
    public NumberEntries<WorkshopProfile> Numbers { get; } =
        new(
            [
                new(nameof(WorkshopProfile.TaxPercent), "Tax", "%", p => p.TaxPercent, (p, v) => p with { TaxPercent = v!.Value }),
                new(
                    nameof(WorkshopProfile.DueDays),
                    "Invoices are due after",
                    "days",
                    p => p.DueDays,
                    (p, v) => p with { DueDays = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(WorkshopProfile.OfferDays),
                    "Prices of an offer hold for",
                    "days",
                    p => p.OfferDays,
                    (p, v) => p with { OfferDays = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(WorkshopProfile.Reserve),
                    "Kept in reserve when promising, 0 to 0.9",
                    "",
                    p => p.Reserve,
                    (p, v) => p with { Reserve = v!.Value }
                ),
                new(nameof(WorkshopProfile.RoomCelsius), "Room", "°C", p => p.RoomCelsius, (p, v) => p with { RoomCelsius = v!.Value }),
                new(
                    nameof(WorkshopProfile.TransferDryMinutes),
                    "Printed transfers dry",
                    "min",
                    p => p.TransferDryMinutes,
                    (p, v) => p with { TransferDryMinutes = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(WorkshopProfile.TransferGoodDays),
                    "Printed transfers stay good",
                    "days",
                    p => p.TransferGoodDays,
                    (p, v) => p with { TransferGoodDays = decimal.ToInt32(v!.Value) },
                    IsCount: true
                ),
                new(
                    nameof(WorkshopProfile.SprayFromCelsius),
                    "Coldest air to spray in",
                    "°C",
                    p => p.SprayFromCelsius,
                    (p, v) => p with { SprayFromCelsius = v!.Value }
                ),
                new(
                    nameof(WorkshopProfile.SprayToCelsius),
                    "Warmest air to spray in",
                    "°C",
                    p => p.SprayToCelsius,
                    (p, v) => p with { SprayToCelsius = v!.Value }
                ),
                new(
                    nameof(WorkshopProfile.SprayMostHumidity),
                    "Dampest air to spray in",
                    "%",
                    p => p.SprayMostHumidity,
                    (p, v) => p with { SprayMostHumidity = v!.Value }
                ),
                new(
                    nameof(WorkshopProfile.VisibleDeltaE),
                    "Colour difference that customers are told of",
                    "ΔE₀₀",
                    p => p.VisibleDeltaE,
                    (p, v) => p with { VisibleDeltaE = v!.Value }
                ),
                new(
                    nameof(WorkshopProfile.BleedMillimetres),
                    "Picture beyond the edge",
                    "mm",
                    p => p.BleedMillimetres,
                    (p, v) => p with { BleedMillimetres = v!.Value }
                ),
                new(
                    nameof(WorkshopProfile.WallInches),
                    "Wall screen, diagonal",
                    "inch",
                    p => p.WallInches,
                    (p, v) => p with { WallInches = v!.Value }
                ),
                new(
                    nameof(WorkshopProfile.WallMetres),
                    "Wall is read from",
                    "m",
                    p => p.WallMetres,
                    (p, v) => p with { WallMetres = v!.Value }
                ),
            ],
            start
        );

    /// <summary>The limits.</summary>
    public NumberEntries<WorkLimits> Limits { get; } = new(LimitNumbers.All, start.Limits);

    /// <summary>True when customers are shown prices with tax.</summary>
    public bool PricesIncludeTax { get; set; } = start.PricesIncludeTax;

    /// <summary>A text by its name.</summary>
    public string this[string name]
    {
        get => texts[name];
        set => texts[name] = value;
    }

    /// <summary>The profile as typed, or the numbers that cannot be read.</summary>
    public Result<WorkshopProfile> Read()
    {
        var (numbers, limits) = (Numbers.Read(), Limits.Read());
        return numbers.IsOk && limits.IsOk
            ? All.Aggregate(numbers.Value, (now, t) => t.With(now, texts[t.Name].Trim())) with
            {
                PricesIncludeTax = PricesIncludeTax,
                Limits = limits.Value,
            }
            : Result<WorkshopProfile>.Refused([.. numbers.Refusals, .. limits.Refusals]);
    }
}
