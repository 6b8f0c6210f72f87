using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Quantities;
using static ShopFloor.Domain.Materials.ShippedSources;

namespace ShopFloor.Domain.Materials;

/// <summary>Glass, ceramic and stone of the shipped material list; a table, every row with its sources.</summary>
internal static class ShippedMinerals
{
    public static readonly IReadOnlyList<MaterialSheet> Rows =
    [
        new(
            "glass",
            "Glass, ordinary",
            MaterialClass.Glass,
            new ThermalProperties(2500, 1.0, 750),
            En12524,
            0.89,
            EmissivityTables + ": 0.89–0.94",
            new(Verdict.Take, 450, Verdict.Refuse, "Annealed glass stands the heat when it warms and cools slowly.", Hazard.Crack),
            new(Verdict.Take, 450, Verdict.Refuse, "Annealed glass stands the heat when it warms and cools slowly.", Hazard.Crack),
            "strain point 511 °C; sudden change at most 40 K",
            "strain point from published float glass figures, read; 40 K EN 572-1, from memory",
            false,
            "Start cold, cool in still air, never on cold metal."
        ),
        new(
            "glass-t",
            "Glass, toughened",
            MaterialClass.Glass,
            new ThermalProperties(2500, 1.0, 750),
            En12524,
            0.89,
            EmissivityTables + ": 0.89",
            new(Verdict.TestPiece, 250, Verdict.Refuse, "Toughened glass shatters from a scratched edge.", Hazard.Crack),
            new(Verdict.TestPiece, 250, Verdict.Refuse, "Toughened glass shatters from a scratched edge.", Hazard.Crack),
            "continuous service 250 °C; sudden change at most 200 K",
            "EN 12150-1, from memory; 275 °C read elsewhere, the lower is used",
            false,
            "Never sand it. Look at every edge first."
        ),
        new(
            "boro",
            "Glass, borosilicate",
            MaterialClass.Glass,
            new ThermalProperties(2230, 1.2, 830),
            "ISO 3585 data sheets; heat capacity from a materials property page (830) and Callister (850), read",
            0.9,
            "from memory: 0.9",
            new(Verdict.Take, 450, Verdict.Refuse, "Borosilicate glass stands the heat.", Hazard.Crack),
            new(Verdict.Take, 450, Verdict.Refuse, "Borosilicate glass stands the heat.", Hazard.Crack),
            "transforms at 525 °C; sudden change at most 160 K",
            "ISO 3585 data sheets and a materials property page, read",
            false,
            ""
        ),
        new(
            "crystal",
            "Lead crystal",
            MaterialClass.Glass,
            new ThermalProperties(3000, 0.8, 500),
            "handbook, from memory",
            0.9,
            "from memory: 0.9",
            new(Verdict.Refuse, null, Verdict.Refuse, "Lead crystal is thick and thin at once and cracks; it holds lead.", Hazard.Crack),
            new(Verdict.Refuse, null, Verdict.Refuse, "Lead crystal is thick and thin at once and cracks; it holds lead.", Hazard.Crack),
            "lead; uneven thickness",
            Explanation.CommonPractice,
            false,
            ""
        ),
        new(
            "lamin",
            "Laminated glass or silvered mirror",
            MaterialClass.Glass,
            null,
            NotMeasured,
            null,
            NotMeasured,
            new(
                Verdict.Refuse,
                null,
                Verdict.Refuse,
                "The film between the panes, or the paint behind a mirror, flows below 120 °C.",
                Hazard.Warp
            ),
            new(
                Verdict.Refuse,
                null,
                Verdict.Refuse,
                "The film between the panes, or the paint behind a mirror, flows below 120 °C.",
                Hazard.Warp
            ),
            "interlayer flows, backing paint fails below 120 °C",
            "glazing practice, from memory",
            false,
            ""
        ),
        new(
            "tile",
            "Ceramic or porcelain tile",
            MaterialClass.Ceramic,
            new ThermalProperties(2300, 1.3, 840),
            En12524,
            0.92,
            EmissivityTables + ": 0.92",
            new(Verdict.Take, 450, Verdict.Refuse, "Fired ceramic stands the heat; thick bodies need long.", Hazard.None),
            new(Verdict.Take, 450, Verdict.Refuse, "Fired ceramic stands the heat; thick bodies need long.", Hazard.None),
            "none in range",
            Explanation.CommonPractice,
            false,
            "A thick body needs its own, longer time in oven and press."
        ),
        new(
            "earthen",
            "Earthenware, unknown glaze",
            MaterialClass.Ceramic,
            new ThermalProperties(2000, 1.0, 800),
            En12524,
            0.91,
            EmissivityTables + ": 0.91",
            new(Verdict.TestPiece, 450, Verdict.Refuse, "Absorbed water can spall the body, and the glaze is unknown.", Hazard.Blister),
            new(Verdict.TestPiece, 450, Verdict.Refuse, "Absorbed water can spall the body, and the glaze is unknown.", Hazard.Blister),
            "lead and cadmium migration limits 0.8 mg/dm², 4.0 mg/l, 1.5 mg/l Pb",
            "Directive 84/500/EEC, read",
            true,
            "Nothing on the food side or the lip."
        ),
        new(
            "slate",
            "Slate",
            MaterialClass.Stone,
            new ThermalProperties(2400, 2.2, 1000),
            En12524,
            0.9,
            "from memory: 0.9",
            new(Verdict.TestPiece, 300, Verdict.Refuse, "Moisture between its layers spalls the stone.", Hazard.Blister),
            new(Verdict.Take, 300, Verdict.Refuse, "Slate that went through the cure is dry enough for the press.", Hazard.Blister),
            "moisture spalls above 100 °C",
            Explanation.CommonPractice,
            true,
            "Dry slowly above 100 °C first."
        ),
        new(
            "granite",
            "Granite",
            MaterialClass.Stone,
            new ThermalProperties(2600, 2.8, 1000),
            En12524,
            0.45,
            EmissivityTables + ": 0.45",
            new(Verdict.Take, 300, Verdict.Refuse, "Granite stands the heat.", Hazard.None),
            new(Verdict.Take, 300, Verdict.Refuse, "Granite stands the heat.", Hazard.None),
            "none in range",
            Explanation.CommonPractice,
            true,
            ""
        ),
        new(
            "marble",
            "Marble",
            MaterialClass.Stone,
            new ThermalProperties(2800, 3.5, 1000),
            En12524,
            0.95,
            EmissivityTables + ": 0.95",
            new(Verdict.TestPiece, 300, Verdict.Refuse, "Moisture and resin fill may lift the coat or yellow.", Hazard.Blister),
            new(Verdict.Take, 300, Verdict.Refuse, "Marble that went through the cure stands the press.", Hazard.None),
            "moisture, resin fill",
            Explanation.CommonPractice,
            true,
            "Resin-filled slabs turn yellow."
        ),
    ];
}
