using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Finds the pins that a placed solution does not keep, and says why.</summary>
internal static class PinCheck
{
    public static List<UnmetPin> Unmet(Shop shop, Decoder decoder)
    {
        var unmet = new List<UnmetPin>();
        for (var p = 0; p < shop.Pieces.Length; p++)
            foreach (var pin in shop.Pieces[p].Pins.Where(x => x.Step > shop.Pieces[p].Done).OrderBy(x => x.Step))
                if (Reason(shop, decoder, p, pin) is { } text && !unmet.Exists(u => u.Piece == shop.Pieces[p].Id && u.Step == pin.Step))
                    unmet.Add(new UnmetPin(shop.Pieces[p].Id, pin.Step, text));
        return unmet;
    }

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
            return $"{wanted} cannot take it; it is done at {station}.";
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
