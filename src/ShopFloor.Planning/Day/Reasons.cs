using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Says for each planned step and batch what stopped it from starting a second earlier.</summary>
internal sealed class Reasons(Shop shop, Decoder decoder)
{
    public const string PreviousStep = "previous step";
    public const string RestMinimum = "rest minimum";
    public const string Person = "person";
    public const string Station = "station";
    public const string SetPoint = "set point";
    public const string Member = "member";
    public const string Pin = "pin";
    public const string Chosen = "chosen";

    /// <summary>Of a step that is no load's or session's.</summary>
    public Why OfNode(int n)
    {
        var (node, start) = (shop.Nodes[n], decoder.Start[n]);
        var (held, name) = Before(n, start) ?? Hands(n, start);
        return new Why(shop.Pieces[node.Piece].Id, node.StepNumber, null, held, name);
    }

    /// <summary>Of a rest, which begins when what the piece was in is over.</summary>
    public static Why OfRest(string piece, int step) => new(piece, step, null, PreviousStep);

    /// <summary>Of a load or session.</summary>
    /// <param name="batch">As placed.</param>
    /// <param name="id">As written.</param>
    public Why OfBatch(PlacedBatch batch, string id)
    {
        foreach (var n in decoder.Groups[batch.Group].Nodes)
            if (!decoder.Failed[shop.Nodes[n].Piece] && Before(n, batch.Start) is var (held, _))
                return new Why(null, null, id, held == Pin ? Pin : Member, shop.Pieces[shop.Nodes[n].Piece].Id);
        var (line, place) = (decoder.Heated[batch.Place], shop.Heated[batch.Place].Station.Id);
        var before = line.At(batch.Start) - 1;
        if (before >= 0 && line.EndAt(before) == batch.Start && line.IsChange(before))
            return new Why(null, null, id, SetPoint, place);
        if (!line.Taken.IsFree(batch.Start - 1, batch.Start))
            return new Why(null, null, id, Station, place);
        return decoder.PersonIsFree(batch.LoadPerson, batch.Start - 1, batch.Start) || OthersCould(batch)
            ? new Why(null, null, id, Chosen)
            : new Why(null, null, id, Person, shop.People[batch.LoadPerson].Id);
    }

    /// <summary>What of the piece itself holds it.</summary>
    private (string, string?)? Before(int n, int start)
    {
        var node = shop.Nodes[n];
        // What rests already goes on when its rest is over, as if it were pinned.
        if (node.PinnedAt == start && node.PinIsHard)
            return (PreviousStep, null);
        if (node.PinnedAt == start || (node.PinnedNotBefore == start && start > 0))
            return (Pin, null);
        var end = decoder.EndBefore(n);
        if (end > int.MinValue && end + node.MinLag == start)
            return node.RestStep > 0 ? (RestMinimum, null) : (PreviousStep, null);
        if (node.Ready == start && start > 0)
            return (PreviousStep, node.Step.Kind == StepKind.Tape ? "transfer" : "earliest start");
        if (node.Before < 0)
            foreach (var other in shop.After[node.Piece])
                if (shop.LastNode[other] >= 0 && decoder.End[shop.LastNode[other]] == start)
                    return (PreviousStep, shop.Pieces[other].Id);
        return null;
    }

    /// <summary>Whose hands or which place was not free; the shake of a round counts with its first spray.</summary>
    private (string, string?) Hands(int n, int start)
    {
        var (person, from) = (decoder.PersonOf[n], decoder.ShakeStart(n) ?? start);
        if (from == 0)
            return (PreviousStep, "plan begins");
        if (!decoder.PersonIsFree(person, from - 1, from) && !OthersCould(n, person))
            return (Person, shop.People[person].Id);
        return decoder.PlaceIsFree(n, from - 1, from) ? (Chosen, null) : (Station, decoder.StationName(n));
    }

    /// <summary>Whether somebody else had time for a bench step a second earlier. What is sprayed in one round is one person's.</summary>
    private bool OthersCould(int n, int person) =>
        !shop.Nodes[n].IsSpray && AnyFree(StationKind.Bench, person, decoder.Start[n] - 1, decoder.End[n] - 1);

    /// <summary>Whether somebody else had time for a session, or for a load whose dwell may be a second longer.</summary>
    private bool OthersCould(PlacedBatch batch) =>
        shop.Heated[batch.Place].IsOven
            ? batch.UnloadStart - batch.DwellStart < decoder.Groups[batch.Group].DwellMax
                && AnyFree(StationKind.Oven, batch.LoadPerson, batch.Start - 1, batch.DwellStart - 1)
            : AnyFree(StationKind.Press, batch.LoadPerson, batch.Start - 1, batch.End - 1);

    private bool AnyFree(StationKind kind, int but, int from, int to) =>
        Array.Exists(shop.PeopleFor[(int)kind], p => p != but && decoder.PersonIsFree(p, from, to));
}
