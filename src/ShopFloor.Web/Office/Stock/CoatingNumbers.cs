using System.Diagnostics.CodeAnalysis;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stock;

/// <summary>The numbers of a coating that the owner edits; names are those of the faults that the domain tells.</summary>
public static class CoatingNumbers
{
    /// <summary>Buying and weighing; prices are dated and have a form of their own.</summary>
    [SuppressMessage("Design", "MA0051:Method is too long", Justification = "A list of numbers, one after the other.")]
    public static IReadOnlyList<NumberOf<CoatingSettings>> All() =>
        [
            new("can", "A full can holds", "ml", s => s.CanMl, (s, v) => s with { CanMl = v!.Value }, IsCount: true),
            new(
                "reorderAt",
                "Order again at or below",
                "ml",
                s => s.ReorderAtMl,
                (s, v) => s with { ReorderAtMl = v!.Value },
                IsCount: true
            ),
            new(
                "lead",
                "Delivery takes",
                "days",
                s => s.LeadDays,
                (s, v) => s with { LeadDays = decimal.ToInt32(v!.Value) },
                IsCount: true
            ),
            new(
                "empty",
                "An empty can weighs, without cap",
                "g",
                s => s.EmptyCanGrams,
                (s, v) => s with { EmptyCanGrams = v },
                true,
                IsCount: true
            ),
            new(
                "density",
                "Density of the content (net weight ÷ net volume on the label)",
                "g/ml",
                s => s.ContentGramsPerMl,
                (s, v) => s with { ContentGramsPerMl = v },
                true
            ),
            new("solids", "Volume solids", "%", s => s.VolumeSolidsPercent, (s, v) => s with { VolumeSolidsPercent = v!.Value }),
            new("film", "Dry film of a coat", "µm", s => s.DryFilmMicrometres, (s, v) => s with { DryFilmMicrometres = v!.Value }),
            new(
                "transfer",
                "Stays on the piece, 0 to 1",
                "",
                s => s.TransferEfficiency,
                (s, v) => s with { TransferEfficiency = v!.Value }
            ),
            new(
                "margin",
                "Fan goes past the edge by",
                "mm",
                s => s.OversprayMarginMillimetres,
                (s, v) => s with { OversprayMarginMillimetres = v!.Value }
            ),
            new(
                "wiped",
                "Wiped on, a square metre takes (0: not counted)",
                "ml",
                s => s.WipedMlPerSquareMetre,
                (s, v) => s with { WipedMlPerSquareMetre = v!.Value }
            ),
            new(
                "shake",
                "Shake for",
                "s",
                s => s.ShakeSeconds,
                (s, v) => s with { ShakeSeconds = decimal.ToInt32(v!.Value) },
                IsCount: true
            ),
            new(
                "shakeAgain",
                "Shake again after a pause of",
                "s",
                s => s.ShakeAgainAfterSeconds,
                (s, v) => s with { ShakeAgainAfterSeconds = decimal.ToInt32(v!.Value) },
                IsCount: true
            ),
        ];
}
