using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Workshop;

/// <summary>The limits by which pieces and pictures are judged, as the owner may edit them.</summary>
public static class LimitNumbers
{
    /// <summary>All, in order.</summary>
    public static IReadOnlyList<NumberOf<WorkLimits>> All { get; } =
    [
        new(
            nameof(WorkLimits.OvershootKelvin),
            "Ovens and presses run over by at most",
            "K",
            l => l.OvershootKelvin,
            (l, v) => l with { OvershootKelvin = v!.Value }
        ),
        new(
            nameof(WorkLimits.SafeMarginMillimetres),
            "Nothing important nearer to the edge than",
            "mm",
            l => l.SafeMarginMillimetres,
            (l, v) => l with { SafeMarginMillimetres = v!.Value }
        ),
        new(
            nameof(WorkLimits.FloorPpi),
            "A picture is coarse below",
            "pixels per inch",
            l => l.FloorPpi,
            (l, v) => l with { FloorPpi = v!.Value }
        ),
        new(
            nameof(WorkLimits.ViewedFromMillimetres),
            "Pieces are looked at from",
            "mm",
            l => l.ViewedFromMillimetres,
            (l, v) => l with { ViewedFromMillimetres = v!.Value },
            IsCount: true
        ),
        new(
            nameof(WorkLimits.MostReworks),
            "A piece is reworked at most",
            "times",
            l => l.MostReworks,
            (l, v) => l with { MostReworks = decimal.ToInt32(v!.Value) },
            IsCount: true
        ),
    ];
}
