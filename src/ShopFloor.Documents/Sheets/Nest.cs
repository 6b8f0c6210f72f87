using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Sheets;

/// <summary>Where one box lies after nesting.</summary>
/// <param name="Box">Position in the list of boxes.</param>
/// <param name="Sheet">Sheet, counted from 0.</param>
/// <param name="X">Left edge on the area, mm.</param>
/// <param name="Y">Upper edge on the area, mm.</param>
/// <param name="Turned">A quarter turn round.</param>
public readonly record struct NestedBox(int Box, int Sheet, double X, double Y, bool Turned);

/// <summary>An answer: all boxes on sheets.</summary>
/// <param name="Places">One entry a box.</param>
/// <param name="Sheets">Sheets used.</param>
/// <param name="FewestPossible">No answer can use fewer sheets.</param>
public sealed record Nesting(IReadOnlyList<NestedBox> Places, int Sheets, int FewestPossible);

/// <summary>
/// Lays boxes on equal areas, as few as it can, without overlap and with a gap between them; each box alone fits the area.
/// The planner that lays shelves does this; papers do not know it, the caller passes it in.
/// </summary>
public delegate Nesting Nest(IReadOnlyList<SizeMm> boxes, SizeMm area, double gapMm);
