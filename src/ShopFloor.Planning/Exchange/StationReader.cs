using System.Text.Json;

namespace ShopFloor.Planning.Exchange;

internal static class StationReader
{
    public static IReadOnlyList<string> Kinds { get; } = ["bench", "booth", "rack", "oven", "press"];

    public static StationKind? KindOf(string word)
    {
        for (var i = 0; i < Kinds.Count; i++)
            if (Kinds[i] == word)
                return (StationKind)i;
        return null;
    }

    public static Station? Read(Fields f)
    {
        var word = f.Raw("kind") is { } raw ? DayReader.Word(raw, f.Under("kind"), Kinds, f.Problems) : null;
        if (word is null)
            return null;
        var (id, down) = (f.Id("id"), Down(f));
        Station station = KindOf(word) switch
        {
            StationKind.Bench => new Bench(id, down, f.WholeOrNull("places", 1, 1000)),
            StationKind.Booth => new Booth(id, down, f.List("shares_air_with", (v, at) => Fields.IdOf(v, at, f.Problems))),
            StationKind.Rack => new Rack(id, down, checked(f.Number("area_mm2", 3, 0, 1_000_000_000_000) * 1000), Mm(f, "gap_mm")),
            StationKind.Oven => ReadOven(f, id, down),
            _ => ReadPress(f, id, down),
        };
        f.NothingElse();
        return station;
    }

    private static Oven ReadOven(Fields f, string id, List<Span> down)
    {
        var oven = new Oven(
            id,
            down,
            ReadHeat(f),
            Mm(f, "margin_mm"),
            Mm(f, "gap_mm"),
            f.Objects("shelves", ReadShelf),
            f.Whole("load_s"),
            f.Whole("load_each_s"),
            f.Whole("unload_s"),
            f.Whole("unload_each_s"),
            f.WholeOrNull("heater_w", 0, 1_000_000),
            f.ScaledOrNull("vapour_limit_g", 3, 0, Limits.Thousandths),
            f.Scaled("hot_above_c", 1, -1000, Limits.TenthsC)
        );
        if (oven.LoadS + oven.LoadEachS < 1)
            f.Problem("load_s", "loading must take at least a second");
        if (oven.UnloadS + oven.UnloadEachS < 1)
            f.Problem("unload_s", "unloading must take at least a second");
        return oven;
    }

    private static Shelf ReadShelf(Fields f)
    {
        var shelf = new Shelf(Mm(f, "width_mm", 1), Mm(f, "depth_mm", 1), Mm(f, "clear_mm", 1));
        f.NothingElse();
        return shelf;
    }

    private static Press ReadPress(Fields f, string id, List<Span> down) =>
        new(
            id,
            down,
            ReadHeat(f),
            Mm(f, "margin_mm"),
            Mm(f, "gap_mm"),
            Mm(f, "width_mm", 1),
            Mm(f, "depth_mm", 1),
            Mm(f, "thickest_mm"),
            Mm(f, "thickness_tolerance_mm"),
            f.Whole("lay_up_s"),
            f.Whole("lay_up_each_s")
        )
        {
            WrapsFromUm = f.Has("wraps_from_mm") ? f.ScaledOrNull("wraps_from_mm", 3, 1, Limits.Micrometres) : null,
        };

    private static Heat ReadHeat(Fields f)
    {
        var heat = new Heat(
            f.Scaled("lowest_c", 1, -1000, Limits.TenthsC),
            f.Scaled("highest_c", 1, -1000, Limits.TenthsC),
            f.Scaled("error_c", 1, -1000, 1000),
            f.Scaled("now_c", 1, -1000, Limits.TenthsC),
            f.Scaled("heating_c_per_min", 3, 1, 1_000_000),
            f.Scaled("cooling_c_per_min", 3, 1, 1_000_000)
        );
        if (heat.HighestTenthsC < heat.LowestTenthsC)
            f.Problem("highest_c", "must not be below lowest_c");
        return heat;
    }

    public static int Mm(Fields f, string name, int leastUm = 0) => f.Scaled(name, 3, leastUm, Limits.Micrometres);

    private static List<Span> Down(Fields f) => Calendar.Of(f, "down", ReadSpan, s => (s.FromS, s.ToS), "times");

    private static Span ReadSpan(Fields f)
    {
        var span = new Span(f.Whole("from_s", -Limits.Seconds), f.Whole("to_s", -Limits.Seconds));
        if (span.ToS <= span.FromS)
            f.Problem("to_s", "must be after from_s");
        f.NothingElse();
        return span;
    }
}
