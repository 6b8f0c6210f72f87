namespace ShopFloor.Domain.Colour;

/// <summary>Light in a scattering film: two-flux theory of Kubelka and Munk (1931), film over a backing after Kubelka (1948, from memory).</summary>
public static class KubelkaMunk
{
    /// <summary>Absorption over scattering of an opaque film: (1 − R)²/(2R).</summary>
    /// <param name="reflectance">Reflectance, above 0 to 1.</param>
    public static double AbsorptionOverScattering(double reflectance) => (1 - reflectance) * (1 - reflectance) / (2 * reflectance);

    /// <summary>Reflectance of an opaque film; the inverse.</summary>
    /// <param name="absorptionOverScattering">K/S, at least 0.</param>
    public static double OpaqueReflectance(double absorptionOverScattering) =>
        1 + absorptionOverScattering - Math.Sqrt(absorptionOverScattering * (absorptionOverScattering + 2));

    /// <summary>Reflectance of a film over a backing: R = (1 − Rg·(a − b·coth bSX))/(a − Rg + b·coth bSX), a = 1 + K/S, b = √(a² − 1).</summary>
    /// <param name="absorptionOverScattering">K/S, at least 0.</param>
    /// <param name="scatteringPower">S·X, scattering times film thickness, at least 0; 0 is no film.</param>
    /// <param name="backing">Reflectance of the backing, 0 to 1.</param>
    public static double OverBacking(double absorptionOverScattering, double scatteringPower, double backing)
    {
        if (scatteringPower <= 0)
        {
            return backing;
        }

        if (absorptionOverScattering < 1e-12)
        {
            // The limit without absorption, where b·coth(bSX) tends to 1/SX.
            var inverse = 1 / scatteringPower;
            return (1 - (backing * (1 - inverse))) / (1 - backing + inverse);
        }

        var a = 1 + absorptionOverScattering;
        var b = Math.Sqrt((a * a) - 1);
        var coth = b / Math.Tanh(b * scatteringPower);
        return (1 - (backing * (a - coth))) / (a - backing + coth);
    }

    /// <summary>Contrast ratio: over black ÷ over a white backing; 0.98 counts as hiding (ISO 6504-3, from memory).</summary>
    /// <param name="absorptionOverScattering">K/S, at least 0.</param>
    /// <param name="scatteringPower">S·X, above 0.</param>
    /// <param name="whiteBacking">Reflectance of the white backing, above 0 to 1.</param>
    public static double ContrastRatio(double absorptionOverScattering, double scatteringPower, double whiteBacking = 0.8) =>
        OverBacking(absorptionOverScattering, scatteringPower, 0) / OverBacking(absorptionOverScattering, scatteringPower, whiteBacking);
}
