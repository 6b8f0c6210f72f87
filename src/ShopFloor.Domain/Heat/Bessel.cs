namespace ShopFloor.Domain.Heat;

/// <summary>
/// Bessel functions of the first kind from their integral, J_n(x) = (1/π)·∫₀^π cos(nτ − x·sin τ)dτ (Abramowitz and Stegun 9.1.21). The
/// integrand is periodic, so that the trapezoid rule is exact to rounding once it has more points than x.
/// </summary>
internal static class Bessel
{
    public static double J0(double x) => J(0, x);

    public static double J1(double x) => J(1, x);

    private static double J(int order, double x)
    {
        var points = 32 + (int)Math.Ceiling(Math.Abs(x));
        var sum = 0.0;
        for (var k = 0; k < points; k++)
        {
            var tau = 2 * Math.PI * k / points;
            sum += Math.Cos((order * tau) - (x * Math.Sin(tau)));
        }

        return sum / points;
    }
}
