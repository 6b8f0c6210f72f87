using ShopFloor.Domain.Film;
using ShopFloor.Domain.Heat;

namespace ShopFloor.Web.Office.Calculators;

/// <summary>The oven: heat-up, dwell, load, its own measured numbers, solvent vapour.</summary>
internal sealed class OvenCalculators(CalculatorStart start)
{
    private const string Topic = "Oven";

    private CalculatorNumber Cure { get; } = new("CureCelsius", "Cure temperature", "°C", 160);

    private CalculatorNumber[] Heat =>
        [
            new("ConvectionWM2K", "Heat transfer, measured", "W/(m²·K)", (double)start.Oven.HeatTransfer),
            new("Emissivity", "Emissivity of the coated piece", "", Surroundings.CoatedEmissivity),
            new("RoomCelsius", "Room", "°C", (double)start.RoomCelsius, Least: 0, Most: 45),
        ];

    private CalculatorChoice Material(string name, string label) => new(name, label, start.MeasuredMaterials);

    public IEnumerable<Calculator> All() => [HeatingUp, Dwell, Load, Dial, Coefficient, Bake, Vapour];

    private Calculator HeatingUp =>
        new(
            "heat-up",
            "Heat-up of a piece",
            "How long until even its coldest place is hot.",
            Topic,
            [Material("material", "Material"), HeatFields.Shape],
            [
                new("DepthMetres", "Thickness or diameter", "mm", 4),
                new("AirCelsius", "Oven", "°C", 160),
                new("toCelsius", "Wanted", "°C", 155),
                .. Heat,
            ],
            v =>
                CalculatorAnswer.From(
                    HeatUp.TimeTo(
                        HeatFields.Body(v, "material", "DepthMetres"),
                        Surroundings.Oven(v["AirCelsius"], v["ConvectionWM2K"], v["Emissivity"]),
                        v["RoomCelsius"],
                        v["toCelsius"]
                    )
                )
        );

    private Calculator Dwell =>
        new(
            "dwell",
            "Time in the oven for another piece",
            "From when to when a piece may leave the oven, from what the recipe asks of its reference piece.",
            Topic,
            [
                Material("material", "Material of the piece"),
                Material("reference", "Material of the recipe's reference piece"),
                HeatFields.Shape,
            ],
            [
                new("DepthMetres", "Thickness or diameter of the piece", "mm", 4),
                new("referenceMm", "Thickness of the reference piece", "mm", 1, Least: 0.1, Most: 500),
                Cure,
                new("MinMinutes", "Recipe, shortest", "min", 15),
                new("MaxMinutes", "Recipe, longest", "min", 20),
                .. Heat,
            ],
            v =>
            {
                var reference = HeatBody.PlateBothFaces(v.Material("reference").Thermal!, v["referenceMm"]);
                var recipe = new CureRecipe(v["CureCelsius"], v["MinMinutes"], v["MaxMinutes"], reference);
                return CalculatorAnswer.From(OvenDwell.WindowFor(HeatFields.Body(v, "material", "DepthMetres"), recipe, OvenOf(v)));
            }
        );

    private Calculator Load =>
        new(
            "load",
            "Heat of an oven load",
            "What a heavy load takes from the heater, and the least time that it needs.",
            Topic,
            [Material("material", "Material of the pieces")],
            [
                new("load", "Mass of the pieces together", "kg", 6),
                new("tray", "Mass of trays and racks, of steel", "kg", 1.5, Least: 0, Most: 500),
                new("toCelsius", "Cure temperature", "°C", 160),
                new("HeaterWatts", "Heater", "W", start.Oven.HeaterWatts ?? 1500),
                new("LossWatts", "Of it lost through the walls", "W", 300),
                new("RoomCelsius", "Room", "°C", (double)start.RoomCelsius, Least: 0, Most: 45),
            ],
            v =>
            {
                var oven = OvenSettings.Default with
                {
                    HeaterWatts = v["HeaterWatts"],
                    LossWatts = v["LossWatts"],
                    RoomCelsius = v["RoomCelsius"],
                };
                const double SteelJKgK = 450;
                LoadMass[] trays = v["tray"] is 0 ? [] : [new(v["tray"], SteelJKgK)];
                return CalculatorAnswer.From(
                    OvenLoadHeat.For(
                        [new LoadMass(v["load"], v.Material("material").Thermal!.SpecificHeatJKgK), .. trays],
                        v["toCelsius"],
                        oven
                    )
                );
            }
        );

    private Calculator Dial =>
        new(
            "dial",
            "What to set on the dial",
            "So that the oven really has the wanted temperature.",
            Topic,
            [],
            [
                new("wantedCelsius", "Wanted", "°C", 160),
                new("ErrorKelvin", "The oven shows too much by", "K", (double)start.Oven.ErrorCelsius),
            ],
            v => CalculatorAnswer.From((OvenSettings.Default with { ErrorKelvin = v["ErrorKelvin"] }).SetPointCelsius(v["wantedCelsius"]))
        );

    private Calculator Coefficient =>
        new(
            "heat-transfer",
            "Measure the oven's heat transfer",
            "Hang a bare aluminium block with a probe in its middle into the hot oven and write down two readings and the time between.",
            Topic,
            [],
            [
                new("DepthMetres", "Thickness of the block", "mm", 15),
                new("OvenCelsius", "Oven, really", "°C", 160),
                new("FirstCelsius", "First reading", "°C", 60),
                new("SecondCelsius", "Second reading", "°C", 120),
                new("SecondsBetween", "Time between", "s", 900),
                new("Emissivity", "Emissivity of the bare block", "", 0.1),
            ],
            v =>
            {
                var block = HeatBody.PlateBothFaces(new ThermalProperties(2800, 160, 880), v["DepthMetres"]);
                return CalculatorAnswer.From(
                    OvenCoefficient.FromReadings(
                        new BlockReadings(
                            block,
                            v["OvenCelsius"],
                            v["FirstCelsius"],
                            v["SecondCelsius"],
                            v["SecondsBetween"],
                            v["Emissivity"]
                        )
                    ),
                    found => new MeasuredOven((decimal)found)
                );
            }
        );

    private static Calculator Bake { get; } =
        new(
            "bake",
            "The same bake at another temperature",
            "For information only: the coating's data sheet rules.",
            Topic,
            [],
            [
                new("minutes", "Bake", "min", 15),
                new("atCelsius", "At", "°C", 160),
                new("otherCelsius", "Instead at", "°C", 150),
                new("activationKilojoulesPerMol", "Activation energy", "kJ/mol", 66),
            ],
            v =>
                CalculatorAnswer.From(
                    EquivalentBake.Minutes(v["minutes"], v["atCelsius"], v["otherCelsius"], v["activationKilojoulesPerMol"])
                )
        );

    private Calculator Vapour =>
        new(
            "vapour",
            "Solvent vapour of a load",
            "The solvent still in the coats against a quarter of the lower explosive limit. A caution, no permission.",
            Topic,
            [new("solvent", "Solvent", [("unknown", "Unknown mix"), ("acetone", "Acetone"), ("toluene", "Toluene"), ("xylene", "Xylene")])],
            [
                new("CoatingOnPiecesMillilitres", "Wet coating on the pieces", "ml", 20),
                new("SolventSharePercent", "Solvent in it", "%", 60),
                new("FlashMinutes", "Flash-off so far", "min", 10),
                new("FlashHalfMinutes", "Half of it leaves in", "min", FreshLoad.DefaultHalfMinutes),
                new("ovenLitres", "Oven, inside", "l", (double)start.Oven.VolumeLitres),
                new("ovenCelsius", "Oven temperature", "°C", 160),
                new("freshAir", "Fresh air, measured", "m³/h", (double)(start.Oven.FreshAir ?? 0)),
            ],
            v =>
            {
                var solvent = v.Choice("solvent") switch
                {
                    "acetone" => Solvent.Acetone,
                    "toluene" => Solvent.Toluene,
                    "xylene" => Solvent.Xylene,
                    _ => Solvent.UnknownMix,
                };
                var load = new FreshLoad(
                    v["CoatingOnPiecesMillilitres"],
                    v["SolventSharePercent"],
                    v["FlashMinutes"],
                    v["FlashHalfMinutes"]
                );
                return CalculatorAnswer.From(SolventVapour.Check(load, solvent, v["ovenLitres"], v["ovenCelsius"], v["freshAir"]));
            }
        );

    private static OvenSettings OvenOf(CalculatorValues v) =>
        OvenSettings.Default with
        {
            ConvectionWM2K = v["ConvectionWM2K"],
            Emissivity = v["Emissivity"],
            RoomCelsius = v["RoomCelsius"],
        };
}
