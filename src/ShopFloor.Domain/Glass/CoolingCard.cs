using ShopFloor.Domain.Heat;

namespace ShopFloor.Domain.Glass;

/// <summary>What the card at the rack must say about a hot piece of glass.</summary>
public static class CoolingCard
{
    /// <summary>The line that always stands on the card of a hot piece.</summary>
    public const string Hot = "Hot: gloves. Do not touch until it is cool.";

    /// <summary>The lines, most important first.</summary>
    /// <param name="glass">The glass.</param>
    /// <param name="thicknessMm">Thickness in mm, 0.5 to 50.</param>
    /// <param name="pieceCelsius">Piece in °C, −20 to 400.</param>
    /// <param name="roomCelsius">Room in °C, −20 to 400.</param>
    public static Result<IReadOnlyList<string>> Lines(GlassKind glass, double thicknessMm, double pieceCelsius, double roomCelsius) =>
        Step(glass, thicknessMm, pieceCelsius, roomCelsius, GlassCooling.ColdSolidOrWet)
            .Then(solid =>
                Step(glass, thicknessMm, pieceCelsius, roomCelsius, GlassCooling.MovingAir)
                    .Then(moving =>
                        Step(glass, thicknessMm, pieceCelsius, roomCelsius, GlassCooling.StillAir)
                            .Then(still => Lines(solid, moving, still, pieceCelsius))
                    )
            );

    private static Result<IReadOnlyList<string>> Lines(GlassStep solid, GlassStep moving, GlassStep still, double pieceCelsius)
    {
        List<string> lines = [];
        if (!still.IsAllowed)
        {
            lines.Add("Leave it in the oven with the door shut until it has cooled further: even still air is too sudden.");
        }

        if (!solid.IsAllowed)
        {
            lines.Add(
                $"Still air only, on a rack. Never on metal or stone, never on a wet cloth: {solid.StepKelvin:0} K at once, {solid.AllowedStepKelvin:0} K allowed."
            );
        }

        if (!moving.IsAllowed)
        {
            lines.Add("No fan and no draught.");
        }

        if (solid.IsAllowed)
        {
            lines.Add("The glass may be laid down anywhere.");
        }

        if (pieceCelsius > Cooling.TouchCelsius)
        {
            lines.Add(Hot);
        }

        return lines;
    }

    private static Result<GlassStep> Step(GlassKind glass, double thicknessMm, double piece, double room, GlassCooling cooling) =>
        GlassStress.Step(glass, thicknessMm, piece, room, cooling).Then<GlassStep>(step => step.Value);
}
