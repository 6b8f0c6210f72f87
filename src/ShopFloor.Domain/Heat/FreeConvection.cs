namespace ShopFloor.Domain.Heat;

/// <summary>
/// Still air that rises by itself along a warm face. Air data at 1 atm after Incropera, Fundamentals of Heat and Mass Transfer, Table A.4
/// (from memory); correlations of Churchill and Chu (1975), the same book, eq. 9.26 and 9.34 (from memory).
/// </summary>
public static class FreeConvection
{
    private const double Gravity = 9.81;

    // Kelvin; conductivity W/(m·K); kinematic viscosity m²/s; diffusivity m²/s; Prandtl number.
    private static readonly (double Kelvin, double K, double Nu, double Alpha, double Pr)[] Air =
    [
        (250, 22.3e-3, 11.44e-6, 15.9e-6, 0.720),
        (300, 26.3e-3, 15.89e-6, 22.5e-6, 0.707),
        (350, 30.0e-3, 20.92e-6, 29.9e-6, 0.700),
        (400, 33.8e-3, 26.41e-6, 38.3e-6, 0.690),
        (450, 37.3e-3, 32.39e-6, 47.2e-6, 0.686),
        (500, 40.7e-3, 38.79e-6, 56.7e-6, 0.684),
        (550, 43.9e-3, 45.57e-6, 66.7e-6, 0.683),
        (600, 46.9e-3, 52.69e-6, 76.9e-6, 0.685),
    ];

    /// <summary>Coefficient in W/(m²·K) of an upright plate in still air.</summary>
    /// <param name="heightMetres">Height in m, above 0.</param>
    /// <param name="surfaceCelsius">Surface in °C; film temperatures outside −23 to 327 °C take the table's end.</param>
    /// <param name="airCelsius">Air in °C.</param>
    public static double UprightPlateWM2K(double heightMetres, double surfaceCelsius, double airCelsius)
    {
        var air = At(surfaceCelsius, airCelsius);
        var rayleigh = Rayleigh(heightMetres, surfaceCelsius, airCelsius, air);
        var prandtl = Math.Pow(1 + Math.Pow(0.492 / air.Pr, 9.0 / 16), 8.0 / 27);
        var root = 0.825 + (0.387 * Math.Pow(rayleigh, 1.0 / 6) / prandtl);
        return root * root * air.K / heightMetres;
    }

    /// <summary>Coefficient in W/(m²·K) of a long cylinder that lies in still air.</summary>
    /// <param name="diameterMetres">Diameter in m, above 0.</param>
    /// <param name="surfaceCelsius">Surface in °C.</param>
    /// <param name="airCelsius">Air in °C.</param>
    public static double LyingCylinderWM2K(double diameterMetres, double surfaceCelsius, double airCelsius)
    {
        var air = At(surfaceCelsius, airCelsius);
        var rayleigh = Rayleigh(diameterMetres, surfaceCelsius, airCelsius, air);
        var prandtl = Math.Pow(1 + Math.Pow(0.559 / air.Pr, 9.0 / 16), 8.0 / 27);
        var root = 0.60 + (0.387 * Math.Pow(rayleigh, 1.0 / 6) / prandtl);
        return root * root * air.K / diameterMetres;
    }

    private static double Rayleigh(
        double lengthMetres,
        double surfaceCelsius,
        double airCelsius,
        (double K, double Nu, double Alpha, double Pr) air
    )
    {
        var filmKelvin = ((surfaceCelsius + airCelsius) / 2) + Radiation.KelvinOffset;
        return Gravity * Math.Abs(surfaceCelsius - airCelsius) * Math.Pow(lengthMetres, 3) / (filmKelvin * air.Nu * air.Alpha);
    }

    private static (double K, double Nu, double Alpha, double Pr) At(double surfaceCelsius, double airCelsius)
    {
        var kelvin = Math.Clamp(((surfaceCelsius + airCelsius) / 2) + Radiation.KelvinOffset, Air[0].Kelvin, Air[^1].Kelvin);
        var i = 1;
        while (i < Air.Length - 1 && Air[i].Kelvin < kelvin)
        {
            i++;
        }

        var (a, b) = (Air[i - 1], Air[i]);
        var share = (kelvin - a.Kelvin) / (b.Kelvin - a.Kelvin);
        return (Mix(a.K, b.K), Mix(a.Nu, b.Nu), Mix(a.Alpha, b.Alpha), Mix(a.Pr, b.Pr));

        double Mix(double from, double to) => from + (share * (to - from));
    }
}
