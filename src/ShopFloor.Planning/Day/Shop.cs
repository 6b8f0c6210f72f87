using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>One step that is still to be planned; rests are folded into the link to the node before.</summary>
internal sealed class Node
{
    public required int Index { get; init; }

    /// <summary>Position of the piece in <see cref="Shop.Pieces"/>.</summary>
    public required int Piece { get; init; }

    /// <summary>Step of the route, counted from 1.</summary>
    public required int StepNumber { get; init; }

    public required Step Step { get; init; }

    /// <summary>The node before it in the route, or -1.</summary>
    public int Before { get; init; } = -1;

    /// <summary>The node after it in the route, or -1.</summary>
    public int Next { get; set; } = -1;

    /// <summary>Shortest time from the end of what is before it; a rest lasts at least a second.</summary>
    public int MinLag { get; init; }

    /// <summary>Longest time from the end of what is before it; <see cref="Line.Never"/> where there is no limit.</summary>
    public int MaxLag { get; init; } = Line.Never;

    /// <summary>The rest before it, counted from 1, or 0.</summary>
    public int RestStep { get; init; }

    /// <summary>Whether a rest follows.</summary>
    public bool RestAfter { get; set; }

    /// <summary>When what is before it ended, for a first node; smallest number when nothing is.</summary>
    public int GivenEnd { get; set; } = int.MinValue;

    /// <summary>The running load or session that is before it, or -1.</summary>
    public int GivenBatch { get; init; } = -1;

    /// <summary>Earliest start.</summary>
    public int Ready { get; init; }

    /// <summary>Start given by a pin or by the end of a running rest, or -1.</summary>
    public int PinnedAt { get; init; } = -1;

    /// <summary>Whether that start is given by running work and cannot be dropped.</summary>
    public bool PinIsHard { get; init; }

    public int PinnedNotBefore { get; init; }

    /// <summary>Position among stations of its kind, or -1.</summary>
    public int PinnedStation { get; init; } = -1;

    /// <summary>Rack to which the rest before it is pinned, or -1.</summary>
    public int PinnedRack { get; init; } = -1;

    /// <summary>For a cure, drying or press: which batches it may share.</summary>
    public int Family { get; init; } = -1;

    /// <summary>For a spray: position of the coating.</summary>
    public int Coating { get; init; } = -1;

    public int Length => Step.LengthS;

    public bool IsTight => MaxLag < Line.Never;

    public bool IsHeated => Family >= 0;

    public bool IsSpray => Step.Kind == StepKind.Spray;
}

/// <summary>One oven or press as the kernel sees it.</summary>
internal sealed class HeatedPlace
{
    public required HeatedStation Station { get; init; }

    public required bool IsOven { get; init; }

    public Oven? Oven { get; init; }

    public Press? Press { get; init; }

    /// <summary>Time from one set point to another, in seconds.</summary>
    public int ChangeS(int from, int to)
    {
        var rate = to > from ? Station.Heat.HeatingMilliCPerMin : Station.Heat.CoolingMilliCPerMin;
        return (int)Math.Max(1, ((6000L * Math.Abs(to - from)) + rate - 1) / rate);
    }

    public bool Reaches(int tenths) =>
        tenths + Station.Heat.ErrorTenthsC >= Station.Heat.LowestTenthsC
        && tenths + Station.Heat.ErrorTenthsC <= Station.Heat.HighestTenthsC;
}

/// <summary>What members of one load or session have in common.</summary>
internal sealed record Family(bool IsLoad, StepKind Kind, int TenthsC, string Pressure, string LayUp);

/// <summary>The day as the search sees it: sorted by id, names turned into positions, done work taken off. Immutable once made.</summary>
internal sealed class Shop
{
    public required Day Day { get; init; }

    public required Person[] People { get; init; }

    /// <summary>People by the kind of station they may work at.</summary>
    public required int[][] PeopleFor { get; init; }

    public required Bench[] Benches { get; init; }

    public required Booth[] Booths { get; init; }

    public required Rack[] Racks { get; init; }

    /// <summary>Ovens first, then presses.</summary>
    public required HeatedPlace[] Heated { get; init; }

    public required Coating[] Coatings { get; init; }

    public required Can[][] Cans { get; init; }

    public required Piece[] Pieces { get; init; }

    public required Node[] Nodes { get; init; }

    /// <summary>First node of each piece, or -1.</summary>
    public required int[] FirstNode { get; init; }

    /// <summary>Last node of each piece, or -1.</summary>
    public required int[] LastNode { get; init; }

    /// <summary>When what is given of each piece ends, and the running load or session that ends it, or -1.</summary>
    public required (int End, int Batch)[] Given { get; init; }

    /// <summary>Pieces that must be finished before each piece.</summary>
    public required int[][] After { get; init; }

    public required Family[] Families { get; init; }

    /// <summary>For each booth the ovens whose air it shares, as positions in <see cref="Heated"/>.</summary>
    public required int[][] SharedOvens { get; init; }

    /// <summary>A rack that can never be too full and is never down, or -1.</summary>
    public required int AmpleRack { get; init; }

    public required RunningWork Running { get; init; }

    /// <summary>Where and when nodes stood in the published plan; start <see cref="Decoder.NotPublished"/> where they did not.</summary>
    public required (int Start, string Station)[] Published { get; init; }

    /// <summary>The same for the near part of it alone: what counts as changed when it moves.</summary>
    public required (int Start, string Station)[] PublishedNear { get; init; }

    public int Horizon => Day.HorizonS;

    /// <summary>Whether there is so little to plan that the search may try everything more often.</summary>
    public bool IsSmall => Nodes.Length <= 80;

    public long RackArea(int rack, int piece) =>
        (Pieces[piece].WidthUm + (long)Racks[rack].GapUm) * (Pieces[piece].DepthUm + (long)Racks[rack].GapUm);

    public int PlaceOf(StationKind kind, string id) =>
        kind switch
        {
            StationKind.Bench => Array.FindIndex(Benches, b => b.Id == id),
            StationKind.Booth => Array.FindIndex(Booths, b => b.Id == id),
            StationKind.Rack => Array.FindIndex(Racks, r => r.Id == id),
            _ => Array.FindIndex(Heated, h => h.Station.Id == id && h.Station.Kind == kind),
        };
}

/// <summary>What had begun, in the kernel's terms.</summary>
internal sealed class RunningWork
{
    public required PlanTask[] Tasks { get; init; }

    public required RunningBatch[] Batches { get; init; }

    /// <summary>For each piece the running rest that is open or ends later, or null.</summary>
    public required PlanTask?[] Rest { get; init; }
}

/// <summary>A running load, session or round and what is still missing of it.</summary>
internal sealed class RunningBatch
{
    public required Batch Batch { get; init; }

    public required int Place { get; init; }

    public PlanTask? Load { get; init; }

    public PlanTask? Dwell { get; init; }

    public PlanTask? Unload { get; init; }

    public PlanTask? Press { get; init; }

    public PlanTask? Shake { get; init; }

    public required PlanTask[] Sprays { get; init; }

    /// <summary>Shortest and longest dwell that suits every member and the heater.</summary>
    public int DwellMin { get; init; }

    public int DwellMax { get; init; }

    public int UnloadS { get; init; }

    public bool IsLoad => Batch.Kind == BatchKinds.Load;
}
