namespace ShopFloor.Web.Shared.Drawing;

/// <summary>The outline a piece is drawn with.</summary>
public enum Outline
{
    Rectangle,
    Ellipse,
}

/// <summary>One piece on a shelf or platen, in millimetres from the back left corner as seen by who loads it.</summary>
/// <param name="Code">What is written on it: the piece's code.</param>
/// <param name="XMm">Left edge.</param>
/// <param name="YMm">Back edge.</param>
/// <param name="WidthMm">Extent from left to right as it lies.</param>
/// <param name="DepthMm">Extent from back to front as it lies.</param>
/// <param name="Outline">Its shape within that rectangle.</param>
/// <param name="Turned">True when it lies a quarter turn from how its size is written.</param>
/// <param name="Note">A second short line, for instance the tray.</param>
public sealed record LayoutPlace(
    string Code,
    double XMm,
    double YMm,
    double WidthMm,
    double DepthMm,
    Outline Outline = Outline.Rectangle,
    bool Turned = false,
    string? Note = null
);
