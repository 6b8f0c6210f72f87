using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Quantities;
using static ShopFloor.Domain.Materials.ShippedSources;

namespace ShopFloor.Domain.Materials;

/// <summary>Metals of the shipped material list; a table, every row with its sources.</summary>
internal static class ShippedMetals
{
    public static readonly IReadOnlyList<MaterialSheet> Rows =
    [
        new(
            "al",
            "Aluminium, bare",
            MaterialClass.Metal,
            new ThermalProperties(2800, 160, 880),
            En12524,
            0.1,
            EmissivityTables + ": 0.04–0.1 polished; 0.2–0.3 oxidised",
            new(Verdict.Take, 400, Verdict.Refuse, "Aluminium keeps its shape far above the cure.", Hazard.None),
            new(Verdict.Take, 400, Verdict.Refuse, "Aluminium keeps its shape far above the press.", Hazard.None),
            "solidus of the alloys above 500 °C; heat-treated tempers soften on long stays at 160–200 °C",
            "ASM Handbook, from memory",
            false,
            "Repeated long bakes soften heat-treated tempers."
        ),
        new(
            "al-ano",
            "Aluminium, anodised",
            MaterialClass.Metal,
            new ThermalProperties(2800, 160, 880),
            En12524,
            0.8,
            EmissivityTables + ": 0.77–0.84",
            new(
                Verdict.TestPiece,
                320,
                Verdict.Refuse,
                "The oxide layer may show hairline cracks above 80–150 °C, depending on sealing and thickness.",
                Hazard.Crack
            ),
            new(
                Verdict.TestPiece,
                320,
                Verdict.Refuse,
                "The oxide layer may show hairline cracks above 80–150 °C, depending on sealing and thickness.",
                Hazard.Crack
            ),
            "crazing at 80 °C sealed, 150 °C unsealed, 105 °C on cooling; 120 °C at 25 µm, 320 °C at 5 µm",
            "finishing trade articles on crazing of anodic films, read (see docs/sources.md)",
            false,
            "Hairline cracks under clear are likely: tell the customer."
        ),
        new(
            "ss",
            "Stainless steel",
            MaterialClass.Metal,
            new ThermalProperties(7900, 17, 460),
            En12524,
            0.2,
            EmissivityTables + ": 0.17–0.3 clean; 0.5–0.7 after heating",
            new(Verdict.Take, 250, Verdict.TestPiece, "Austenitic stainless steel is unharmed.", Hazard.Tint),
            new(Verdict.Take, 250, Verdict.TestPiece, "Austenitic stainless steel is unharmed up to its first heat tint.", Hazard.Tint),
            "heat tint above about 250 °C",
            "stainless finishing guides, from memory",
            false,
            "Published heat capacities differ by 10 %, and so does the heat-up time."
        ),
        new(
            "steel",
            "Mild steel",
            MaterialClass.Metal,
            new ThermalProperties(7800, 50, 450),
            En12524,
            0.1,
            EmissivityTables + ": 0.07–0.1 polished; 0.75–0.85 rolled",
            new(Verdict.Take, 400, Verdict.Refuse, "Mild steel is unharmed.", Hazard.None),
            new(Verdict.Take, 400, Verdict.Refuse, "Mild steel is unharmed.", Hazard.None),
            "none in range",
            "EN 1993-1-2 strength kept up to 400 °C, from memory",
            false,
            "Coat soon after degreasing, or it rusts."
        ),
        new(
            "galv",
            "Galvanised steel",
            MaterialClass.Metal,
            new ThermalProperties(7800, 50, 450),
            En12524,
            0.25,
            "from memory: 0.2-0.3",
            new(Verdict.Take, 200, Verdict.Refuse, "The zinc layer holds up to 200 °C.", Hazard.Fume),
            new(
                Verdict.TestPiece,
                200,
                Verdict.Refuse,
                "The zinc layer may peel above 200 °C, and the press comes close to it.",
                Hazard.Fume
            ),
            "zinc layer peels: 200 °C for long, 350 °C for short; zinc melts at 419 °C",
            "metals trade reference pages, read (see docs/sources.md)",
            false,
            "Keep oven and press, with what they run over, at or below 200 °C. Zinc oxide fume comes with melting and welding heat, not here."
        ),
        new(
            "cu",
            "Copper",
            MaterialClass.Metal,
            new ThermalProperties(8900, 380, 380),
            En12524,
            0.04,
            EmissivityTables + ": 0.03–0.05 polished; 0.65 oxidised",
            new(Verdict.TestPiece, 150, Verdict.TestPiece, "Bare copper darkens in air from about 150 °C.", Hazard.Tint),
            new(Verdict.TestPiece, 150, Verdict.TestPiece, "Bare copper darkens in air from about 150 °C.", Hazard.Tint),
            "oxide tint from about 150 °C in air",
            Explanation.CommonPractice,
            false,
            "Darkens unless the coat covers it first; strip old lacquer."
        ),
        new(
            "brass",
            "Brass",
            MaterialClass.Metal,
            new ThermalProperties(8400, 120, 380),
            En12524,
            0.03,
            EmissivityTables + ": 0.03 polished; 0.5–0.6 oxidised",
            new(Verdict.TestPiece, 200, Verdict.Refuse, "Brass tints with heat, and factory lacquer must come off first.", Hazard.Tint),
            new(Verdict.TestPiece, 200, Verdict.TestPiece, "Brass tints with heat, and factory lacquer must come off first.", Hazard.Tint),
            "highest mechanical service temperature 180–200 °C",
            "materials property pages on brass, read (see docs/sources.md)",
            false,
            "No leaded brass for food."
        ),
        new(
            "zn",
            "Zinc, sheet or die-cast",
            MaterialClass.Metal,
            new ThermalProperties(7200, 110, 380),
            En12524,
            0.15,
            "from memory: 0.05-0.28",
            new(
                Verdict.TestPiece,
                200,
                Verdict.Refuse,
                "Die-cast zinc creeps and its plating may blister well below melting.",
                Hazard.Blister
            ),
            new(Verdict.Refuse, null, Verdict.Refuse, "Die-cast zinc creeps under pressure at press temperature.", Hazard.Soften),
            "melts at 419 °C; die-cast alloys from 381 °C",
            "419 °C read; 381 °C NADCA, from memory; creep and blisters common practice, no source",
            false,
            "Test pieces only."
        ),
        new(
            "sn",
            "Tinplate or tin",
            MaterialClass.Metal,
            new ThermalProperties(7310, 66.6, 227),
            "Incropera Table A.1, read",
            0.05,
            "from memory: 0.05",
            new(Verdict.Take, 200, Verdict.Refuse, "Tin melts at 232 °C, the cure stays well below.", Hazard.Melt),
            new(Verdict.TestPiece, 210, Verdict.Refuse, "Tin melts at 232 °C, little above the press.", Hazard.Melt),
            "melts at 231.9 °C (505 K)",
            "Incropera, Fundamentals of Heat and Mass Transfer, Table A.1, read",
            false,
            "Only 32–42 K between press and melting."
        ),
        new(
            "pewter",
            "Pewter",
            MaterialClass.Metal,
            null,
            NotMeasured,
            null,
            NotMeasured,
            new(Verdict.Refuse, null, Verdict.Refuse, "Pewter may melt from 170 °C, and nobody can see which alloy it is.", Hazard.Melt),
            new(Verdict.Refuse, null, Verdict.Refuse, "Pewter may melt from 170 °C, and nobody can see which alloy it is.", Hazard.Melt),
            "melts at 170–230 °C; lead-free 244–295 °C",
            "foundry reference pages, read (see docs/sources.md)",
            false,
            "Old pewter may hold lead."
        ),
        new(
            "solder",
            "Anything soft-soldered",
            MaterialClass.Metal,
            null,
            NotMeasured,
            null,
            NotMeasured,
            new(Verdict.Refuse, null, Verdict.Refuse, "Soft solder melts at 183 °C, only 23 K above the cure.", Hazard.Unsolder),
            new(Verdict.Refuse, null, Verdict.Refuse, "Soft solder melts at 183 °C, below the press.", Hazard.Unsolder),
            "eutectic 183 °C",
            "CRC Handbook, 22nd ed., as cited on a public page, read",
            false,
            "Lead fume and dust."
        ),
        new(
            "lead",
            "Lead",
            MaterialClass.Metal,
            new ThermalProperties(11300, 35, 130),
            En12524,
            0.3,
            EmissivityTables + ": 0.28–0.43",
            new(Verdict.Refuse, null, Verdict.Refuse, "Lead is poison by touch and dust.", Hazard.Poison),
            new(Verdict.Refuse, null, Verdict.Refuse, "Lead is poison by touch and dust, and soft.", Hazard.Poison),
            "melts at 327 °C (601 K)",
            "Incropera, Table A.1, read",
            false,
            "No food contact."
        ),
        new(
            "cd",
            "Cadmium-plated metal",
            MaterialClass.Metal,
            null,
            NotMeasured,
            null,
            NotMeasured,
            new(Verdict.Refuse, null, Verdict.Refuse, "Cadmium is poison and must be neither heated nor sanded.", Hazard.Poison),
            new(Verdict.Refuse, null, Verdict.Refuse, "Cadmium is poison and must be neither heated nor sanded.", Hazard.Poison),
            "service limit 232 °C, melts at 321 °C",
            "SAE AMS-QQ-P-416, from memory",
            false,
            "Do not sand: the dust is toxic."
        ),
    ];
}
