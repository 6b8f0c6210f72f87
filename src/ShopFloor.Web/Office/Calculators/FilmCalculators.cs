using ShopFloor.Domain.Film;

namespace ShopFloor.Web.Office.Calculators;

/// <summary>Coating: how much, how many cans, and the weighing that sets the workshop's own numbers.</summary>
internal static class FilmCalculators
{
    private const string Topic = "Coating and cans";

    private static readonly CalculatorNumber[] Film =
    [
        new("DryFilmMicrometres", "Dry film of one coat", "µm", 12),
        new("VolumeSolidsPercent", "Solids by volume, of the whole can", "%", 10),
        new("TransferEfficiencyPercent", "Share of the spray that stays", "%", 50),
        new("OverspraySideMm", "Sprayed past each edge", "mm", 30),
        new("CanMillilitres", "Content of a full can", "ml", 400),
    ];

    public static IEnumerable<Calculator> All() => [Piece, Round, Cans, Weighing, Reorder];

    private static Calculator Piece { get; } =
        new(
            "piece",
            "Coating for one piece",
            "How many millilitres a piece takes when it is sprayed by itself.",
            Topic,
            [],
            [
                new("faceWidthMm", "Width of the picture side", "mm", 200),
                new("faceHeightMm", "Height of the picture side", "mm", 150),
                new("coats", "Coats", "", 1, IsWhole: true),
                .. Film,
            ],
            v => CalculatorAnswer.From(CoatingUse.MillilitresPerPiece(v["faceWidthMm"], v["faceHeightMm"], v.Whole("coats"), FilmOf(v)))
        );

    private static Calculator Round { get; } =
        new(
            "round",
            "Coating for a spray round",
            "What pieces laid close together take, and what that saves.",
            Topic,
            [],
            [
                new("pieces", "Pieces alike", "", 6, IsWhole: true),
                new("across", "Side by side in a row", "", 3, IsWhole: true, Least: 1, Most: 500),
                new("gap", "Gap between them", "mm", 10, Least: 0, Most: 3000),
                new("width", "Width of each", "mm", 85, Least: 0.1, Most: 3000),
                new("height", "Height of each", "mm", 55, Least: 0.1, Most: 3000),
                new("coats", "Coats", "", 1, IsWhole: true),
                .. Film,
            ],
            v => CalculatorAnswer.From(CoatingUse.ForRound(Laid(v), v.Whole("coats"), FilmOf(v)))
        );

    private static Calculator Cans { get; } =
        new(
            "cans",
            "Cans for a job",
            "How many full cans a job opens, and what is left in the last.",
            Topic,
            [],
            [
                new("neededMillilitres", "Coating needed", "ml", 620),
                new("openCanMillilitres", "Left in the open can", "ml", 150),
                new("canMillilitres", "Content of a full can", "ml", 400),
            ],
            v => CalculatorAnswer.From(CoatingUse.Cans(v["neededMillilitres"], v["openCanMillilitres"], v["canMillilitres"]))
        );

    private static Calculator Weighing { get; } =
        new(
            "weighing",
            "Solids and transfer by weighing",
            "First spray into a tared tin and bake it dry; then coat a flat panel and bake it. A scale that reads 0.01 g does it.",
            Topic,
            [],
            [
                new("tinCanBefore", "Tin: can before", "g", 412.40, Least: 1, Most: 2000),
                new("tinCanAfter", "Tin: can after", "g", 402.10, Least: 0, Most: 2000),
                new("TinEmptyGrams", "Tin: empty", "g", 18.20),
                new("TinBakedGrams", "Tin: with the baked residue", "g", 19.75),
                new("ContentDensityGMl", "Density of the can's content", "g/ml", 0.80),
                new("FilmDensityGMl", "Density of the dry film", "g/ml", 1.20),
                new("CanBeforeGrams", "Panel: can before", "g", 402.10),
                new("CanAfterGrams", "Panel: can after", "g", 393.90),
                new("PanelBareGrams", "Panel: bare", "g", 324.00),
                new("PanelBakedGrams", "Panel: with the baked coat", "g", 324.42),
                new("PanelWidthMm", "Panel: width", "mm", 200),
                new("PanelHeightMm", "Panel: height", "mm", 150),
                new("OverspraySideMm", "Sprayed past each edge", "mm", 30),
                new("Coats", "Coats", "", 1, IsWhole: true),
            ],
            v => CalculatorAnswer.From(FilmCalibration.From(Caught(v), Panel(v)), found => new MeasuredFilm(found))
        );

    private static Calculator Reorder { get; } =
        new(
            "reorder",
            "When to order again",
            "The stock at which the next order must go out.",
            Topic,
            [],
            [
                new("millilitresPerDay", "Use a day", "ml", 120),
                new("deliveryDays", "Days until it arrives", "days", 5),
                new("reserveDays", "Days kept in reserve", "days", 3),
            ],
            v => CalculatorAnswer.From(CoatingUse.ReorderPointMillilitres(v["millilitresPerDay"], v["deliveryDays"], v["reserveDays"]))
        );

    private static FilmSettings FilmOf(CalculatorValues v) =>
        new(v["DryFilmMicrometres"], v["VolumeSolidsPercent"], v["TransferEfficiencyPercent"], v["OverspraySideMm"], v["CanMillilitres"]);

    // Never more rectangles than the domain will refuse anyway.
    private static SprayedRectangle[] Laid(CalculatorValues v)
    {
        var (count, across) = (Math.Clamp(v.Whole("pieces"), 0, 501), v.Whole("across"));
        return
        [
            .. Enumerable
                .Range(0, count)
                .Select(i => new SprayedRectangle(
                    i % across * (v["width"] + v["gap"]),
                    i / across * (v["height"] + v["gap"]),
                    v["width"],
                    v["height"]
                )),
        ];
    }

    private static CatchWeighing Caught(CalculatorValues v) =>
        new(v["tinCanBefore"], v["tinCanAfter"], v["TinEmptyGrams"], v["TinBakedGrams"], v["ContentDensityGMl"], v["FilmDensityGMl"]);

    private static PanelWeighing Panel(CalculatorValues v) =>
        new(
            v["CanBeforeGrams"],
            v["CanAfterGrams"],
            v["PanelBareGrams"],
            v["PanelBakedGrams"],
            v["PanelWidthMm"],
            v["PanelHeightMm"],
            v["OverspraySideMm"],
            v.Whole("Coats")
        );
}
