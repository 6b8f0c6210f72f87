using ShopFloor.Domain;
using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Office.Calculators;

/// <summary>The piece and its picture: can it take the heat, do the pixels suffice, which colours can it show.</summary>
internal sealed class PieceCalculators(CalculatorStart start)
{
    private const string Topic = "Piece and picture";

    private static readonly (string Key, string Text)[] Answers =
    [
        (nameof(Answer.No), "no"),
        (nameof(Answer.Unknown), "nobody knows"),
        (nameof(Answer.Yes), "yes"),
    ];

    public IEnumerable<Calculator> All() => [Heat, Resolution, Colour];

    private Calculator Heat =>
        new(
            "suitability",
            "Can it take the heat?",
            "The verdict on a material with a cure and a press temperature.",
            Topic,
            [
                new("material", "Material", start.AllMaterials),
                new(
                    "form",
                    "Form",
                    [(nameof(Form.Flat), "flat"), (nameof(Form.SlightlyCurved), "slightly curved"), (nameof(Form.Cylinder), "cylinder")]
                ),
                new("wrap", "Is there a wrap press?", [("no", "no"), ("yes", "yes")]),
                .. HiddenPartQuestion
                    .For(MaterialClass.Unknown, Form.Flat)
                    .Select(q => new CalculatorChoice(q.Part.ToString(), q.Question, Answers)),
            ],
            [
                new("cureCelsius", "Cure; empty when nothing is cured", "°C", 160, MayBeEmpty: true),
                new("pressCelsius", "Press; empty when nothing is pressed", "°C", 190, MayBeEmpty: true),
                new("overshootKelvin", "Overshoot", "K", Suitability.DefaultOvershootKelvin),
            ],
            v =>
                CalculatorAnswer.From(
                    Suitability.Judge(
                        v.Material("material"),
                        v.OrNull("cureCelsius"),
                        v.OrNull("pressCelsius"),
                        v.Choice<Form>("form"),
                        Hidden(v),
                        v.Choice("wrap") == "yes",
                        v["overshootKelvin"]
                    )
                )
        );

    private static Calculator Resolution { get; } =
        new(
            "resolution",
            "Do the pixels suffice?",
            "Pixels per printed inch against what the eye can tell apart.",
            Topic,
            [],
            [
                new("pixelsWide", "Pixels across, after the crop", "", 1600, IsWhole: true),
                new("pixelsHigh", "Pixels down, after the crop", "", 1200, IsWhole: true),
                new("printedWidthMm", "Printed width", "mm", 200),
                new("printedHeightMm", "Printed height", "mm", 150),
                new("viewingDistanceMm", "Looked at from", "mm", PictureResolution.DefaultDistanceMm),
                new("floorPpi", "Print nothing below", "ppi", PictureResolution.DefaultFloorPpi),
            ],
            v =>
                PictureResolution
                    .Judge(
                        v["pixelsWide"],
                        v["pixelsHigh"],
                        v["printedWidthMm"],
                        v["printedHeightMm"],
                        v["viewingDistanceMm"],
                        v["floorPpi"]
                    )
                    .Then(r =>
                        CalculatorAnswer.From(
                            Result<Domain.Quantities.Explained<EffectiveResolution>>.Ok(
                                r with
                                {
                                    Why = r.Why with { Answer = $"{r.Why.Answer}: {r.Value.Verdict.ToString().ToLowerInvariant()}" },
                                }
                            )
                        )
                    )
        );

    private Calculator Colour =>
        new(
            "colour",
            "A colour on its ground",
            "How a colour looks on bare metal, white ground, matt or behind glass.",
            Topic,
            [
                new(
                    "ground",
                    "Bare ground",
                    [
                        ("ss", "Stainless steel"),
                        ("al", "Aluminium"),
                        ("brass", "Brass"),
                        ("cu", "Copper"),
                        ("steel", "Mild steel"),
                        ("tile", "White ceramic"),
                    ]
                ),
                new(
                    "finish",
                    "Finish",
                    [
                        (nameof(Finish.ShowThrough), "show-through"),
                        (nameof(Finish.WhiteGround), "white ground"),
                        (nameof(Finish.VelvetMatt), "velvet matt"),
                        (nameof(Finish.BehindGlass), "behind glass"),
                    ]
                ),
            ],
            [
                new("red", "Red, 0 to 255", "", 240, IsWhole: true),
                new("green", "Green, 0 to 255", "", 230, IsWhole: true),
                new("blue", "Blue, 0 to 255", "", 200, IsWhole: true),
                new("coats", "Coats of white, matt or translucent", "", 1, IsWhole: true),
                new("thresholdDeltaE", "Difference that counts, ΔE₀₀", "", (double)start.VisibleDeltaE),
            ],
            OnGround
        );

    private static Result<CalculatorAnswer> OnGround(CalculatorValues v)
    {
        Refusal[] faults =
        [
            .. new[] { "red", "green", "blue" }
                .Where(name => v[name] is < 0 or > 255)
                .Select(name => new Refusal("number-out-of-range", "A colour value must be between 0 and 255.", name)),
            .. v["coats"] is < 1 or > 20
                ? new[] { new Refusal("number-out-of-range", "The number of coats must be between 1 and 20.", "coats") }
                : [],
        ];
        if (faults.Length > 0)
            return Result<CalculatorAnswer>.Refused(faults);
        var bare = GroundColours.ForMaterial(v.Choice("ground")) ?? GroundColours.Porcelain;
        var look = PrintLook.For(v.Choice<Finish>("finish"), bare, v.Whole("coats"));
        byte[] wanted = [(byte)v["red"], (byte)v["green"], (byte)v["blue"], 255];
        var shown = new byte[4];
        new GroundPreview(look).Render(wanted, shown);
        return PictureReach
            .Of(wanted, look, v["thresholdDeltaE"])
            .Then(reach =>
            {
                var can = reach.Value.UnreachableShare > 0 ? "cannot be reached" : "can be reached";
                var why = reach.Why with { Answer = $"{can}, ΔE {reach.Value.WorstDeltaE:0.#}" };
                return Result<CalculatorAnswer>.Ok(
                    new CalculatorAnswer(why, [new Swatch("wanted", Css(wanted)), new Swatch("on the piece", Css(shown))])
                );
            });
    }

    private static string Css(byte[] rgba) => string.Create(CultureInfo.InvariantCulture, $"rgb({rgba[0]} {rgba[1]} {rgba[2]})");

    private static HiddenParts Hidden(CalculatorValues v) =>
        new(
            v.Choice<Answer>(nameof(HiddenPart.SealedHollow)),
            v.Choice<Answer>(nameof(HiddenPart.FuelBatteryOrLiquid)),
            v.Choice<Answer>(nameof(HiddenPart.SolderedJoint)),
            v.Choice<Answer>(nameof(HiddenPart.GluedPart)),
            v.Choice<Answer>(nameof(HiddenPart.LaminatedLayer)),
            v.Choice<Answer>(nameof(HiddenPart.PlasticOrRubberInsert))
        );
}
