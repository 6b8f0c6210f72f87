namespace ShopFloor.Domain.Film;

/// <summary>
/// How far coating goes: one litre of solids covers 1000 m² at 1 µm. Pure arithmetic on numbers that were already checked.
/// </summary>
public static class SpreadingRate
{
    /// <summary>Theoretical spreading rate in m²/l: 10 · volume solids / dry film.</summary>
    /// <param name="volumeSolidsPercent">Solids by volume in percent, above 0 and at most 100.</param>
    /// <param name="dryFilmMicrometres">Dry film in µm, above 0.</param>
    public static double SquareMetresPerLitre(double volumeSolidsPercent, double dryFilmMicrometres) =>
        10 * volumeSolidsPercent / dryFilmMicrometres;

    /// <summary>What really arrives after a loss: theoretical rate · (1 − loss), in m²/l.</summary>
    /// <param name="theoreticalSquareMetresPerLitre">Theoretical rate in m²/l.</param>
    /// <param name="lossPercent">What misses the piece, 0 to below 100 percent.</param>
    public static double Practical(double theoreticalSquareMetresPerLitre, double lossPercent) =>
        theoreticalSquareMetresPerLitre * (1 - (lossPercent / 100));

    /// <summary>Wet film in µm that dries to the wanted film: dry film / volume solids.</summary>
    /// <param name="dryFilmMicrometres">Dry film in µm.</param>
    /// <param name="volumeSolidsPercent">Solids by volume of the liquid on the piece, in percent.</param>
    public static double WetFilmMicrometres(double dryFilmMicrometres, double volumeSolidsPercent) =>
        dryFilmMicrometres / (volumeSolidsPercent / 100);

    /// <summary>Dry film in µm left by a wet film; the inverse of <see cref="WetFilmMicrometres"/>.</summary>
    /// <param name="wetFilmMicrometres">Wet film in µm.</param>
    /// <param name="volumeSolidsPercent">Solids by volume of the liquid on the piece, in percent.</param>
    public static double DryFilmMicrometres(double wetFilmMicrometres, double volumeSolidsPercent) =>
        wetFilmMicrometres * (volumeSolidsPercent / 100);
}
