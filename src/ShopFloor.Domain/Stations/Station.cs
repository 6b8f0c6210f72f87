using System.Text.Json.Serialization;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Stations;

/// <summary>The kinds of station.</summary>
public enum StationKind
{
    /// <summary>Hands and tools.</summary>
    Bench,

    /// <summary>Sprayed here.</summary>
    Booth,

    /// <summary>Waits here.</summary>
    Rack,

    /// <summary>Baked here.</summary>
    Oven,

    /// <summary>Pressed here.</summary>
    Press,

    /// <summary>Transfers are printed here.</summary>
    Printer,
}

/// <summary>What a station can do, by kind. Temperatures true °C, rates °C a minute, times whole seconds.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(BenchSettings), "bench")]
[JsonDerivedType(typeof(BoothSettings), "booth")]
[JsonDerivedType(typeof(RackSettings), "rack")]
[JsonDerivedType(typeof(OvenSettings), "oven")]
[JsonDerivedType(typeof(PressSettings), "press")]
[JsonDerivedType(typeof(PrinterSettings), "printer")]
public abstract record StationSettings
{
    /// <summary>What is wrong with them, beside its field; empty when sound.</summary>
    public abstract IReadOnlyList<Refusal> Faults();

    /// <summary>A fault unless the value lies in the range, ends included.</summary>
    private protected static IEnumerable<Refusal> Between(decimal value, decimal least, decimal most, string field, string name)
    {
        if (value < least || value > most)
            yield return new Refusal(
                "out-of-range",
                string.Create(CultureInfo.InvariantCulture, $"{name} is between {least} and {most}."),
                field
            );
    }
}

/// <summary>A bench.</summary>
/// <param name="Places">How many can work there at once; null: no limit.</param>
public sealed record BenchSettings(int? Places) : StationSettings
{
    /// <inheritdoc />
    public override IReadOnlyList<Refusal> Faults() => [.. Between(Places ?? 1, 1, 100, "places", "The number of places")];
}

/// <summary>A spray booth.</summary>
/// <param name="SharesAirWith">Codes of ovens whose heat reaches it; empty: the rule is off.</param>
public sealed record BoothSettings(IReadOnlyList<string> SharesAirWith) : StationSettings
{
    /// <inheritdoc />
    public override IReadOnlyList<Refusal> Faults() => [];
}

/// <summary>A rack for flash-off and cooling.</summary>
/// <param name="Width">Inner width.</param>
/// <param name="Depth">Inner depth.</param>
/// <param name="Levels">How many levels.</param>
/// <param name="Gap">Between pieces.</param>
public sealed record RackSettings(Length Width, Length Depth, int Levels, Length Gap) : StationSettings
{
    /// <inheritdoc />
    public override IReadOnlyList<Refusal> Faults() =>
        [
            .. Between(Width.Millimetres, 50, 5000, "width", "The width in mm"),
            .. Between(Depth.Millimetres, 50, 5000, "depth", "The depth in mm"),
            .. Between(Levels, 1, 100, "levels", "The number of levels"),
            .. Between(Gap.Millimetres, 0, 200, "gap", "The gap in mm"),
        ];
}

/// <summary>A heat press.</summary>
public sealed record PressSettings : StationSettings
{
    /// <summary>Platen width.</summary>
    public Length Width { get; init; }

    /// <summary>Platen depth.</summary>
    public Length Depth { get; init; }

    /// <summary>Kept free along the edge.</summary>
    public Length Margin { get; init; }

    /// <summary>Kept free between pieces.</summary>
    public Length Gap { get; init; }

    /// <summary>Thickest piece that goes in.</summary>
    public Length Thickest { get; init; }

    /// <summary>How much thicknesses in one session may differ.</summary>
    public Length ThicknessTolerance { get; init; }

    /// <summary>Lowest dial setting, °C.</summary>
    public decimal LowestCelsius { get; init; } = 100;

    /// <summary>Highest dial setting, °C.</summary>
    public decimal HighestCelsius { get; init; } = 220;

    /// <summary>Shown minus true, °C.</summary>
    public decimal ErrorCelsius { get; init; }

    /// <summary>Heating, °C a minute.</summary>
    public decimal HeatingPerMinute { get; init; } = 15;

    /// <summary>Cooling, °C a minute.</summary>
    public decimal CoolingPerMinute { get; init; } = 2;

    /// <summary>Laying up one session, seconds.</summary>
    public int LayUpSeconds { get; init; } = 60;

    /// <summary>Each piece laid up, seconds.</summary>
    public int LayUpEachSeconds { get; init; } = 15;

    /// <summary>Transfer paper with its protective sheet, mm.</summary>
    public decimal PaperMillimetres { get; init; } = (decimal)Heat.PlatenSettings.Default.PaperMm;

    /// <summary>Pad on the cold side, mm.</summary>
    public decimal PadMillimetres { get; init; } = (decimal)Heat.PlatenSettings.Default.PadMm;

    /// <summary>How well heat passes from the platen into the paper at medium pressure, W/(m²·K).</summary>
    public decimal ContactWM2K { get; init; } = (decimal)Heat.PlatenSettings.Default.ContactWM2K;

    /// <summary>For a wrap press, the round pieces that it takes: it takes no others, and has no platen. Null: a flat press.</summary>
    public WrapFit? Wrap { get; init; }

    /// <summary>True for a wrap press.</summary>
    [JsonIgnore]
    public bool Wraps => Wrap is not null;

    /// <summary>Whether it presses pieces of that form: cylinders round a wrap press, all others under a flat one.</summary>
    public bool Suits(Form form) => Wraps == (form == Form.Cylinder);

    /// <summary>Power while hot, W.</summary>
    public int Watts { get; init; } = 1800;

    /// <inheritdoc />
    public override IReadOnlyList<Refusal> Faults() =>
        [
            .. Wrap is { } wrap ? OfWrap(wrap) : OfPlaten(),
            .. Between(LowestCelsius, 20, 400, "lowest", "The lowest temperature in °C"),
            .. Between(HighestCelsius, LowestCelsius, 400, "highest", "The highest temperature in °C"),
            .. Between(ErrorCelsius, -60, 60, "error", "The temperature error in °C"),
            .. Between(HeatingPerMinute, 0.5m, 200, "heating", "Heating in °C a minute"),
            .. Between(CoolingPerMinute, 0.1m, 200, "cooling", "Cooling in °C a minute"),
            .. Between(LayUpSeconds, 1, 3600, "layUp", "Laying up in seconds"),
            .. Between(LayUpEachSeconds, 0, 600, "layUpEach", "Laying up a piece in seconds"),
            .. Between(Watts, 100, 50_000, "watts", "The power in W"),
        ];

    private IEnumerable<Refusal> OfPlaten()
    {
        List<Refusal> faults =
        [
            .. Between(Width.Millimetres, 50, 3000, "width", "The platen's width in mm"),
            .. Between(Depth.Millimetres, 50, 3000, "depth", "The platen's depth in mm"),
            .. Between(Thickest.Millimetres, 1, 300, "thickest", "The thickest piece in mm"),
            .. Between(ThicknessTolerance.Millimetres, 0, 20, "tolerance", "The thickness tolerance in mm"),
            .. Between(PaperMillimetres, 0.01m, 5, "paper", "The paper in mm"),
            .. Between(PadMillimetres, 0.1m, 50, "pad", "The pad in mm"),
            .. Between(ContactWM2K, 50, 10_000, "contact", "The contact in W/(m²·K)"),
        ];
        if (faults.Count == 0 && !Heat.PressDwell.HeatsBothAnchors(AsPlaten()))
            faults.Add(
                new Refusal(
                    "press-settings-odd",
                    "With these numbers even the usual settings would not get the coat hot: check contact and paper.",
                    "contact"
                )
            );
        return faults;
    }

    // As hot and in a room as usual.
    private Heat.PlatenSettings AsPlaten() =>
        Heat.PlatenSettings.Default with
        {
            PaperMm = (double)PaperMillimetres,
            PadMm = (double)PadMillimetres,
            ContactWM2K = (double)ContactWM2K,
        };

    private static IEnumerable<Refusal> OfWrap(WrapFit wrap) =>
        [
            .. Between(wrap.Thinnest.Millimetres, 5, 300, "thinnest", "The least diameter in mm"),
            .. Between(wrap.Widest.Millimetres, wrap.Thinnest.Millimetres, 300, "widest", "The largest diameter in mm"),
            .. Between(wrap.Tallest.Millimetres, 5, 1000, "tallest", "The largest height in mm"),
            .. Between(wrap.LeastSeconds, 1, 3600, "leastSeconds", "The shortest time in seconds"),
            .. Between(wrap.MostSeconds, wrap.LeastSeconds, 3600, "mostSeconds", "The longest time in seconds"),
        ];
}

/// <summary>A place where work is done.</summary>
public sealed class Station
{
    private Station() { }

    /// <summary>A station.</summary>
    public Station(StationId id, StationKind kind, string code, string name, StationSettings settings)
    {
        (Id, Kind, Code, Name, Settings) = (id, kind, code, name, settings);
    }

    /// <summary>Names it.</summary>
    public StationId Id { get; private set; }

    /// <summary>What kind.</summary>
    public StationKind Kind { get; private set; }

    /// <summary>Short name used in plans and on labels, e.g. <c>oven-1</c>.</summary>
    public string Code { get; private set; } = "";

    /// <summary>What people call it.</summary>
    public string Name { get; private set; } = "";

    /// <summary>What it can do.</summary>
    public StationSettings Settings { get; private set; } = new BenchSettings(null);

    /// <summary>Broken or away until then, UTC; null: usable.</summary>
    public DateTimeOffset? DownUntil { get; private set; }

    /// <summary>False when it is no longer used.</summary>
    public bool IsActive { get; private set; } = true;

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Changes name and settings; faults are named beside their fields and nothing is changed then.</summary>
    public Result<Done> Change(string name, StationSettings settings)
    {
        var faults = settings.Faults().ToList();
        if (string.IsNullOrWhiteSpace(name) || name.Length > 60)
            faults.Add(new Refusal("name-missing", "Give the station a name of at most 60 characters.", "name"));
        if (settings.GetType() != Settings.GetType())
            faults.Add(new Refusal("kind-differs", $"{Name} is a {Kind}."));
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        (Name, Settings) = (name.Trim(), settings);
        Version++;
        return default(Done);
    }

    /// <summary>Notes that it cannot be used until then; null: usable again.</summary>
    public void TakeDown(DateTimeOffset? until)
    {
        DownUntil = until;
        Version++;
    }

    /// <summary>Takes it out of use, or back.</summary>
    public void Use(bool active)
    {
        IsActive = active;
        Version++;
    }
}
