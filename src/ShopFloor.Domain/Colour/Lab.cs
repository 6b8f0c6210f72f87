namespace ShopFloor.Domain.Colour;

/// <summary>CIELAB after CIE 15 (ISO/CIE 11664-4).</summary>
/// <param name="L">Lightness, 0 black to 100 white.</param>
/// <param name="A">Green (negative) to red.</param>
/// <param name="B">Blue (negative) to yellow.</param>
public readonly record struct Lab(double L, double A, double B)
{
    private const double Delta = 6.0 / 29;

    /// <summary>From tristimulus values under a white.</summary>
    public static Lab From(Xyz colour, Xyz white)
    {
        var (x, y, z) = (F(colour.X / white.X), F(colour.Y / white.Y), F(colour.Z / white.Z));
        return new Lab((116 * y) - 16, 500 * (x - y), 200 * (y - z));
    }

    /// <summary>Tristimulus values under a white; the inverse of <see cref="From"/>.</summary>
    public Xyz ToXyz(Xyz white)
    {
        var y = (L + 16) / 116;
        return new Xyz(white.X * Inverse(y + (A / 500)), white.Y * Inverse(y), white.Z * Inverse(y - (B / 200)));
    }

    /// <summary>Light in the sRGB primaries, when this is a colour under D65.</summary>
    public LinearRgb ToLinearRgb() => ToXyz(WhitePoint.D65).ToLinearRgb();

    private static double F(double t) => t > Delta * Delta * Delta ? Math.Cbrt(t) : (t / (3 * Delta * Delta)) + (4.0 / 29);

    private static double Inverse(double t) => t > Delta ? t * t * t : 3 * Delta * Delta * (t - (4.0 / 29));
}
