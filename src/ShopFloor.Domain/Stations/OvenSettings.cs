using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Stations;

/// <summary>A shelf of an oven.</summary>
/// <param name="Width">Usable width.</param>
/// <param name="Depth">Usable depth.</param>
/// <param name="Clear">Clear height.</param>
public sealed record Shelf(Length Width, Length Depth, Length Clear);

/// <summary>An oven.</summary>
public sealed record OvenSettings : StationSettings
{
    // A whole workshop's air several times over: more is a slip of the pen (l/min typed as m³/h, say).
    private const decimal MostFreshAir = 2000;

    /// <summary>Its shelves, first is 1.</summary>
    public IReadOnlyList<Shelf> Shelves { get; init; } = [];

    /// <summary>Kept free along the edge of a shelf.</summary>
    public Length Margin { get; init; }

    /// <summary>Kept free between pieces.</summary>
    public Length Gap { get; init; }

    /// <summary>Lowest dial setting, °C.</summary>
    public decimal LowestCelsius { get; init; } = 50;

    /// <summary>Highest dial setting, °C.</summary>
    public decimal HighestCelsius { get; init; } = 230;

    /// <summary>Shown minus true, °C, as the owner measured.</summary>
    public decimal ErrorCelsius { get; init; }

    /// <summary>Heating, °C a minute.</summary>
    public decimal HeatingPerMinute { get; init; } = 10;

    /// <summary>Cooling, °C a minute.</summary>
    public decimal CoolingPerMinute { get; init; } = 3;

    /// <summary>Opening and closing for loading, seconds.</summary>
    public int LoadSeconds { get; init; } = 30;

    /// <summary>Each piece loaded, seconds.</summary>
    public int LoadEachSeconds { get; init; } = 10;

    /// <summary>Opening and closing for unloading, seconds.</summary>
    public int UnloadSeconds { get; init; } = 30;

    /// <summary>Each piece unloaded, seconds.</summary>
    public int UnloadEachSeconds { get; init; } = 10;

    /// <summary>Heater, W; null: not limiting.</summary>
    public int? HeaterWatts { get; init; }

    /// <summary>Inner volume, litres.</summary>
    public decimal VolumeLitres { get; init; } = 50;

    /// <summary>Fresh air that goes through it, as measured in the room, m³/h; null or 0: none known.</summary>
    public decimal? FreshAir { get; init; }

    /// <summary>The owner's own limit of solvent in one load, g; null: only what the air takes counts. What holds: <see cref="OvenVapour.Limit"/>.</summary>
    public decimal? VapourLimitGrams { get; init; }

    /// <summary>Counts as hot above this, °C.</summary>
    public decimal HotAboveCelsius { get; init; } = 60;

    /// <summary>Heat transfer to a piece as measured in this oven, W/(m²·K).</summary>
    public decimal HeatTransfer { get; init; } = 20;

    /// <inheritdoc />
    public override IReadOnlyList<Refusal> Faults() =>
        [
            .. Between(Shelves.Count, 1, 20, "shelves", "The number of shelves"),
            .. Shelves.SelectMany(s => Between(s.Width.Millimetres, 50, 3000, "shelves", "A shelf's width in mm")),
            .. Shelves.SelectMany(s => Between(s.Depth.Millimetres, 50, 3000, "shelves", "A shelf's depth in mm")),
            .. Shelves.SelectMany(s => Between(s.Clear.Millimetres, 5, 2000, "shelves", "A shelf's clear height in mm")),
            .. Between(LowestCelsius, 20, 400, "lowest", "The lowest temperature in °C"),
            .. Between(HighestCelsius, LowestCelsius, 500, "highest", "The highest temperature in °C"),
            .. Between(ErrorCelsius, -60, 60, "error", "The temperature error in °C"),
            .. Between(HeatingPerMinute, 0.5m, 200, "heating", "Heating in °C a minute"),
            .. Between(CoolingPerMinute, 0.1m, 200, "cooling", "Cooling in °C a minute"),
            .. Between(LoadSeconds, 1, 3600, "load", "Loading in seconds"),
            .. Between(UnloadSeconds, 1, 3600, "unload", "Unloading in seconds"),
            .. Between(LoadEachSeconds, 0, 600, "loadEach", "Loading a piece in seconds"),
            .. Between(UnloadEachSeconds, 0, 600, "unloadEach", "Unloading a piece in seconds"),
            .. Between(HeaterWatts ?? 100, 100, 100_000, "heater", "The heater in W"),
            .. Between(VolumeLitres, 1, 10_000, "volume", "The volume in litres"),
            .. Between(FreshAir ?? 0, 0, MostFreshAir, "freshAir", "The fresh air in m³/h"),
            .. Between(VapourLimitGrams ?? 0, 0, 10_000, "vapour", "Your own limit of solvent in g"),
            .. Between(HeatTransfer, 2, 200, "heatTransfer", "The heat transfer in W/(m²·K)"),
        ];
}
