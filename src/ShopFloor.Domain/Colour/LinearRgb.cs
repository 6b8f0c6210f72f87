namespace ShopFloor.Domain.Colour;

/// <summary>Light in the sRGB primaries, or a reflectance per channel; 0 to 1 is inside the gamut, other values are outside of it.</summary>
/// <param name="R">Red.</param>
/// <param name="G">Green.</param>
/// <param name="B">Blue.</param>
public readonly record struct LinearRgb(double R, double G, double B)
{
    /// <summary>All light.</summary>
    public static LinearRgb White => new(1, 1, 1);

    /// <summary>The same value in each channel.</summary>
    public static LinearRgb Grey(double value) => new(value, value, value);

    /// <summary>From 8-bit sRGB.</summary>
    public static LinearRgb FromSrgb(byte r, byte g, byte b) => new(Srgb.DecodeByte(r), Srgb.DecodeByte(g), Srgb.DecodeByte(b));

    /// <summary>Nearest 8-bit sRGB; what lies outside the gamut takes its edge.</summary>
    public (byte R, byte G, byte B) ToSrgb() => (Srgb.EncodeByte(R), Srgb.EncodeByte(G), Srgb.EncodeByte(B));

    /// <summary>
    /// Tristimulus values, D65, Y of white = 1. Matrix from the primaries .64 .33 / .30 .60 / .15 .06 and white .3127 .3290 of
    /// IEC 61966-2-1 in full precision, as in the CSS Color 4 reference code.
    /// </summary>
    public Xyz ToXyz() =>
        new(
            (0.4123907992659595 * R) + (0.35758433938387796 * G) + (0.1804807884018343 * B),
            (0.21263900587151036 * R) + (0.715168678767756 * G) + (0.07219231536073371 * B),
            (0.01933081871559185 * R) + (0.11919477979462599 * G) + (0.9505321522496607 * B)
        );

    /// <summary>CIELAB under D65.</summary>
    public Lab ToLab() => Lab.From(ToXyz(), WhitePoint.D65);

    /// <summary>Channel by channel.</summary>
    public LinearRgb Map(Func<double, double> function) => new(function(R), function(G), function(B));
}
