using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Quantities;
using static ShopFloor.Domain.Materials.ShippedSources;

namespace ShopFloor.Domain.Materials;

/// <summary>Wood, board and leather of the shipped material list; a table, every row with its sources.</summary>
internal static class ShippedOrganics
{
    public static readonly IReadOnlyList<MaterialSheet> Rows =
    [
        new(
            "hardwood",
            "Hardwood",
            MaterialClass.Wood,
            new ThermalProperties(705, 0.17, 1630),
            "ASHRAE Handbook of Fundamentals 2013, read",
            0.9,
            EmissivityTables + ": 0.90–0.94",
            new(Verdict.Refuse, null, Verdict.Refuse, "Wood darkens and shrinks at cure temperature.", Hazard.Char),
            new(Verdict.TestPiece, 260, Verdict.Refuse, "Short pressing works on some woods only.", Hazard.Char),
            "thermal modification starts at 160 °C; charring at 300 °C",
            "BioResources on heat-treated oak and FPL Wood Handbook 2005, read; EN 1995-1-2, from memory",
            true,
            "Press the face only, no cure."
        ),
        new(
            "timber",
            "Softwood",
            MaterialClass.Wood,
            new ThermalProperties(700, 0.18, 1600),
            En12524,
            0.9,
            EmissivityTables + ": 0.90",
            new(Verdict.Refuse, null, Verdict.Refuse, "Wood darkens and shrinks at cure temperature.", Hazard.Char),
            new(Verdict.TestPiece, 260, Verdict.Refuse, "Short pressing works on some woods only, resin may come out.", Hazard.Char),
            "120 °C for a month or 140 °C for a week cost 10 % of the strength",
            "Shafizadeh & Chin 1977, abstract read",
            true,
            "Press the face only, no cure."
        ),
        new(
            "mdf",
            "Fibreboard (MDF)",
            MaterialClass.Wood,
            new ThermalProperties(800, 0.18, 1700),
            En12524,
            0.9,
            EmissivityTables + ": 0.90",
            new(Verdict.Refuse, null, Verdict.Refuse, "The board warps and gives off formaldehyde at cure temperature.", Hazard.Fume),
            new(Verdict.TestPiece, 260, Verdict.Refuse, "Only board made for coating; it gives off formaldehyde.", Hazard.Fume),
            "low-bake coatings for board cure at 121–163 °C",
            "curing guide of the infrared trade, read (see docs/sources.md)",
            true,
            "Ventilate."
        ),
        new(
            "ply",
            "Plywood",
            MaterialClass.Wood,
            new ThermalProperties(700, 0.17, 1600),
            En12524,
            0.9,
            EmissivityTables + ": 0.9",
            new(Verdict.Refuse, null, Verdict.Refuse, "The glue lines come apart.", Hazard.Warp),
            new(Verdict.TestPiece, 260, Verdict.Refuse, "The glue lines may come apart.", Hazard.Warp),
            "comes apart in layers",
            Explanation.CommonPractice,
            true,
            ""
        ),
        new(
            "cork",
            "Cork",
            MaterialClass.Wood,
            new ThermalProperties(400, 0.065, 1500),
            En12524,
            0.7,
            EmissivityTables + ": 0.7",
            new(Verdict.Refuse, null, Verdict.Refuse, "The binder softens.", Hazard.Soften),
            new(Verdict.TestPiece, 220, Verdict.Refuse, "The binder may soften.", Hazard.Soften),
            "binder softens",
            Explanation.CommonPractice,
            true,
            ""
        ),
        new(
            "leather-v",
            "Leather, vegetable tanned",
            MaterialClass.Leather,
            null,
            NotMeasured,
            0.9,
            "from memory: 0.9",
            new(Verdict.Refuse, null, Verdict.Refuse, "Leather shrinks far below the cure.", Hazard.Warp),
            new(Verdict.Refuse, null, Verdict.Refuse, "Leather shrinks far below the press.", Hazard.Warp),
            "shrinks wet at 75–85 °C",
            "Conservation Science, table of leather shrinkage, p. 95, read",
            false,
            ""
        ),
        new(
            "leather-c",
            "Leather, chrome tanned",
            MaterialClass.Leather,
            null,
            NotMeasured,
            0.9,
            "from memory: 0.9",
            new(Verdict.Refuse, null, Verdict.Refuse, "Leather shrinks far below the cure.", Hazard.Warp),
            new(Verdict.Refuse, null, Verdict.Refuse, "Leather shrinks far below the press.", Hazard.Warp),
            "shrinks wet at 100–120 °C",
            "Conservation Science, table of leather shrinkage, p. 95, read",
            false,
            ""
        ),
    ];
}
