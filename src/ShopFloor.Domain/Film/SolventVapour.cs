using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Film;

/// <summary>A solvent in a coating.</summary>
/// <param name="Name">What the data sheet calls it.</param>
/// <param name="MolarGrams">Molar mass in g/mol; null for a mix that nobody named.</param>
/// <param name="LowerExplosivePercent">Lower explosive limit in percent by volume at 25 °C; null for a mix that nobody named.</param>
/// <param name="DensityGMl">Density of the liquid in g/ml.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record Solvent(string Name, double? MolarGrams, double? LowerExplosivePercent, double DensityGMl, string Source)
{
    /// <summary>Acetone.</summary>
    public static Solvent Acetone { get; } = new("acetone", 58.08, 2.6, 0.79, "29 CFR 1910.94 Table G-11 and handbooks, from memory");

    /// <summary>Toluene; the lower of the published limits 1.1 and 1.4.</summary>
    public static Solvent Toluene { get; } = new("toluene", 92.14, 1.1, 0.867, "current handbooks, from memory");

    /// <summary>Xylene.</summary>
    public static Solvent Xylene { get; } = new("xylene", 106.17, 1.0, 0.861, "handbooks, from memory");

    /// <summary>A mix that nobody named: 15 g of vapour per m³ of oven, whatever it is.</summary>
    public static Solvent UnknownMix { get; } = new("unknown mix", null, null, 0.8, "Swiss ordinance 832.312.17, read");
}

/// <summary>What goes into the oven with solvent still in it.</summary>
/// <param name="CoatingOnPiecesMillilitres">Liquid coating on all pieces of the load after spraying, 0 to 5000 ml.</param>
/// <param name="SolventSharePercent">Solvent in that liquid by volume, 0 to 100 percent; the data sheet tells it.</param>
/// <param name="FlashMinutes">Flash-off before the oven in min, 0 to 1440.</param>
/// <param name="FlashHalfMinutes">Minutes in which half of the solvent leaves a fresh coat, above 0 to 240; 5 is common practice, no source.</param>
public sealed record FreshLoad(
    double CoatingOnPiecesMillilitres,
    double SolventSharePercent,
    double FlashMinutes,
    double FlashHalfMinutes = FreshLoad.DefaultHalfMinutes
)
{
    /// <summary>Minutes in which half of the solvent leaves a fresh coat: common practice, no source.</summary>
    public const double DefaultHalfMinutes = 5;
}

/// <summary>How a load stands against a quarter of the lower explosive limit.</summary>
/// <param name="SolventGrams">Solvent still in the load, in g.</param>
/// <param name="AllowedGrams">What the oven's air may take, in g.</param>
/// <param name="ShareOfLimit">Solvent over allowed; over 1 is a caution.</param>
/// <param name="FlashMinutesNeeded">Flash-off in min after which the load is within the limit.</param>
public readonly record struct VapourCheck(double SolventGrams, double AllowedGrams, double ShareOfLimit, double FlashMinutesNeeded)
{
    /// <summary>True when the load may go in as it is.</summary>
    public bool IsWithinLimit => ShareOfLimit <= 1;
}

/// <summary>
/// Solvent vapour of a load in a small oven, against 25 % of the lower explosive limit. The vapour is diluted by the air in the oven, or by the
/// fresh air that goes through while the solvent leaves the coats, whichever is more. A caution, no permission: the coating's safety data
/// sheet, the oven's maker and local codes rule.
/// </summary>
public static class SolventVapour
{
    /// <summary>Share of the lower explosive limit that may be reached: a quarter (NFPA 86; read as cited on public pages).</summary>
    public const double AllowedShareOfLimit = 0.25;

    /// <summary>Vapour that one cubic metre of oven may take when the solvent is unknown, in g: Swiss ordinance 832.312.17, read.</summary>
    public const double UnknownMixGramsPerCubicMetre = 15;

    /// <summary>
    /// Minutes over which the solvent that is still in the coats leaves them in the hot oven: common practice, no source. The rule of NFPA 86 for
    /// batch ovens comes to 23 (75 m³ of fresh air for a litre at 3.29 m³ a minute), so this asks for more air than the rule does.
    /// </summary>
    public const double EvaporationMinutes = 5;

    // Molar volume from the gas constant, at 101 325 Pa.
    private const double GasConstant = 8.314462618;
    private const double Pascals = 101_325;

    /// <summary>How the explosive limit sinks in the heat: 1 − 0.000784·(T − 25), NFPA 86 annex, from memory.</summary>
    /// <param name="celsius">Oven in °C.</param>
    public static double HotLimitFactor(double celsius) => 1 - (0.000784 * (celsius - 25));

    /// <summary>Volume of a vapour in l from a mass in g.</summary>
    /// <param name="grams">Mass in g.</param>
    /// <param name="molarGrams">Molar mass in g/mol.</param>
    /// <param name="celsius">Temperature in °C.</param>
    public static double VapourLitres(double grams, double molarGrams, double celsius) =>
        grams / molarGrams * GasConstant * (celsius + 273.15) / Pascals * 1000;

    /// <summary>Air in m³ that dilutes the vapour of a solvent to a quarter of its limit: 4·(100 − LEL)/LEL · vapour volume (29 CFR 1910.94(c)(6)).</summary>
    /// <param name="vapourCubicMetres">Vapour in m³.</param>
    /// <param name="lowerExplosivePercent">Lower explosive limit in percent by volume.</param>
    public static double DilutionAirCubicMetres(double vapourCubicMetres, double lowerExplosivePercent) =>
        4 * (100 - lowerExplosivePercent) / lowerExplosivePercent * vapourCubicMetres;

    /// <summary>
    /// Air in l that takes the vapour: what is in the oven, or the fresh air that goes through while the solvent leaves the coats, whichever is
    /// more. The steady state of an even source: mass a minute over air a minute. That fresh air expands in the oven is left out, on the safe side.
    /// </summary>
    /// <param name="ovenLitres">Free volume of the oven in l.</param>
    /// <param name="freshAir">Fresh air through the oven in m³/h, as measured in the room; 0: none known.</param>
    public static double DilutingLitres(double ovenLitres, double freshAir) =>
        Math.Max(ovenLitres, freshAir * 1000 / 60 * EvaporationMinutes);

    /// <summary>Solvent in g that the oven's air may take.</summary>
    /// <param name="solvent">The solvent.</param>
    /// <param name="ovenLitres">Free volume of the oven in l.</param>
    /// <param name="celsius">Oven in °C.</param>
    /// <param name="freshAir">Fresh air through the oven in m³/h; 0: none known.</param>
    public static double AllowedGrams(Solvent solvent, double ovenLitres, double celsius, double freshAir = 0)
    {
        var litres = DilutingLitres(ovenLitres, freshAir);
        return solvent is { MolarGrams: { } molar, LowerExplosivePercent: { } limit }
            ? litres * limit / 100 * HotLimitFactor(celsius) * AllowedShareOfLimit / VapourLitres(1, molar, celsius)
            : litres / 1000 * UnknownMixGramsPerCubicMetre;
    }

    /// <summary>Flash-off in min after which no more is left than allowed, from now on; 0 when that is so already.</summary>
    /// <param name="grams">Solvent still in the coats in g.</param>
    /// <param name="allowed">Allowed in g, above 0.</param>
    /// <param name="halfMinutes">Minutes in which half of it leaves.</param>
    public static double FlashMinutes(double grams, double allowed, double halfMinutes = FreshLoad.DefaultHalfMinutes) =>
        grams > allowed ? halfMinutes * Math.Log2(grams / allowed) : 0;

    /// <summary>Checks a load.</summary>
    /// <param name="load">What is still wet.</param>
    /// <param name="solvent">Its solvent.</param>
    /// <param name="ovenLitres">Free volume of the oven in l, above 0 to 100 000.</param>
    /// <param name="ovenCelsius">Oven in °C, 20 to 300.</param>
    /// <param name="freshAir">Fresh air through the oven in m³/h, 0 to 2000; 0: none known.</param>
    public static Result<Explained<VapourCheck>> Check(
        FreshLoad load,
        Solvent solvent,
        double ovenLitres,
        double ovenCelsius,
        double freshAir = 0
    ) =>
        new Entered()
            .Between(load.CoatingOnPiecesMillilitres, 0, 5000, "The coating on the pieces", "ml")
            .Between(load.SolventSharePercent, 0, 100, "The solvent share", "%")
            .Between(load.FlashMinutes, 0, 1440, "The flash-off", "min")
            .Positive(load.FlashHalfMinutes, 240, "The half time of the flash-off", "min")
            .Positive(ovenLitres, 100_000, "The oven's volume", "l")
            .Between(ovenCelsius, 20, 300, "The oven's temperature", "°C")
            .Between(freshAir, 0, 2000, "The fresh air", "m³/h")
            .Then<Explained<VapourCheck>>(() =>
            {
                var fresh = load.CoatingOnPiecesMillilitres * load.SolventSharePercent / 100 * solvent.DensityGMl;
                var left = fresh * Math.Pow(0.5, load.FlashMinutes / load.FlashHalfMinutes);
                var allowed = AllowedGrams(solvent, ovenLitres, ovenCelsius, freshAir);
                var needed = FlashMinutes(fresh, allowed, load.FlashHalfMinutes);
                return Answer(load, solvent, (ovenLitres, ovenCelsius, freshAir), new VapourCheck(left, allowed, left / allowed, needed));
            });

    private static Explained<VapourCheck> Answer(
        FreshLoad load,
        Solvent solvent,
        (double Litres, double Celsius, double FreshAir) oven,
        VapourCheck check
    ) =>
        Explain.As(
            check,
            $"{check.SolventGrams:0.##} g of solvent, {check.AllowedGrams:0.##} g allowed",
            [
                ExplainedInput.Word("solvent", solvent.Name),
                ExplainedInput.Of("coating on the pieces", load.CoatingOnPiecesMillilitres, "ml"),
                ExplainedInput.Of("solvent share", load.SolventSharePercent, "%"),
                ExplainedInput.Of("flash-off", load.FlashMinutes, "min"),
                ExplainedInput.Of("half leaves in", load.FlashHalfMinutes, "min"),
                ExplainedInput.Of("oven", oven.Litres, "l"),
                ExplainedInput.Of("oven temperature", oven.Celsius, "°C"),
                ExplainedInput.Of("fresh air", oven.FreshAir, "m³/h"),
                ExplainedInput.Of("solvent leaves in the oven within", EvaporationMinutes, "min"),
            ],
            "solvent halves in each half time; allowed: a quarter of the lower explosive limit at oven temperature, as mass of vapour in the oven's volume or in the fresh air of the time in which it leaves, whichever is more",
            $"{solvent.Source}; 25 % and hot limit: NFPA 86; half time and time in the oven: {Explanation.CommonPractice}",
            isEstimate: true,
            [
                .. check.IsWithinLimit
                    ? Array.Empty<string>()
                    : [$"Flash off for {Math.Ceiling(check.FlashMinutesNeeded):0} min in all, or put fewer pieces in. Ventilate."],
                "No sparks, no flame, no spraying near the hot oven. Safety data sheet, oven maker and local codes rule.",
            ]
        );
}
