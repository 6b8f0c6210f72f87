using ShopFloor.Planning.Layout;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Members of one load or session, or one piece alone that needs neither. Immutable; the search exchanges whole groups.</summary>
internal sealed class Group
{
    /// <summary>Position in <see cref="Shop.Families"/>, or -1 for a piece that needs neither oven nor press any more.</summary>
    public required int Family { get; init; }

    /// <summary>Nodes in the order in which they are prepared.</summary>
    public required int[] Nodes { get; init; }

    /// <summary>Ovens or presses that can take it, as positions in <see cref="Shop.Heated"/>.</summary>
    public required int[] Places { get; init; }

    /// <summary>Shortest dwell for each of <see cref="Places"/>; pressed seconds for a press.</summary>
    public required int[] DwellMin { get; init; }

    public int DwellMax { get; init; }

    /// <summary>The placed load or session that these nodes join, as position in <see cref="Decoder.Placed"/>; -1: one of their own.</summary>
    public int Joins { get; init; } = -1;
}

/// <summary>A group that takes in one node after another. What did not lie beside its members does not lie beside more of them either, nor does
/// anything that takes the same room and more.</summary>
internal sealed class Growth(int heated)
{
    /// <summary>Pieces that found no room in each of <see cref="Shop.Heated"/>.</summary>
    public List<int>[] Refused { get; } = [.. Enumerable.Range(0, heated).Select(_ => new List<int>())];
}

/// <summary>Makes groups and knows which can be: temperature, windows, heat, vapour, thickness and room.</summary>
internal sealed class GroupMaker
{
    private readonly Shop shop;
    private readonly FitCheck?[] fits;
    private readonly int[] scratch;

    /// <param name="shop">The day.</param>
    /// <param name="layoutEffort">See <see cref="FitCheck"/>.</param>
    /// <param name="answers">For each of <see cref="Shop.Heated"/> what fits on it, shared with makers of the same stations and effort; null: nothing is known yet.</param>
    public GroupMaker(Shop shop, long layoutEffort, FitAnswers[]? answers = null)
    {
        this.shop = shop;
        scratch = new int[shop.Pieces.Length];
        var footprints = shop.Pieces.Select(p => new Footprint(p.Id, p.WidthUm, p.DepthUm, p.ThicknessUm, p.MayTurn)).ToList();
        fits = [.. shop.Heated.Select((h, i) => Task(h, footprints) is { } task ? new FitCheck(task, layoutEffort, answers?[i]) : null)];
    }

    private static LayoutTask? Task(HeatedPlace place, List<Footprint> footprints)
    {
        List<Surface> surfaces = place.Oven is { } oven
            ? [.. oven.Shelves.Select(s => new Surface(s.WidthUm, s.DepthUm, s.ClearUm))]
            : [new Surface(place.Press!.WidthUm, place.Press.DepthUm)];
        return surfaces.Count == 0
            ? null
            : LayoutTask.Create(surfaces, new Spacing(place.Station.MarginUm, place.Station.GapUm), footprints);
    }

    /// <summary>The group of these nodes, or null when no station can take them together.</summary>
    /// <param name="nodes">The members.</param>
    /// <param name="growth">What was found too large for the same group before; null when the members are no grown group.</param>
    public Group? Make(ReadOnlySpan<int> nodes, Growth? growth = null)
    {
        var family = shop.Nodes[nodes[0]].Family;
        if (family < 0)
            return new Group
            {
                Family = -1,
                Nodes = nodes.ToArray(),
                Places = [],
                DwellMin = [],
            };
        var (min, max) = (1, Line.Never);
        var pinned = -1;
        foreach (var n in nodes)
        {
            var node = shop.Nodes[n];
            if (node.Family != family || OtherOfPiece(nodes, n))
                return null;
            min = Math.Max(min, node.Step.MinS);
            max = Math.Min(max, node.Step.MaxS ?? Line.Never);
            if (node.PinnedStation >= 0 && pinned >= 0 && pinned != node.PinnedStation)
                return null;
            pinned = Math.Max(pinned, node.PinnedStation);
        }
        return min > max ? null : OnPlaces(nodes, family, min, max, pinned, growth);
    }

    private bool OtherOfPiece(ReadOnlySpan<int> nodes, int n)
    {
        foreach (var other in nodes)
            if (other != n && shop.Nodes[other].Piece == shop.Nodes[n].Piece)
                return true;
        return false;
    }

    private Group? OnPlaces(ReadOnlySpan<int> nodes, int family, int min, int max, int pinned, Growth? growth)
    {
        Span<int> places = stackalloc int[shop.Heated.Length];
        Span<int> dwell = stackalloc int[shop.Heated.Length];
        var count = 0;
        for (var h = 0; h < shop.Heated.Length; h++)
            if (Takes(h, nodes, family, min, max, growth) is var floor and >= 0)
            {
                (places[count], dwell[count]) = (h, floor);
                count++;
            }
        // A pin to a station that cannot take it is given up and owned up to, rather than leaving the piece out.
        if (pinned >= 0)
            for (var i = 0; i < count; i++)
                if (places[i] == pinned)
                    (places[0], dwell[0], count) = (places[i], dwell[i], 1);
        if (count == 0)
            return null;
        return new Group
        {
            Family = family,
            Nodes = nodes.ToArray(),
            Places = places[..count].ToArray(),
            DwellMin = dwell[..count].ToArray(),
            DwellMax = max,
        };
    }

    /// <summary>The shortest dwell with which a station takes the nodes together, or -1.</summary>
    private int Takes(int h, ReadOnlySpan<int> nodes, int family, int min, int max, Growth? growth)
    {
        var (place, f) = (shop.Heated[h], shop.Families[family]);
        if (place.IsOven != f.IsLoad || !place.Reaches(f.TenthsC) || fits[h] is null)
            return -1;
        var floor =
            place.Oven is { } oven ? OvenFloor(oven, nodes, min)
            : PressFits(place.Press!, nodes) ? min
            : -1;
        return floor >= 0 && floor <= max && Fits(h, nodes, growth) ? floor : -1;
    }

    private int OvenFloor(Exchange.Oven oven, ReadOnlySpan<int> nodes, int min)
    {
        var (heat, vapour) = (0L, 0L);
        foreach (var n in nodes)
        {
            heat += shop.Nodes[n].Step.HeatJ;
            vapour += shop.Nodes[n].Step.VapourMg;
        }
        if (vapour > oven.VapourLimitMg)
            return -1;
        if (oven.HeaterW is not { } watts)
            return min;
        if (watts == 0)
            return heat > 0 ? -1 : min;
        return (int)Math.Min(Line.Never, Math.Max(min, (heat + watts - 1) / watts));
    }

    private bool PressFits(Exchange.Press press, ReadOnlySpan<int> nodes)
    {
        var (thin, thick) = (int.MaxValue, 0);
        foreach (var n in nodes)
        {
            var piece = shop.Pieces[shop.Nodes[n].Piece];
            if (!press.Suits(piece))
                return false;
            var thickness = piece.ThicknessUm;
            (thin, thick) = (Math.Min(thin, thickness), Math.Max(thick, thickness));
        }
        return thick <= press.ThickestUm && thick - thin <= press.ThicknessToleranceUm;
    }

    private bool Fits(int h, ReadOnlySpan<int> nodes)
    {
        for (var i = 0; i < nodes.Length; i++)
            scratch[i] = shop.Nodes[nodes[i]].Piece;
        return fits[h]!.Fits(scratch.AsSpan(0, nodes.Length));
    }

    /// <summary>Asks only when nothing that needs no more room was refused before.</summary>
    private bool Fits(int h, ReadOnlySpan<int> nodes, Growth? growth)
    {
        if (growth is null)
            return Fits(h, nodes);
        var added = shop.Nodes[nodes[^1]].Piece;
        foreach (var refused in growth.Refused[h])
            if (fits[h]!.TakesRoomOf(added, refused))
                return false;
        var answer = Fits(h, nodes);
        if (!answer)
            growth.Refused[h].Add(added);
        return answer;
    }

    /// <summary>Whether some station takes the node alone, were time and coating no matter.</summary>
    public bool FitsAlone(int node) => Make([node]) is not null;

    /// <summary>Whether the piece lies on some station of the right kind at all.</summary>
    public bool LiesSomewhere(int node)
    {
        for (var h = 0; h < shop.Heated.Length; h++)
            if (fits[h] is not null && shop.Heated[h].IsOven == shop.Families[shop.Nodes[node].Family].IsLoad && Fits(h, [node]))
                return true;
        return false;
    }

    /// <summary>Where the members lie; null when no way was found, which cannot be for the whole of a group that was made.</summary>
    public IReadOnlyList<Place>? Lay(int h, ReadOnlySpan<int> nodes)
    {
        for (var i = 0; i < nodes.Length; i++)
            scratch[i] = shop.Nodes[nodes[i]].Piece;
        return fits[h]!.TryPlace(scratch.AsSpan(0, nodes.Length));
    }
}
