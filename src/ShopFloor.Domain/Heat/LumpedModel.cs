namespace ShopFloor.Domain.Heat;

/// <summary>
/// A body whose inside keeps up with its surface (Biot number under 0.1): ρ·c·Lc·dT/dt = heat flow into the surface. With convection alone
/// the time is (ρ·c·Lc/h)·ln((T∞−T0)/(T∞−T)); radiation is integrated along with it (Incropera, Fundamentals of Heat and Mass Transfer,
/// ch. 5.1–5.3).
/// </summary>
public static class LumpedModel
{
    private const int Intervals = 200;

    /// <summary>Seconds from one temperature to another.</summary>
    /// <param name="body">The body.</param>
    /// <param name="around">Its surroundings.</param>
    /// <param name="fromCelsius">Start in °C.</param>
    /// <param name="toCelsius">Target in °C, between start and steady temperature; the steady temperature itself is never reached.</param>
    /// <returns>Seconds, or positive infinity when the target is never reached.</returns>
    public static double SecondsTo(HeatBody body, Surroundings around, double fromCelsius, double toCelsius)
    {
        var steady = around.SteadyCelsius();
        var (start, end) = (steady - fromCelsius, steady - toCelsius);
        if (toCelsius.Equals(fromCelsius))
        {
            return 0;
        }

        if (start * end <= 0 || Math.Abs(end) > Math.Abs(start))
        {
            return double.PositiveInfinity;
        }

        // The distance to the steady temperature shrinks about exponentially, so its logarithm is the smooth variable to integrate over:
        // dt = ρ·c·Lc · distance / flux · d(−ln distance), by Simpson's rule.
        var span = Math.Log(start / end);
        var sum = 0.0;
        for (var i = 0; i <= Intervals; i++)
        {
            var distance = start * Math.Exp(-span * i / Intervals);
            var weight = i is 0 or Intervals ? 1 : 2 + (2 * (i % 2));
            sum += weight * distance / around.FluxIntoWM2(steady - distance);
        }

        return body.HeatPerSquareMetreJK * sum * span / (3 * Intervals);
    }

    /// <summary>Temperature in °C after a while; the inverse of <see cref="SecondsTo"/>.</summary>
    /// <param name="body">The body.</param>
    /// <param name="around">Its surroundings.</param>
    /// <param name="fromCelsius">Start in °C.</param>
    /// <param name="seconds">Time, at least 0.</param>
    public static double CelsiusAfter(HeatBody body, Surroundings around, double fromCelsius, double seconds)
    {
        var steady = around.SteadyCelsius();
        var start = steady - fromCelsius;
        if (seconds <= 0 || start.Equals(0.0))
        {
            return fromCelsius;
        }

        // The share of the way still to go, as its negative logarithm: 0 at the start, 30 is as good as there.
        var decay = Roots.Bisect(d => SecondsTo(body, around, fromCelsius, steady - (start * Math.Exp(-d))) - seconds, 0, 30);
        return steady - (start * Math.Exp(-decay));
    }

    /// <summary>
    /// The constant coefficient in W/(m²·K) that would take the body the same time: how radiation and rising air enter models that know one
    /// coefficient only.
    /// </summary>
    /// <param name="around">The surroundings.</param>
    /// <param name="fromCelsius">Start in °C.</param>
    /// <param name="toCelsius">Target in °C, between start and steady temperature.</param>
    public static double EquivalentCoefficientWM2K(Surroundings around, double fromCelsius, double toCelsius)
    {
        var steady = around.SteadyCelsius();
        var unit = new HeatBody(new ThermalProperties(1, 1, 1), HeatShape.Plate, 1);
        return Math.Log((steady - fromCelsius) / (steady - toCelsius)) / SecondsTo(unit, around, fromCelsius, toCelsius);
    }
}
