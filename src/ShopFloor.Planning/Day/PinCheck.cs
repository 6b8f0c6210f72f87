using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Finds the pins that a placed solution does not keep, and says why.</summary>
internal static class PinCheck
{
    /// <summary>One for each pinned step, with all that is not kept of it.</summary>
    public static List<UnmetPin> Unmet(Shop shop, Decoder decoder) =>
        [
            .. from p in Pinned(shop)
            from step in OpenPins(shop, p).GroupBy(x => x.Step).OrderBy(g => g.Key)
            let texts = step.Select(pin => Reason(shop, decoder, p, pin)).OfType<string>().Distinct().Order(StringComparer.Ordinal).ToList()
            where texts.Count > 0
            select new UnmetPin(shop.Pieces[p].Id, step.Key, string.Join(' ', texts)),
        ];

    /// <summary>How many pins are not kept.</summary>
    public static int Count(Shop shop, Decoder decoder, int[] pinned) =>
        pinned.Sum(p => OpenPins(shop, p).Count(pin => Reason(shop, decoder, p, pin) is not null));

    /// <summary>The pieces with pins on steps that are still to be done, in their order.</summary>
    public static int[] Pinned(Shop shop) => [.. Enumerable.Range(0, shop.Pieces.Length).Where(p => OpenPins(shop, p).Any())];

    private static IEnumerable<Pin> OpenPins(Shop shop, int p) => shop.Pieces[p].Pins.Where(x => x.Step > shop.Pieces[p].Done);

    private static string? Reason(Shop shop, Decoder decoder, int p, Pin pin)
    {
        if (decoder.Failed[p])
            return "The piece is left out.";
        var n = Find(shop, p, pin.Step);
        var (start, station) = n >= 0 ? (decoder.Start[n], decoder.StationName(n)) : Other(shop, decoder, p, pin.Step);
        if (pin.NotBeforeS is { } notBefore && start < notBefore)
            return FormattableString.Invariant($"It starts at {start}, before {notBefore}.");
        if (pin.AtS is { } at && start != at)
            return FormattableString.Invariant($"What leads to it, the people or the stations allow {start}, not {at}.");
        if (pin.Station is { } wanted && station != wanted)
            return Array.Exists(shop.Racks, r => r.Id == wanted) && Array.Exists(shop.Racks, r => r.Id == station)
                ? $"{wanted} had no room for it; it rests at {station}."
                : $"{wanted} cannot take it; it is done at {station}.";
        return pin.With is { } with && !IsWith(shop, decoder, n, with) ? $"It could not share its batch with {with}." : null;
    }

    private static int Find(Shop shop, int p, int step)
    {
        for (var n = shop.FirstNode[p]; n >= 0; n = shop.Nodes[n].Next)
            if (shop.Nodes[n].StepNumber == step)
                return n;
        return -1;
    }

    /// <summary>Start and station of a rest or of a running step.</summary>
    private static (int Start, string Station) Other(Shop shop, Decoder decoder, int p, int step)
    {
        var id = shop.Pieces[p].Id;
        if (Array.Find(shop.Running.Tasks, t => t.Piece == id && t.Step == step) is { } task)
            return (task.StartS, task.Station);
        for (var b = 0; b < shop.Running.Batches.Length; b++)
            if (decoder.RunningPlaced[b] is { } placed && shop.Running.Batches[b].Batch.Places.Any(x => x.Piece == id && x.Step == step))
                return (placed.Start, shop.Heated[placed.Place].Station.Id);
        for (var n = shop.FirstNode[p]; n >= 0; n = shop.Nodes[n].Next)
            if (shop.Nodes[n].RestStep == step)
                return (decoder.EndBefore(n), shop.Racks[decoder.RackBefore(shop.Nodes[n])].Id);
        return (int.MinValue, "");
    }

    private static bool IsWith(Shop shop, Decoder decoder, int n, string with)
    {
        if (n < 0 || !(shop.Nodes[n].IsHeated || shop.Nodes[n].IsSpray))
            return false;
        foreach (var other in shop.Nodes)
        {
            if (shop.Pieces[other.Piece].Id != with || decoder.Failed[other.Piece] || other.Step.Station != shop.Nodes[n].Step.Station)
                continue;
            var same = other.IsSpray
                ? (decoder.StationOf[n], decoder.RoundOf[n]) == (decoder.StationOf[other.Index], decoder.RoundOf[other.Index])
                : (decoder.StationOf[n], decoder.Start[n]) == (decoder.StationOf[other.Index], decoder.Start[other.Index]);
            if (same)
                return true;
        }
        return false;
    }
}
