using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stations;

/// <summary>The numbers of each kind of station that the owner edits.</summary>
public static class StationNumbers
{
    /// <summary>The numbers of these settings.</summary>
    public static IReadOnlyList<NumberOf<StationSettings>> Of(StationSettings settings) =>
        settings switch
        {
            BenchSettings => [Number<BenchSettings>("places", "Places", "", s => s.Places, (s, v) => s with { Places = (int?)v }, true)],
            RackSettings => Rack,
            OvenSettings oven => [.. Oven, .. Enumerable.Range(0, oven.Shelves.Count).SelectMany(Shelf)],
            PressSettings { Wraps: true } => Wrap,
            PressSettings => [.. Platen, .. Press],
            PrinterSettings => Printer,
            _ => [],
        };

    /// <summary>A word on a number that is not plain by its name.</summary>
    public static string? Hint(string name) =>
        name switch
        {
            "freshAir" =>
                "Air speed at the inlet or exhaust, in m/s, times the opening, in m², times 3600. What a fan could move does not count. Empty: none known.",
            "error" => "By how much it shows more than a thermometer inside; with a minus when it shows less.",
            "heating" => "Empty and in the middle of its range, by a thermometer inside.",
            "heater" => "From its plate. It says how long a heavy load takes to get hot; empty: it limits nothing.",
            "heatTransfer" => "How fast its air warms a piece: measured once with a metal block and a thermometer.",
            "vapour" => "Empty: what the oven's air takes. A higher figure than that changes nothing.",
            _ => null,
        };

    private static IReadOnlyList<NumberOf<StationSettings>> Rack { get; } =
    [
        Number<RackSettings>("width", "Width", "mm", s => s.Width.Millimetres, (s, v) => s with { Width = Mm(v) }),
        Number<RackSettings>("depth", "Depth", "mm", s => s.Depth.Millimetres, (s, v) => s with { Depth = Mm(v) }),
        Number<RackSettings>("levels", "Levels", "", s => s.Levels, (s, v) => s with { Levels = Whole(v) }),
        Number<RackSettings>("gap", "Gap between pieces", "mm", s => s.Gap.Millimetres, (s, v) => s with { Gap = Mm(v) }),
    ];

    private static IReadOnlyList<NumberOf<StationSettings>> Oven { get; } =
    [
        Number<OvenSettings>("error", "Shows too much by", "°C", s => s.ErrorCelsius, (s, v) => s with { ErrorCelsius = v!.Value }),
        Number<OvenSettings>("lowest", "Lowest setting", "°C", s => s.LowestCelsius, (s, v) => s with { LowestCelsius = v!.Value }),
        Number<OvenSettings>("highest", "Highest setting", "°C", s => s.HighestCelsius, (s, v) => s with { HighestCelsius = v!.Value }),
        Number<OvenSettings>(
            "heating",
            "Heats up",
            "°C a minute",
            s => s.HeatingPerMinute,
            (s, v) => s with { HeatingPerMinute = v!.Value }
        ),
        Number<OvenSettings>(
            "cooling",
            "Cools down",
            "°C a minute",
            s => s.CoolingPerMinute,
            (s, v) => s with { CoolingPerMinute = v!.Value }
        ),
        Number<OvenSettings>("load", "Loading", "s", s => s.LoadSeconds, (s, v) => s with { LoadSeconds = Whole(v) }),
        Number<OvenSettings>(
            "loadEach",
            "Loading, each piece",
            "s",
            s => s.LoadEachSeconds,
            (s, v) => s with { LoadEachSeconds = Whole(v) }
        ),
        Number<OvenSettings>("unload", "Unloading", "s", s => s.UnloadSeconds, (s, v) => s with { UnloadSeconds = Whole(v) }),
        Number<OvenSettings>(
            "unloadEach",
            "Unloading, each piece",
            "s",
            s => s.UnloadEachSeconds,
            (s, v) => s with { UnloadEachSeconds = Whole(v) }
        ),
        Number<OvenSettings>("margin", "Margin along the edge", "mm", s => s.Margin.Millimetres, (s, v) => s with { Margin = Mm(v) }),
        Number<OvenSettings>("gap", "Gap between pieces", "mm", s => s.Gap.Millimetres, (s, v) => s with { Gap = Mm(v) }),
        Number<OvenSettings>("heater", "Heater", "W", s => s.HeaterWatts, (s, v) => s with { HeaterWatts = (int?)v }, true),
        Number<OvenSettings>("volume", "Inner volume", "l", s => s.VolumeLitres, (s, v) => s with { VolumeLitres = v!.Value }),
        Number<OvenSettings>("freshAir", "Fresh air, measured", "m³/h", s => s.FreshAir, (s, v) => s with { FreshAir = v }, true),
        Number<OvenSettings>(
            "vapour",
            "Your own limit of solvent in a load",
            "g",
            s => s.VapourLimitGrams,
            (s, v) => s with { VapourLimitGrams = v },
            true
        ),
        Number<OvenSettings>("hot", "Counts as hot above", "°C", s => s.HotAboveCelsius, (s, v) => s with { HotAboveCelsius = v!.Value }),
        Number<OvenSettings>(
            "heatTransfer",
            "Heat transfer, measured",
            "W/(m²·K)",
            s => s.HeatTransfer,
            (s, v) => s with { HeatTransfer = v!.Value }
        ),
    ];

    private static IReadOnlyList<NumberOf<StationSettings>> Platen { get; } =
    [
        Number<PressSettings>("width", "Platen width", "mm", s => s.Width.Millimetres, (s, v) => s with { Width = Mm(v) }),
        Number<PressSettings>("depth", "Platen depth", "mm", s => s.Depth.Millimetres, (s, v) => s with { Depth = Mm(v) }),
        Number<PressSettings>("margin", "Margin along the edge", "mm", s => s.Margin.Millimetres, (s, v) => s with { Margin = Mm(v) }),
        Number<PressSettings>("gap", "Gap between pieces", "mm", s => s.Gap.Millimetres, (s, v) => s with { Gap = Mm(v) }),
        Number<PressSettings>("thickest", "Thickest piece", "mm", s => s.Thickest.Millimetres, (s, v) => s with { Thickest = Mm(v) }),
        Number<PressSettings>(
            "tolerance",
            "Thickness may differ by",
            "mm",
            s => s.ThicknessTolerance.Millimetres,
            (s, v) => s with { ThicknessTolerance = Mm(v) }
        ),
        Number<PressSettings>(
            "paper",
            "Paper and protective sheet",
            "mm",
            s => s.PaperMillimetres,
            (s, v) => s with { PaperMillimetres = v!.Value }
        ),
        Number<PressSettings>("pad", "Pad on the cold side", "mm", s => s.PadMillimetres, (s, v) => s with { PadMillimetres = v!.Value }),
        Number<PressSettings>(
            "contact",
            "Contact from platen to paper",
            "W/(m²·K)",
            s => s.ContactWM2K,
            (s, v) => s with { ContactWM2K = v!.Value }
        ),
    ];

    private static IReadOnlyList<NumberOf<StationSettings>> Press { get; } =
    [
        Number<PressSettings>("error", "Shows too much by", "°C", s => s.ErrorCelsius, (s, v) => s with { ErrorCelsius = v!.Value }),
        Number<PressSettings>("lowest", "Lowest setting", "°C", s => s.LowestCelsius, (s, v) => s with { LowestCelsius = v!.Value }),
        Number<PressSettings>("highest", "Highest setting", "°C", s => s.HighestCelsius, (s, v) => s with { HighestCelsius = v!.Value }),
        Number<PressSettings>(
            "heating",
            "Heats up",
            "°C a minute",
            s => s.HeatingPerMinute,
            (s, v) => s with { HeatingPerMinute = v!.Value }
        ),
        Number<PressSettings>(
            "cooling",
            "Cools down",
            "°C a minute",
            s => s.CoolingPerMinute,
            (s, v) => s with { CoolingPerMinute = v!.Value }
        ),
        Number<PressSettings>("layUp", "Laying up", "s", s => s.LayUpSeconds, (s, v) => s with { LayUpSeconds = Whole(v) }),
        Number<PressSettings>(
            "layUpEach",
            "Laying up, each piece",
            "s",
            s => s.LayUpEachSeconds,
            (s, v) => s with { LayUpEachSeconds = Whole(v) }
        ),
        Number<PressSettings>("watts", "Power", "W", s => s.Watts, (s, v) => s with { Watts = Whole(v) }),
    ];

    private static IReadOnlyList<NumberOf<StationSettings>> Wrap { get; } =
    [
        Fit("thinnest", "Smallest diameter", "mm", w => w.Thinnest.Millimetres, (w, v) => w with { Thinnest = Mm(v) }),
        Fit("widest", "Largest diameter", "mm", w => w.Widest.Millimetres, (w, v) => w with { Widest = Mm(v) }),
        Fit("tallest", "Tallest piece", "mm", w => w.Tallest.Millimetres, (w, v) => w with { Tallest = Mm(v) }),
        Fit("leastSeconds", "Presses at least", "s", w => w.LeastSeconds, (w, v) => w with { LeastSeconds = Whole(v) }),
        Fit("mostSeconds", "Presses at most", "s", w => w.MostSeconds, (w, v) => w with { MostSeconds = Whole(v) }),
        .. Press,
    ];

    private static NumberOf<StationSettings> Fit(
        string name,
        string label,
        string unit,
        Func<WrapFit, decimal?> get,
        Func<WrapFit, decimal?, WrapFit> with
    ) => Number<PressSettings>(name, label, unit, s => get(s.Wrap!), (s, v) => s with { Wrap = with(s.Wrap!, v) });

    private static IReadOnlyList<NumberOf<StationSettings>> Printer { get; } =
    [
        Number<PrinterSettings>("scaleX", "Scale across, measured", "", s => s.ScaleX, (s, v) => s with { ScaleX = v!.Value }),
        Number<PrinterSettings>("scaleY", "Scale along, measured", "", s => s.ScaleY, (s, v) => s with { ScaleY = v!.Value }),
        Rim("rimLeft", "Margin left", r => r.Left, (r, v) => r with { Left = v }),
        Rim("rimTop", "Margin top", r => r.Top, (r, v) => r with { Top = v }),
        Rim("rimRight", "Margin right", r => r.Right, (r, v) => r with { Right = v }),
        Rim("rimBottom", "Margin bottom", r => r.Bottom, (r, v) => r with { Bottom = v }),
    ];

    private static NumberOf<StationSettings> Rim(
        string name,
        string label,
        Func<PrinterRim, Length> get,
        Func<PrinterRim, Length, PrinterRim> with
    ) => Number<PrinterSettings>(name, label, "mm", s => get(s.Rim).Millimetres, (s, v) => s with { Rim = with(s.Rim, Mm(v)) });

    private static IEnumerable<NumberOf<StationSettings>> Shelf(int index)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"Shelf {index + 1}");
        NumberOf<StationSettings> Side(string key, string label, Func<Shelf, Length> get, Func<Shelf, Length, Shelf> with) =>
            Number<OvenSettings>(
                string.Create(CultureInfo.InvariantCulture, $"shelf-{index}-{key}"),
                $"{name}, {label}",
                "mm",
                s => get(s.Shelves[index]).Millimetres,
                (s, v) => s with { Shelves = [.. s.Shelves.Select((shelf, i) => i == index ? with(shelf, Mm(v)) : shelf)] }
            );
        yield return Side("width", "width", s => s.Width, (s, v) => s with { Width = v });
        yield return Side("depth", "depth", s => s.Depth, (s, v) => s with { Depth = v });
        yield return Side("clear", "clear height", s => s.Clear, (s, v) => s with { Clear = v });
    }

    private static NumberOf<StationSettings> Number<T>(
        string name,
        string label,
        string unit,
        Func<T, decimal?> get,
        Func<T, decimal?, T> with,
        bool mayBeEmpty = false
    )
        where T : StationSettings => new(name, label, unit, s => get((T)s), (s, v) => with((T)s, v), mayBeEmpty);

    private static Length Mm(decimal? millimetres) => Length.FromMillimetres(millimetres!.Value);

    private static int Whole(decimal? number) => decimal.ToInt32(number!.Value);
}
