namespace ShopFloor.Domain.Colour;

/// <summary>CIE 1931 tristimulus values, 2° observer, Y of white = 1.</summary>
/// <param name="X">X.</param>
/// <param name="Y">Y, the luminance.</param>
/// <param name="Z">Z.</param>
public readonly record struct Xyz(double X, double Y, double Z)
{
    /// <summary>Light in the sRGB primaries: the inverse of <see cref="LinearRgb.ToXyz"/>; may lie outside 0 to 1.</summary>
    public LinearRgb ToLinearRgb() =>
        new(
            (3.2409699419045213 * X) + (-1.5373831775700935 * Y) + (-0.4986107602930033 * Z),
            (-0.9692436362808798 * X) + (1.8759675015077206 * Y) + (0.04155505740717561 * Z),
            (0.05563007969699361 * X) + (-0.20397695888897657 * Y) + (1.0569715142428786 * Z)
        );

    /// <summary>The same colour under D50 instead of D65: Bradford adaptation, matrix as in the CSS Color 4 reference code.</summary>
    public Xyz FromD65ToD50() =>
        new(
            (1.0479297925449969 * X) + (0.022946870601609652 * Y) + (-0.05019226628920524 * Z),
            (0.02962780877005599 * X) + (0.9904344267538799 * Y) + (-0.017073799063418826 * Z),
            (-0.009243040646204504 * X) + (0.015055191490298152 * Y) + (0.7518742814281371 * Z)
        );
}

/// <summary>What counts as white.</summary>
public static class WhitePoint
{
    /// <summary>Daylight of 6500 K, chromaticity .3127 .3290 (IEC 61966-2-1).</summary>
    public static Xyz D65 { get; } = FromChromaticity(0.3127, 0.3290);

    /// <summary>Graphic arts viewing light of 5000 K, chromaticity .3457 .3585 (ISO 3664).</summary>
    public static Xyz D50 { get; } = FromChromaticity(0.3457, 0.3585);

    /// <summary>White of a chromaticity, Y = 1.</summary>
    public static Xyz FromChromaticity(double x, double y) => new(x / y, 1, (1 - x - y) / y);
}
