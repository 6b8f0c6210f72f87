using CsCheck;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Tests.Pricing;

/// <summary>An invented workshop's rates and work, and generators of others.</summary>
internal static class PricingExamples
{
    public static Money Eur(decimal amount) => new(amount, "EUR");

    public static RateCard Rates { get; } =
        new("rates-2026-01", new DateOnly(2026, 1, 1), Eur(36m), Eur(0.30m), [new("oven", Eur(2.40m)), new("press", Eur(3.00m))], 12m);

    public static PriceRule Rule { get; } =
        new(
            "rule-2026-01",
            new DateOnly(2026, 1, 1),
            ProfitKind.MarkUp,
            25m,
            Eur(15m),
            20m,
            [new(10, 5m), new(50, 12m)],
            [new("school", "schools", 10m)],
            30m,
            0.01m
        );

    /// <summary>Ten slates of the workshop's own stock, white ground.</summary>
    public static LineWork Slates { get; } =
        new(
            10,
            [
                new("promoter", "Promoter", 1m, Eur(0.04m)),
                new("white-base", "White base", 6m, Eur(0.05m)),
                new("clear", "Clear", 8m, Eur(0.06m)),
            ],
            new TransferUse(600m, Eur(0.001m)),
            Eur(0.15m),
            new AttendedTime(240m, 900m),
            [new("oven", "Oven", 1800m, 6m, 2000m, 60m), new("press", "Press", 150m, 1m, 1400m, 35m)],
            Eur(2.80m),
            new SpoilRisk(0.05m, Eur(0m))
        );

    public static PriceRequest Request { get; } = new(Slates, Rates, Rule);

    private static readonly decimal[] RoundSteps = [0.01m, 0.05m, 0.10m, 0.50m, 1m];

    private static readonly decimal?[] Taxes = [null, 0m, 5.5m, 19m, 20m, 25m];

    private static Gen<decimal> Cents(int to) => Gen.Int[0, to].Select(c => c / 100m);

    private static Gen<decimal> Fine(int to) => Gen.Int[0, to].Select(c => c / 10_000m);

    private static Gen<LineWork> Work { get; } =
        Gen.Select(
            Gen.Int[1, 400],
            Gen.Select(Fine(400_000), Fine(2_000)).Array[0, 4],
            Gen.Select(Fine(9_000_000), Fine(50), Cents(300)),
            Gen.Select(Gen.Int[0, 3600], Gen.Int[0, 7200]),
            Gen.Select(Gen.Int[60, 7200], Gen.Int[10, 300], Gen.Int[0, 3000], Gen.Int[0, 100]).Array[0, 4],
            Gen.Select(Cents(8000), Gen.Int[0, 90], Cents(50_000)),
            (pieces, coatings, transfer, attended, machines, risk) =>
                new LineWork(
                    pieces,
                    [.. coatings.Select((c, i) => new CoatingUse($"c{i}", $"Coating {i}", c.Item1, Eur(c.Item2)))],
                    new TransferUse(transfer.Item1, Eur(transfer.Item2)),
                    Eur(transfer.Item3),
                    new AttendedTime(attended.Item1, attended.Item2),
                    [
                        .. machines.Select(
                            (m, i) =>
                                new MachineTime(i % 2 == 0 ? "oven" : "press", $"Machine {i}", m.Item1, m.Item2 / 10m, m.Item3, m.Item4)
                        ),
                    ],
                    Eur(risk.Item1),
                    new SpoilRisk(risk.Item2 / 100m, Eur(risk.Item3))
                )
        );

    private static Gen<PriceRule> Rules { get; } =
        Gen.Select(
            Gen.Select(Gen.Bool, Gen.Int[0, 95]),
            Cents(9000),
            Gen.Int[0, 60],
            Gen.Select(Gen.Int[2, 300], Gen.Int[0, 90]),
            Gen.Int[0, 90],
            Gen.Int[0, 4].Select(i => RoundSteps[i]),
            (profit, minimum, rush, step, group, roundTo) =>
                new PriceRule(
                    "rule",
                    new DateOnly(2026, 1, 1),
                    profit.Item1 ? ProfitKind.Margin : ProfitKind.MarkUp,
                    profit.Item2,
                    Eur(minimum),
                    rush,
                    [new(step.Item1, step.Item2)],
                    [new("school", "schools", group)],
                    30m,
                    roundTo
                )
        );

    /// <summary>Lines, rules and customers of every sort.</summary>
    public static Gen<PriceRequest> Requests { get; } =
        Gen.Select(
            Work,
            Rules,
            Gen.Bool,
            Gen.Bool,
            Gen.Int[0, 5].Select(i => Taxes[i]),
            Gen.Select(Gen.Bool, Cents(20_000)),
            (work, rule, rush, school, tax, byHand) =>
                new PriceRequest(
                    work,
                    Rates,
                    rule,
                    rush,
                    school ? "school" : null,
                    tax,
                    byHand.Item1 ? new PriceOverride(Eur(byHand.Item2), "a friend") : null
                )
        );
}
