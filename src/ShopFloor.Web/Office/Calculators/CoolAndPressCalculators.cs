using ShopFloor.Domain;
using ShopFloor.Domain.Glass;
using ShopFloor.Domain.Heat;

namespace ShopFloor.Web.Office.Calculators;

/// <summary>Cooling, the press, hot glass.</summary>
internal sealed class CoolAndPressCalculators(CalculatorStart start)
{
    private const string Topic = "Cooling, press and glass";

    private CalculatorChoice Material => new("material", "Material", start.MeasuredMaterials);

    public IEnumerable<Calculator> All() => [Cool, Press, Depth, HotGlass];

    private Calculator Cool =>
        new(
            "cooling",
            "Cooling on the rack",
            "How long until a piece can be touched, or coated again.",
            Topic,
            [Material, HeatFields.Shape],
            [
                new("DepthMetres", "Thickness or diameter", "mm", 4),
                new("fromCelsius", "It comes out with", "°C", 160),
                new("toCelsius", "Cool enough at", "°C", Cooling.TouchCelsius),
                new("AirCelsius", "Room, still air", "°C", (double)start.RoomCelsius),
                new("StillAirHeightMetres", "Height of the piece as it stands", "mm", 100),
            ],
            v =>
                CalculatorAnswer.From(
                    Cooling.TimeTo(
                        HeatFields.Body(v, "material", "DepthMetres"),
                        v["fromCelsius"],
                        v["toCelsius"],
                        v["AirCelsius"],
                        v["StillAirHeightMetres"]
                    )
                )
        );

    private Calculator Press =>
        new(
            "press",
            "Press time for another thickness",
            "From the usual settings for a metal sheet and thin glass. Always an estimate.",
            Topic,
            [
                Material,
                new(
                    "side",
                    "The heat reaches the coat",
                    [
                        (nameof(HeatedSide.Print), "through the paper, print on top"),
                        (nameof(HeatedSide.Piece), "through the piece, print underneath"),
                        (nameof(HeatedSide.Both), "from both sides"),
                    ]
                ),
            ],
            [
                new("thicknessMm", "Thickness", "mm", 6),
                new("SetCelsius", "Platen", "°C", 190),
                new("RoomCelsius", "Room", "°C", (double)start.RoomCelsius),
                new("PaperMm", "Paper with protective sheet", "mm", 0.15),
                new("PadMm", "Pad", "mm", 8),
                new("ContactWM2K", "Contact under pressure", "W/(m²·K)", 1000),
            ],
            v =>
                CalculatorAnswer.From(
                    PressDwell.For(
                        v.Material("material").Thermal!,
                        v["thicknessMm"],
                        v.Choice<HeatedSide>("side"),
                        new PlatenSettings(v["SetCelsius"], v["RoomCelsius"], v["PaperMm"], v["PadMm"], v["ContactWM2K"])
                    )
                )
        );

    private Calculator Depth =>
        new(
            "depth",
            "How deep the heat reaches",
            "Whether glue, solder or a seal behind the picture side gets too hot in the press.",
            Topic,
            [Material],
            [
                new("fromCelsius", "Start", "°C", (double)start.RoomCelsius),
                new("faceCelsius", "Face", "°C", 190),
                new("limitCelsius", "The temperature that matters", "°C", 100),
                new("seconds", "Time", "s", 60),
            ],
            v =>
                CalculatorAnswer.From(
                    SemiInfinite.DepthMm(
                        v.Material("material").Thermal!,
                        v["fromCelsius"],
                        v["faceCelsius"],
                        v["limitCelsius"],
                        v["seconds"]
                    )
                )
        );

    private Calculator HotGlass =>
        new(
            "glass",
            "Hot glass",
            "Whether a cooling step is too much for the glass, and what its card must say.",
            Topic,
            [
                new("glass", "Glass", [("annealed", "Ordinary"), ("toughened", "Toughened"), ("boro", "Borosilicate")]),
                new(
                    "cooling",
                    "It is cooled",
                    [
                        (nameof(GlassCooling.StillAir), "in still air"),
                        (nameof(GlassCooling.MovingAir), "in front of a fan"),
                        (nameof(GlassCooling.ColdSolidOrWet), "on metal, stone or a wet cloth"),
                    ]
                ),
            ],
            [
                new("thicknessMm", "Thickness", "mm", 4),
                new("pieceCelsius", "The glass has", "°C", 190),
                new("surroundingsCelsius", "The surroundings have", "°C", (double)start.RoomCelsius),
            ],
            Glass
        );

    private static Result<CalculatorAnswer> Glass(CalculatorValues v)
    {
        var kind = v.Choice("glass") switch
        {
            "toughened" => GlassKind.Toughened,
            "boro" => GlassKind.Borosilicate,
            _ => GlassKind.Annealed,
        };
        var (mm, hot, cold) = (v["thicknessMm"], v["pieceCelsius"], v["surroundingsCelsius"]);
        return GlassStress
            .Step(kind, mm, hot, cold, v.Choice<GlassCooling>("cooling"))
            .Then(step =>
                CoolingCard
                    .Lines(kind, mm, hot, cold)
                    .Then(lines =>
                        Result<CalculatorAnswer>.Ok(new CalculatorAnswer(step.Why with { Notes = [.. lines, .. step.Why.Notes] }, []))
                    )
            );
    }
}
