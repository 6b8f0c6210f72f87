using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>How long a hot piece rests in still air.</summary>
public static class Cooling
{
    /// <summary>Cool enough to touch and to tape, in °C: common practice, no source, and the owner's to change.</summary>
    public const double TouchCelsius = 35;

    /// <summary>Time until even the middle of the piece is cool enough.</summary>
    /// <param name="piece">The piece; one that lies on something cools through one face only.</param>
    /// <param name="fromCelsius">Temperature it comes out with, in °C.</param>
    /// <param name="toCelsius">Wanted temperature in °C, above the room's.</param>
    /// <param name="roomCelsius">Still air and walls, in °C.</param>
    /// <param name="heightMm">Height of the piece as it stands, above 0 to 10 000 mm.</param>
    public static Result<Explained<HeatTime>> TimeTo(
        HeatBody piece,
        double fromCelsius,
        double toCelsius,
        double roomCelsius = 20,
        double heightMm = 100
    ) => HeatUp.TimeTo(piece, Surroundings.StillAir(roomCelsius, heightMm), fromCelsius, toCelsius);
}
