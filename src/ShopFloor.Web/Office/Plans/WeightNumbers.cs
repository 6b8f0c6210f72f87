using ShopFloor.Domain;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Plans;

/// <summary>What plans are judged by, as the owner weighs it.</summary>
public static class WeightNumbers
{
    /// <summary>Largest weight: sums of a long day stay exact.</summary>
    public const long Most = 100_000_000;

    /// <summary>The parts in order of importance, each with what one unit of it costs.</summary>
    public static IReadOnlyList<NumberOf<Weights>> All { get; } =
    [
        Of(nameof(Weights.LeftOut), "left_out", "points a piece", w => w.LeftOut, (w, v) => w with { LeftOut = v }),
        Of(nameof(Weights.LateS), "late_s", "points a second", w => w.LateS, (w, v) => w with { LateS = v }),
        Of(nameof(Weights.LatePieces), "late_pieces", "points a piece", w => w.LatePieces, (w, v) => w with { LatePieces = v }),
        Of(nameof(Weights.OvertimeS), "overtime_s", "points a second", w => w.OvertimeS, (w, v) => w with { OvertimeS = v }),
        Of(nameof(Weights.OvenLoads), "oven_loads", "points a load", w => w.OvenLoads, (w, v) => w with { OvenLoads = v }),
        Of(nameof(Weights.OvenS), "oven_s", "points a second", w => w.OvenS, (w, v) => w with { OvenS = v }),
        Of(nameof(Weights.Shakes), "shakes", "points a shake", w => w.Shakes, (w, v) => w with { Shakes = v }),
        Of(nameof(Weights.SetPoints), "set_points", "points a change", w => w.SetPoints, (w, v) => w with { SetPoints = v }),
        Of(nameof(Weights.FinishS), "finish_s", "points a second", w => w.FinishS, (w, v) => w with { FinishS = v }),
        Of(nameof(Weights.Changed), "changed", "points a step", w => w.Changed, (w, v) => w with { Changed = v }),
    ];

    /// <summary>A part of the objective in words.</summary>
    /// <param name="part">Its name in a plan file.</param>
    public static string Words(string part) =>
        part switch
        {
            "left_out" => "Pieces left out",
            "late_s" => "Lateness, times the weight of the piece",
            "late_pieces" => "Late pieces",
            "overtime_s" => "Overtime",
            "oven_loads" => "Oven loads",
            "oven_s" => "Time in the oven",
            "shakes" => "Shakes",
            "set_points" => "Set-point changes",
            "finish_s" => "Until the last work ends",
            "changed" => "Near steps moved against the last plan",
            _ => throw new ArgumentOutOfRangeException(nameof(part), part, "No such part."),
        };

    /// <summary>What is wrong, beside its field; empty when the planner can work with it.</summary>
    public static IReadOnlyList<Refusal> Check(Weights weights) =>
        [
            .. All.Where(n => n.Get(weights) is < 0 or > Most).Select(n => new Refusal("weight-range", $"{n.Label}: {Range}", n.Name)),
            .. weights.LeftOut > 0
                ? (Refusal[])[]
                :
                [
                    new(
                        "weight-left-out",
                        "What is left out must cost something: with 0 the best plan would be to do nothing.",
                        nameof(Weights.LeftOut)
                    ),
                ],
        ];

    private static string Range => string.Create(CultureInfo.InvariantCulture, $"a whole number from 0 to {Most:N0}.");

    private static NumberOf<Weights> Of(
        string name,
        string part,
        string unit,
        Func<Weights, long> get,
        Func<Weights, long, Weights> with
    ) => new(name, Words(part), unit, w => get(w), (w, v) => with(w, Whole(v!.Value)));

    private static long Whole(decimal typed) =>
        typed == decimal.Truncate(typed)
            ? decimal.ToInt64(typed)
            : throw new ArgumentOutOfRangeException(nameof(typed), typed, "A whole number is needed.");
}
