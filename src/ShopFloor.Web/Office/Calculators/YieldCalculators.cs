using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Yield;

namespace ShopFloor.Web.Office.Calculators;

/// <summary>Yield, spare blanks, expected loss, energy.</summary>
internal static class YieldCalculators
{
    private const string Topic = "Yield and energy";
    private const int MostSteps = 6;

    public static IEnumerable<Calculator> All() => [Rate, Rolled, Blanks, Loss, Energy];

    private static Calculator Rate { get; } =
        new(
            "likely",
            "How sure is a yield?",
            "The range that the true share of good pieces likely lies in.",
            Topic,
            [],
            [new("good", "Good pieces", "", 34, IsWhole: true), new("total", "Of how many", "", 40, IsWhole: true)],
            v => CalculatorAnswer.From(RejectRate.Likely(v.Whole("good"), v.Whole("total")))
        );

    private static Calculator Rolled { get; } =
        new(
            "rolled",
            "Right first time through all steps",
            "What the yields of the single steps come to together.",
            Topic,
            [],
            [
                .. Enumerable
                    .Range(1, MostSteps)
                    .Select(i => new CalculatorNumber(
                        Step(i),
                        $"Step {i}",
                        "%",
                        i <= 3 ? 95 : null,
                        MayBeEmpty: true,
                        Least: 0,
                        Most: 100
                    )),
            ],
            v =>
                CalculatorAnswer.From(
                    ProcessYield.Rolled([
                        .. Enumerable
                            .Range(1, MostSteps)
                            .Select(i => v.OrNull(Step(i)) / 100)
                            .Where(y => y is not null)
                            .Select(y => y!.Value),
                    ])
                )
        );

    private static Calculator Blanks { get; } =
        new(
            "blanks",
            "Blanks to start",
            "How many stock blanks to start so that enough come out good.",
            Topic,
            [],
            [
                new("good", "Good pieces wanted", "", 25, IsWhole: true),
                new("yield", "Share that comes out good, 0 to 1", "", 0.95),
                new("certainty", "Wanted certainty, 0 to 1", "", 0.95),
            ],
            v => CalculatorAnswer.From(ProcessYield.BlanksToStart(v.Whole("good"), v["yield"], v["certainty"]))
        );

    private static Calculator Loss { get; } =
        new(
            "loss",
            "Expected loss of an own piece",
            "What the risk on a piece that cannot be made again is worth.",
            Topic,
            [],
            [
                new("rejects", "Lost so far, of the kind", "", 1, IsWhole: true),
                new("pieces", "Made so far, of the kind", "", 30, IsWhole: true),
                new("declaredValue", "Declared value", "", 80),
            ],
            v => CalculatorAnswer.From(ProcessYield.ExpectedLoss(v.Whole("rejects"), v.Whole("pieces"), (decimal)v["declaredValue"]))
        );

    private static Calculator Energy { get; } =
        new(
            "energy",
            "Energy of a station",
            "Kilowatt hours from power, time and how much of it the heater is on.",
            Topic,
            [],
            [
                new("watts", "Power", "W", 1500),
                new("hours", "Time switched on", "h", 0.5),
                new("duty", "Share of it that the heater is on, 0 to 1", "", 0.6),
            ],
            v => CalculatorAnswer.From(EnergyUse.KilowattHours(v["watts"], v["hours"], v["duty"]))
        );

    private static string Step(int number) => string.Create(CultureInfo.InvariantCulture, $"step{number}");
}
