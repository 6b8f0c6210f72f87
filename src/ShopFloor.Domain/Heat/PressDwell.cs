using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>Through what the heat reaches the coat.</summary>
public enum HeatedSide
{
    /// <summary>Through the paper: print on top of the piece, as for metal, tile and stone.</summary>
    Print,

    /// <summary>Through the piece: print underneath, as for glass with the picture up.</summary>
    Piece,

    /// <summary>From both sides.</summary>
    Both,
}

/// <summary>How one press is built: the owner's own numbers.</summary>
/// <param name="SetCelsius">Platen temperature in °C, <see cref="LeastCelsius"/> to <see cref="MostCelsius"/>.</param>
/// <param name="RoomCelsius">Where pieces and paper come from, 0 to 45 °C.</param>
/// <param name="PaperMm">Transfer paper with its protective sheet, above 0 to 5 mm.</param>
/// <param name="PadMm">Pad on the cold side, above 0 to 50 mm.</param>
/// <param name="ContactWM2K">Contact between platen and paper at medium pressure, 50 to 10 000 W/(m²·K).</param>
public sealed record PlatenSettings(double SetCelsius, double RoomCelsius, double PaperMm, double PadMm, double ContactWM2K)
{
    /// <summary>190 °C, 20 °C, 0.15 mm of paper, an 8 mm pad, contact 1000 W/(m²·K): common practice, no source.</summary>
    public static PlatenSettings Default { get; } = new(190, 20, 0.15, 8, 1000);

    /// <summary>Coldest platen under which a piece's time can be told, °C.</summary>
    public const int LeastCelsius = 100;

    /// <summary>Hottest platen under which a piece's time can be told, °C.</summary>
    public const int MostCelsius = 260;

    internal Entered Check(Entered entered) =>
        entered
            .Between(SetCelsius, LeastCelsius, MostCelsius, "The press temperature", "°C")
            .Between(RoomCelsius, 0, 45, "The room temperature", "°C")
            .Positive(PaperMm, 5, "The paper", "mm")
            .Positive(PadMm, 50, "The pad", "mm")
            .Between(ContactWM2K, 50, 10_000, "The contact", "W/(m²·K)");
}

/// <summary>Press time for a piece.</summary>
/// <param name="Seconds">Dwell in s.</param>
/// <param name="HeatUpSeconds">Of it, until the coat is near the platen's temperature.</param>
/// <param name="FarSideCelsius">Temperature in °C on the far side of the piece at the end of the dwell.</param>
public readonly record struct PressTime(double Seconds, double HeatUpSeconds, double FarSideCelsius);

/// <summary>
/// Press time for another thickness: the way the heat takes through the layers is computed, and anchored on two settings that workshops
/// use at 190 °C, a metal sheet 60 s and thin glass 240 s (common practice, no source). Always an estimate.
/// </summary>
public static class PressDwell
{
    /// <summary>The coat counts as hot this far below the platen, in K: common practice, no source.</summary>
    public const double HotWithinKelvin = 10;

    /// <summary>Dwell of the metal anchor in s: 1 mm aluminium, print on top.</summary>
    public const double MetalAnchorSeconds = 60;

    /// <summary>Dwell of the glass anchor in s: 3 mm glass, print underneath.</summary>
    public const double GlassAnchorSeconds = 240;

    private const double LongestSeconds = 3600;

    // A pad leads heat like silicone foam; behind it the base is nearly insulated: common practice, no source.
    private const double BaseWM2K = 5;
    private static readonly ThermalProperties Pad = new(300, 0.1, 1000);

    // Paper: Incropera, Table A.3, from memory; the coat is thin and like any plastic film.
    private static readonly ThermalProperties Paper = new(930, 0.18, 1340);
    private static readonly ThermalProperties Coat = new(1200, 0.2, 1400);
    private const double CoatMm = 0.03;

    // EN 12524 values of the two anchors.
    private static readonly ThermalProperties AnchorMetal = new(2800, 160, 880);
    private static readonly ThermalProperties AnchorGlass = new(2500, 1.0, 750);

    /// <summary>Press time for a piece.</summary>
    /// <param name="material">What it is made of.</param>
    /// <param name="thicknessMm">Thickness in mm, 0.1 to 60.</param>
    /// <param name="side">Through what the heat reaches the coat.</param>
    /// <param name="press">The press.</param>
    public static Result<Explained<PressTime>> For(ThermalProperties material, double thicknessMm, HeatedSide side, PlatenSettings press) =>
        press
            .Check(new HeatBody(material, HeatShape.Plate, 0.001).Check(new Entered()))
            .Between(thicknessMm, 0.1, 60, "The thickness", "mm")
            .Then(() =>
            {
                var heatUp = HeatUpSeconds(material, thicknessMm, side, press);
                if (double.IsInfinity(heatUp))
                {
                    return new Refusal(
                        "press-too-weak",
                        "The coat would not get hot within an hour: heat it from the other side, or take a thinner piece.",
                        nameof(thicknessMm)
                    );
                }

                var hold = HoldSeconds(side, press);
                return hold > 0
                    ? Answer(material, thicknessMm, side, press, heatUp, hold)
                    : new Refusal(
                        "press-settings-odd",
                        "With these numbers even the usual settings would not get the coat hot: check contact and paper.",
                        nameof(press.ContactWM2K)
                    );
            });

    /// <summary>Whether both usual settings get the coat hot under that press; where one does not, it has no time for a piece that is pressed so.</summary>
    internal static bool HeatsBothAnchors(PlatenSettings press) =>
        HoldSeconds(HeatedSide.Print, press) > 0 && HoldSeconds(HeatedSide.Piece, press) > 0;

    // What the usual setting leaves after the coat is hot.
    private static double HoldSeconds(HeatedSide side, PlatenSettings press) =>
        side == HeatedSide.Piece
            ? GlassAnchorSeconds - HeatUpSeconds(AnchorGlass, 3, HeatedSide.Piece, press)
            : MetalAnchorSeconds - HeatUpSeconds(AnchorMetal, 1, HeatedSide.Print, press);

    private static Result<Explained<PressTime>> Answer(
        ThermalProperties material,
        double thicknessMm,
        HeatedSide side,
        PlatenSettings press,
        double heatUp,
        double hold
    )
    {
        var seconds = heatUp + hold;
        var time = new PressTime(seconds, heatUp, FarSideCelsius(material, thicknessMm, side, press, seconds));
        return Explain.As(
            time,
            Durations.InWords(seconds),
            [
                ExplainedInput.Of("thickness", thicknessMm, "mm"),
                ExplainedInput.Of("conductivity", material.ConductivityWMK, "W/(m·K)"),
                ExplainedInput.Of("platen", press.SetCelsius, "°C"),
                ExplainedInput.Of("coat hot after", heatUp, "s"),
                ExplainedInput.Of("hold after that", hold, "s"),
                ExplainedInput.Of("far side at the end", time.FarSideCelsius, "°C"),
            ],
            $"time until the coat is within {HotWithinKelvin:0} K of the platen, computed through the layers, + the hold that the usual setting leaves "
                + "(print on top: 1 mm aluminium, 60 s; print underneath: 3 mm glass, 240 s)",
            $"one-dimensional heat conduction; anchors, paper, pad and contact: {Explanation.CommonPractice}",
            isEstimate: true,
            Explanation.TryATestPiece
        );
    }

    /// <summary>Seconds until the coat is hot; infinite when that takes over an hour.</summary>
    internal static double HeatUpSeconds(ThermalProperties material, double thicknessMm, HeatedSide side, PlatenSettings press)
    {
        var (stack, coatLayer, _) = Build(material, thicknessMm, side, press);
        var goal = press.SetCelsius - HotWithinKelvin;
        var celsius = stack.AllAt(press.RoomCelsius);
        var (time, before) = (0.0, press.RoomCelsius);
        while (time < LongestSeconds)
        {
            // Steps grow with time as the changes slow down.
            var step = Math.Max(0.1, time / 100);
            celsius = stack.Step(celsius, step);
            var now = stack.Below(celsius, coatLayer);
            if (now >= goal)
            {
                return time + (step * (goal - before) / (now - before));
            }

            (time, before) = (time + step, now);
        }

        return double.PositiveInfinity;
    }

    private static double FarSideCelsius(
        ThermalProperties material,
        double thicknessMm,
        HeatedSide side,
        PlatenSettings press,
        double seconds
    )
    {
        var (stack, _, farLayer) = Build(material, thicknessMm, side, press);
        var celsius = stack.AllAt(press.RoomCelsius);
        const int Steps = 200;
        for (var i = 0; i < Steps; i++)
        {
            celsius = stack.Step(celsius, seconds / Steps);
        }

        return stack.Below(celsius, farLayer);
    }

    private static (PressStack Stack, int CoatLayer, int FarLayer) Build(
        ThermalProperties material,
        double thicknessMm,
        HeatedSide side,
        PlatenSettings press
    )
    {
        var paper = new StackLayer("paper", Paper, press.PaperMm);
        var coat = new StackLayer("coat", Coat, CoatMm);
        var piece = new StackLayer("piece", material, thicknessMm);
        var pad = new StackLayer("pad", Pad, press.PadMm);
        var platen = new StackEnd(press.SetCelsius, press.ContactWM2K);
        var cold = new StackEnd(press.RoomCelsius, BaseWM2K);
        return side switch
        {
            HeatedSide.Print => (new PressStack([paper, coat, piece, pad], platen, cold), 0, 2),
            HeatedSide.Piece => (new PressStack([paper, piece, coat, paper, pad], platen, cold), 2, 1),
            HeatedSide.Both => (new PressStack([paper, coat, piece, paper], platen, platen), 0, 2),
            _ => throw new ArgumentOutOfRangeException(nameof(side), side, "No such side."),
        };
    }
}
