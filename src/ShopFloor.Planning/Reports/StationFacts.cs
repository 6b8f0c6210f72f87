using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Reports;

/// <summary>Compares what a station is, apart from when it is down and how hot it happens to be.</summary>
internal static class StationFacts
{
    private static readonly Span[] NeverDown = [];
    private static readonly Shelf[] NoShelves = [];
    private static readonly string[] NoOvens = [];

    /// <summary>Whether both are the same kind with the same settings.</summary>
    public static bool AreSame(Station a, Station b) =>
        Bare(a) == Bare(b)
        && (a, b) switch
        {
            (Oven x, Oven y) => x.Shelves.SequenceEqual(y.Shelves),
            (Booth x, Booth y) => x.SharesAirWith.SequenceEqual(y.SharesAirWith, StringComparer.Ordinal),
            _ => true,
        };

    private static Station Bare(Station station) =>
        station switch
        {
            Oven o => o with { Down = NeverDown, Shelves = NoShelves, Heat = Cold(o.Heat) },
            Press p => p with { Down = NeverDown, Heat = Cold(p.Heat) },
            Booth b => b with { Down = NeverDown, SharesAirWith = NoOvens },
            _ => station with { Down = NeverDown },
        };

    private static Heat Cold(Heat heat) => heat with { NowTenthsC = 0 };
}
