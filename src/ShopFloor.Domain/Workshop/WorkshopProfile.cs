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

    /// <summary>Tax id with country letters.</summary>
    public string VatId { get; init; } = "";

    /// <summary>Account for payments.</summary>
    public string Iban { get; init; } = "";

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

    /// <summary>Share of each day's capacity kept in reserve when promising, 0 to 0.9 (common practice: 0.2, no source).</summary>
    public decimal Reserve { get; init; } = 0.2m;

    /// <summary>Room temperature, °C.</summary>
    public decimal RoomCelsius { get; init; } = 21;

    /// <summary>Minutes a printed transfer dries (common practice: 10, no source).</summary>
    public int TransferDryMinutes { get; init; } = 10;

    /// <summary>Picture beyond the face's edge, mm.</summary>
    public decimal BleedMillimetres { get; init; } = 2;

    /// <summary>Address under which people reach the program, for labels and links; empty: as the request came.</summary>
    public string PublicAddress { get; init; } = "";

    /// <summary>Diagonal of the wall screen, inch.</summary>
    public decimal WallInches { get; init; } = 55;

    /// <summary>Farthest place from which the wall is read, m.</summary>
    public decimal WallMetres { get; init; } = 4;
}
