namespace ShopFloor.Planning.Layout;

/// <summary>Why a piece cannot be laid anywhere, or a surface cannot be used.</summary>
/// <param name="Subject">Id of the piece, or <c>surface 2</c> (counted from 1).</param>
/// <param name="Text">One plain sentence.</param>
public sealed record LayoutFault(string Subject, string Text);

/// <summary>
/// Surfaces, pieces and distances in the form in which they are searched: gap and margin folded in, pieces in an order that does not
/// depend on the order of the input. Immutable; may be shared between threads.
/// </summary>
public sealed class LayoutTask
{
    /// <summary>The largest extent that is accepted, in micrometres (500 m).</summary>
    public const int LargestExtent = 500_000_000;

    private LayoutTask(
        IReadOnlyList<Surface> surfaces,
        Spacing spacing,
        IReadOnlyList<Footprint> footprints,
        IReadOnlyList<Occupied> occupied
    )
    {
        Surfaces = surfaces;
        Spacing = spacing;
        Footprints = footprints;
        Occupied = occupied;
        Width = [.. footprints.Select(f => f.Width + spacing.Gap)];
        Depth = [.. footprints.Select(f => f.Depth + spacing.Gap)];
        Turns = [.. footprints.Select(f => f.MayTurn && f.Width != f.Depth)];
        SurfaceWidth = [.. surfaces.Select(s => s.Width - 2 * spacing.Margin + spacing.Gap)];
        SurfaceDepth = [.. surfaces.Select(s => s.Depth - 2 * spacing.Margin + spacing.Gap)];
        var order = Enumerable.Range(0, footprints.Count).ToArray();
        Array.Sort(order, Compare);
        Rank = new int[order.Length];
        for (var i = 0; i < order.Length; i++)
            Rank[order[i]] = i;
    }

    /// <summary>The surfaces, as given.</summary>
    public IReadOnlyList<Surface> Surfaces { get; }

    /// <summary>The distances to keep.</summary>
    public Spacing Spacing { get; }

    /// <summary>The pieces, as given.</summary>
    public IReadOnlyList<Footprint> Footprints { get; }

    /// <summary>What already lies on the surfaces.</summary>
    public IReadOnlyList<Occupied> Occupied { get; }

    /// <summary>What cannot be used or laid, and why.</summary>
    public IReadOnlyList<LayoutFault> Faults { get; private set; } = [];

    /// <summary>Width grown by the gap.</summary>
    internal int[] Width { get; }

    /// <summary>Depth grown by the gap.</summary>
    internal int[] Depth { get; }

    /// <summary>True where turning makes a difference and is allowed.</summary>
    internal bool[] Turns { get; }

    /// <summary>Width without margins, grown by one gap.</summary>
    internal int[] SurfaceWidth { get; }

    /// <summary>Depth without margins, grown by one gap.</summary>
    internal int[] SurfaceDepth { get; }

    /// <summary>Position of each piece in an order by area, width, depth, height and id, largest first.</summary>
    internal int[] Rank { get; }

    /// <summary>Prepares a task. Pieces and surfaces that cannot be used are named in <see cref="Faults"/>; the others stay usable.</summary>
    /// <param name="surfaces">At least one.</param>
    /// <param name="spacing">Margin and gap.</param>
    /// <param name="footprints">The pieces, with unique ids.</param>
    /// <param name="occupied">What already lies on the surfaces; null for nothing.</param>
    public static LayoutTask Create(
        IReadOnlyList<Surface> surfaces,
        Spacing spacing,
        IReadOnlyList<Footprint> footprints,
        IReadOnlyList<Occupied>? occupied = null
    )
    {
        var task = new LayoutTask(surfaces, spacing, footprints, occupied ?? []);
        task.Faults = task.FindFaults();
        return task;
    }

    /// <summary>True when the piece alone may lie on the surface, by its extents and height.</summary>
    /// <param name="piece">Position in <see cref="Footprints"/>.</param>
    /// <param name="surface">Position in <see cref="Surfaces"/>.</param>
    public bool MayLie(int piece, int surface) =>
        Footprints[piece].Height <= Surfaces[surface].Clear
        && Footprints[piece].Width > 0
        && Footprints[piece].Depth > 0
        && (FitsUnturned(piece, surface) || (Turns[piece] && FitsTurned(piece, surface)));

    private bool FitsUnturned(int piece, int surface) => Width[piece] <= SurfaceWidth[surface] && Depth[piece] <= SurfaceDepth[surface];

    private bool FitsTurned(int piece, int surface) => Depth[piece] <= SurfaceWidth[surface] && Width[piece] <= SurfaceDepth[surface];

    private int Compare(int a, int b)
    {
        var (p, q) = (Footprints[a], Footprints[b]);
        var c = q.Area.CompareTo(p.Area);
        if (c == 0)
            c = q.Width.CompareTo(p.Width);
        if (c == 0)
            c = q.Height.CompareTo(p.Height);
        if (c == 0)
            c = p.MayTurn.CompareTo(q.MayTurn);
        return c != 0 ? c : string.CompareOrdinal(p.Id, q.Id);
    }

    private List<LayoutFault> FindFaults()
    {
        var faults = new List<LayoutFault>();
        if (Surfaces.Count == 0)
            faults.Add(new("surfaces", "There is no surface to lay pieces on."));
        if (Spacing.Margin < 0 || Spacing.Gap < 0)
            faults.Add(new("spacing", "Margin and gap cannot be negative."));
        for (var s = 0; s < Surfaces.Count; s++)
        {
            var name = $"surface {(s + 1).ToString(CultureInfo.InvariantCulture)}";
            if (Surfaces[s].Width > LargestExtent || Surfaces[s].Depth > LargestExtent)
                faults.Add(new(name, "The surface is larger than 500 m."));
            else if (SurfaceWidth[s] <= Spacing.Gap || SurfaceDepth[s] <= Spacing.Gap)
                faults.Add(new(name, "Nothing is left of the surface between its margins."));
        }
        foreach (var group in Footprints.GroupBy(f => f.Id, StringComparer.Ordinal).Where(g => g.Skip(1).Any()))
            faults.Add(new(group.Key, "Two pieces have this id."));
        for (var i = 0; i < Footprints.Count; i++)
            if (Reason(i) is { } text)
                faults.Add(new(Footprints[i].Id, text));
        return faults;
    }

    private string? Reason(int piece)
    {
        var f = Footprints[piece];
        if (f.Width < 1 || f.Depth < 1 || f.Height < 0)
            return "Width and depth must be above zero and the height not below it.";
        if (f.Width > LargestExtent || f.Depth > LargestExtent)
            return "The piece is larger than 500 m.";
        if (Enumerable.Range(0, Surfaces.Count).Any(s => MayLie(piece, s)))
            return null;
        var flat = Enumerable.Range(0, Surfaces.Count).Any(s => FitsUnturned(piece, s) || (Turns[piece] && FitsTurned(piece, s)));
        return flat ? "The piece is too high for every surface it would fit on." : "The piece is larger than every surface.";
    }
}
