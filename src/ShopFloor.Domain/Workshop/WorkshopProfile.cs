using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;

namespace ShopFloor.Domain.Workshop;

/// <summary>What the program must know of the workshop itself.</summary>
public sealed record WorkshopProfile
{
    /// <summary>Its name on paper and screens.</summary>
    public string Name { get; init; } = "";

    /// <summary>Street and number.</summary>
    public string Street { get; init; } = "";

    /// <summary>Post code.</summary>
    public string Postcode { get; init; } = "";

    /// <summary>Town.</summary>
    public string City { get; init; } = "";

    /// <summary>ISO 3166 two letters.</summary>
    public string Country { get; init; } = "";

    /// <summary>E-mail.</summary>
    public string Email { get; init; } = "";

    /// <summary>Phone.</summary>
    public string Phone { get; init; } = "";

    /// <summary>VAT number with country letters; empty: none.</summary>
    public string VatId { get; init; } = "";

    /// <summary>Number at the tax office, of a workshop without VAT number; empty: none.</summary>
    public string TaxNumber { get; init; } = "";

    /// <summary>Number in the trade register; empty: none.</summary>
    public string RegisterNumber { get; init; } = "";

    /// <summary>Account for payments.</summary>
    public string Iban { get; init; } = "";

    /// <summary>The account where there are no IBANs: bank, branch and number, for papers alone. Empty: none, or the IBAN names it.</summary>
    public string AccountWords { get; init; } = "";

    /// <summary>ISO 4217.</summary>
    public string Currency { get; init; } = "EUR";

    /// <summary>IANA zone in which days begin and promises are given.</summary>
    public string TimeZone { get; init; } = "Europe/Berlin";

    /// <summary>True when customers are shown prices with tax.</summary>
    public bool PricesIncludeTax { get; init; } = true;

    /// <summary>Normal tax rate, %.</summary>
    public decimal TaxPercent { get; init; } = 19;

    /// <summary>Days after which an invoice is due.</summary>
    public int DueDays { get; init; } = 14;

    /// <summary>Days that the prices of an offer hold (common practice: 14, no source).</summary>
    public int OfferDays { get; init; } = 14;

    /// <summary>Share of each day's capacity kept in reserve when promising, 0 to 0.9 (common practice: 0.2, no source).</summary>
    public decimal Reserve { get; init; } = 0.2m;

    /// <summary>Room temperature, °C.</summary>
    public decimal RoomCelsius { get; init; } = 21;

    /// <summary>Minutes a printed transfer dries (common practice: 10, no source).</summary>
    public int TransferDryMinutes { get; init; } = 10;

    /// <summary>Days a printed transfer stays good, kept dry, dark and flat (common practice: about a week, no source).</summary>
    public int TransferGoodDays { get; init; } = 7;

    /// <summary>Coldest air to spray and flash off in, °C (common practice, no source).</summary>
    public decimal SprayFromCelsius { get; init; } = 18;

    /// <summary>Warmest air to spray and flash off in, °C (common practice, no source).</summary>
    public decimal SprayToCelsius { get; init; } = 25;

    /// <summary>Dampest air to spray and flash off in, % relative humidity (common practice, no source).</summary>
    public decimal SprayMostHumidity { get; init; } = 65;

    /// <summary>Colour difference ΔE₀₀ from which a picture counts as changed by its ground (common practice: 2, no source).</summary>
    public decimal VisibleDeltaE { get; init; } = 2;

    /// <summary>Picture beyond the face's edge, mm.</summary>
    public decimal BleedMillimetres { get; init; } = 2;

    /// <summary>Address under which people reach the program, for labels and links; empty: as the request came.</summary>
    public string PublicAddress { get; init; } = "";

    /// <summary>Paper of letters and invoices: <c>A4</c> or <c>Letter</c>.</summary>
    public string LettersOn { get; init; } = "A4";

    /// <summary>Diagonal of the wall screen, inch.</summary>
    public decimal WallInches { get; init; } = 55;

    /// <summary>Farthest place from which the wall is read, m.</summary>
    public decimal WallMetres { get; init; } = 4;

    /// <summary>Limits by which pieces and pictures are judged.</summary>
    public WorkLimits Limits { get; init; } = new();

    /// <summary>What is wrong, beside its field; empty when sound.</summary>
    public IReadOnlyList<Refusal> Check()
    {
        var faults = new List<Refusal>();
        void Must(bool ok, string field, string text)
        {
            if (!ok)
                faults.Add(new Refusal("profile", text, field));
        }
        Must(Name.Trim().Length is >= 1 and <= 100, nameof(Name), "Give the workshop a name of at most 100 characters.");
        foreach (
            var (text, field) in new[]
            {
                (Street, nameof(Street)),
                (City, nameof(City)),
                (Email, nameof(Email)),
                (Phone, nameof(Phone)),
                (AccountWords, nameof(AccountWords)),
            }
        )
            Must(text.Length <= 200, field, "At most 200 characters.");
        faults.AddRange(NumberFaults());
        faults.AddRange(Limits.Check());
        Must(Codes.IsCountry(Country), nameof(Country), "The two capital letters of a country (ISO 3166), for example DE.");
        Must(
            Email.Length == 0 || Customer.LooksLikeMail(Email),
            nameof(Email),
            "This is no e-mail address. Write it like hello@shop.example."
        );
        Must(
            Iban.Length == 0 || Invoicing.Iban.IsSound(Iban),
            nameof(Iban),
            "This is no IBAN: its check digits do not fit. Look for a mistyped or missing digit."
        );
        Must(
            Codes.IsCurrency(Currency),
            nameof(Currency),
            "The three capital letters of a currency (ISO 4217), for example EUR. One whose coin has three decimals cannot be invoiced."
        );
        Must(
            TimeZoneInfo.TryFindSystemTimeZoneById(TimeZone, out _),
            nameof(TimeZone),
            "This time zone is not known. Write it like Europe/Berlin."
        );
        Must(LettersOn is "A4" or "Letter", nameof(LettersOn), "A4 or Letter.");
        Must(TaxPercent is >= 0 and <= 100, nameof(TaxPercent), "Between 0 and 100 %.");
        Must(DueDays is >= 0 and <= 365, nameof(DueDays), "Between 0 and 365 days.");
        Must(OfferDays is >= 1 and <= 365, nameof(OfferDays), "Between 1 and 365 days.");
        Must(Reserve is >= 0 and <= 0.9m, nameof(Reserve), "Between 0 and 0.9.");
        Must(RoomCelsius is >= 0 and <= 45, nameof(RoomCelsius), "Between 0 and 45 °C.");
        Must(TransferDryMinutes is >= 0 and <= 1440, nameof(TransferDryMinutes), "Between 0 and 1,440 minutes.");
        faults.AddRange(WorkFaults());
        Must(BleedMillimetres is >= 0 and <= 20, nameof(BleedMillimetres), "Between 0 and 20 mm.");
        Must(WallInches is >= 10 and <= 200, nameof(WallInches), "Between 10 and 200 inches.");
        Must(WallMetres is >= 0.5m and <= 20, nameof(WallMetres), "Between 0.5 and 20 m.");
        Must(
            PublicAddress.Length == 0 || IsWebAddress(PublicAddress),
            nameof(PublicAddress),
            "An address like https://shop.example, or nothing."
        );
        return faults;
    }

    private IEnumerable<Refusal> WorkFaults()
    {
        if (TransferGoodDays is < 1 or > 365)
            yield return new("profile", "Between 1 and 365 days.", nameof(TransferGoodDays));
        foreach (var (celsius, field) in new[] { (SprayFromCelsius, nameof(SprayFromCelsius)), (SprayToCelsius, nameof(SprayToCelsius)) })
            if (celsius is < 0 or > 45)
                yield return new("profile", "Between 0 and 45 °C.", field);
        if (SprayFromCelsius > SprayToCelsius)
            yield return new("profile", "The warmest air cannot be colder than the coldest.", nameof(SprayToCelsius));
        if (SprayMostHumidity is < 20 or > 100)
            yield return new("profile", "Between 20 and 100 %.", nameof(SprayMostHumidity));
        if ((double)VisibleDeltaE is < PictureReach.LeastThreshold or > PictureReach.MostThreshold)
            yield return new("profile", "Between 0.5 and 50.", nameof(VisibleDeltaE));
    }

    // What stands on every invoice is judged where it is typed, not when the first customer waits.
    private IEnumerable<Refusal> NumberFaults()
    {
        if (VatId.Length > 0 && (!Codes.HasCountryLetters(VatId) || VatId.Length > 20))
            yield return new(
                "profile",
                "A VAT number begins with its country's two letters and has at most 20 characters, like DE123456789. A number without letters is a tax number.",
                nameof(VatId)
            );
        foreach (var (text, field) in new[] { (TaxNumber, nameof(TaxNumber)), (RegisterNumber, nameof(RegisterNumber)) })
            if (text.Length > 80)
                yield return new("profile", "At most 80 characters.", field);
    }

    private static bool IsWebAddress(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out var uri) && (uri.Scheme is "http" or "https");
}
