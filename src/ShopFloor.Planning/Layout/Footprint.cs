namespace ShopFloor.Planning.Layout;

/// <summary>
/// What a piece covers when it lies: today the box around it. Everything that places pieces asks a footprint and never the piece,
/// so that finer outlines can be added here without touching the callers.
/// </summary>
/// <param name="Id">Name of the piece, used in messages and to break ties; unique within one task.</param>
/// <param name="Width">Extent along the shelf's width, in whole micrometres, at least 1.</param>
/// <param name="Depth">Extent along the shelf's depth, in whole micrometres, at least 1.</param>
/// <param name="Height">Height as it lies, in whole micrometres; 0 where height does not matter.</param>
/// <param name="MayTurn">True when it may be turned by 90 degrees on the shelf.</param>
public sealed record Footprint(string Id, int Width, int Depth, int Height, bool MayTurn)
{
    /// <summary>Covered area in square micrometres.</summary>
    public long Area => (long)Width * Depth;
}

/// <summary>One flat rectangle to lay pieces on: an oven shelf, a press platen, a sheet of paper.</summary>
/// <param name="Width">In whole micrometres, at least 1.</param>
/// <param name="Depth">In whole micrometres, at least 1.</param>
/// <param name="Clear">Clear height above it in whole micrometres; <see cref="int.MaxValue"/> where nothing is above.</param>
public readonly record struct Surface(int Width, int Depth, int Clear = int.MaxValue)
{
    /// <summary>Area in square micrometres.</summary>
    public long Area => (long)Width * Depth;
}

/// <summary>Distances to keep, in whole micrometres.</summary>
/// <param name="Margin">Free strip along every edge of a surface, at least 0.</param>
/// <param name="Gap">Free distance between two pieces, kept in x or in y, at least 0.</param>
public readonly record struct Spacing(int Margin, int Gap);

/// <summary>Where a piece lies: the corner nearest the origin, after turning, in micrometres from the surface's own corner.</summary>
/// <param name="Piece">Position of the piece in the task's list of footprints.</param>
/// <param name="Surface">Position of the surface in the task's list of surfaces.</param>
/// <param name="X">Along the width.</param>
/// <param name="Y">Along the depth.</param>
/// <param name="Turned">True when its width lies along the surface's depth.</param>
public readonly record struct Place(int Piece, int Surface, int X, int Y, bool Turned);

/// <summary>A rectangle of a surface that is already occupied, in micrometres from the surface's own corner.</summary>
/// <param name="Surface">Position of the surface in the task's list of surfaces.</param>
/// <param name="X">Along the width.</param>
/// <param name="Y">Along the depth.</param>
/// <param name="Width">Extent along the width.</param>
/// <param name="Depth">Extent along the depth.</param>
public readonly record struct Occupied(int Surface, int X, int Y, int Width, int Depth);
