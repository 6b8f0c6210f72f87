using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Yield;

/// <summary>How long an attended step really takes for one piece of a finish.</summary>
/// <param name="Finish">Which finish.</param>
/// <param name="Kind">Which step.</param>
/// <param name="Seconds">Robust mean, seconds.</param>
/// <param name="Used">Measurements that went in.</param>
/// <param name="LeftOut">Measurements left out as mishaps.</param>
public sealed record MeasuredStep(Finish Finish, StepKind Kind, decimal Seconds, int Used, int LeftOut);

/// <summary>How many pieces of a finish were lost, of all materials or of one.</summary>
/// <param name="Finish">Which finish.</param>
/// <param name="Lost">Spoiled.</param>
/// <param name="Pieces">All that came to an end, good or bad.</param>
/// <param name="Material">Key of the material; empty: all of them together.</param>
public sealed record MeasuredLoss(Finish Finish, int Lost, int Pieces, string Material = "")
{
    /// <summary>True when there are enough of them to count by.</summary>
    public bool IsEnough => Pieces >= MeasuredShop.EnoughPieces;

    /// <summary>Chance of losing one by Laplace's rule of succession, (lost + 1) ÷ (pieces + 2), at most 0.9.</summary>
    public decimal Chance => Math.Min(0.9m, (Lost + 1m) / (Pieces + 2m));

    /// <summary>What pieces that came to an end tell, of each finish and of each of its materials.</summary>
    public static IReadOnlyList<MeasuredLoss> Of(IEnumerable<(Finish Finish, string Material, bool IsLost)> pieces) =>
        [
            .. pieces
                .SelectMany(p => new[] { p, p with { Material = "" } })
                .GroupBy(p => (p.Finish, p.Material))
                .Select(g => new MeasuredLoss(g.Key.Finish, g.Count(p => p.IsLost), g.Count(), g.Key.Material)),
        ];
}

/// <summary>What the workshop measured of itself up to a day; it replaces estimates in prices and plans once there is enough of it.</summary>
public sealed record MeasuredShop
{
    /// <summary>Pieces that must have come to an end before their loss counts: 20, common practice, no source.</summary>
    public const int EnoughPieces = 20;

    /// <summary>Steps with enough measurements.</summary>
    public IReadOnlyList<MeasuredStep> Steps { get; init; } = [];

    /// <summary>Losses of every finish that was made, all materials together and each by itself.</summary>
    public IReadOnlyList<MeasuredLoss> Losses { get; init; } = [];

    /// <summary>The steps with measured times in place of the recipe's, where there are any.</summary>
    public IReadOnlyList<RecipeStep> Apply(Finish finish, IReadOnlyList<RecipeStep> steps) =>
        [.. steps.Select(s => Step(finish, s.Kind) is { } m ? s with { LengthSeconds = WholeSeconds(m) } : s)];

    /// <summary>The measured time of a step; null: too few measurements, or a step that is not attended.</summary>
    public MeasuredStep? Step(Finish finish, StepKind kind) =>
        kind.NeedsHands() ? Steps.FirstOrDefault(s => s.Finish == finish && s.Kind == kind) : null;

    /// <summary>Chance of losing a piece of a finish on a material; where there are too few of the material, of the finish; null: too few of both.</summary>
    public decimal? Loss(Finish finish, string material) => (Enough(finish, material) ?? Enough(finish, ""))?.Chance;

    private MeasuredLoss? Enough(Finish finish, string material) =>
        Losses.FirstOrDefault(l => l.Finish == finish && l.Material == material && l.IsEnough);

    /// <summary>What measurements tell.</summary>
    /// <param name="shares">Runs with their shares, each with the finish of its piece.</param>
    /// <param name="losses">Losses of each finish, and of each on its materials.</param>
    public static MeasuredShop From(IEnumerable<(Finish Finish, TimeShare Share)> shares, IEnumerable<MeasuredLoss> losses) =>
        new()
        {
            Steps =
            [
                .. shares
                    .GroupBy(s => (s.Finish, s.Share.Run.Step.Kind))
                    .OrderBy(g => g.Key)
                    .Select(g => Mean(g.Key.Finish, g.Key.Kind, TimeShares.Hands(g.Select(s => s.Share))))
                    .OfType<MeasuredStep>(),
            ],
            Losses = [.. losses.OrderBy(l => l.Finish).ThenBy(l => l.Material, StringComparer.Ordinal)],
        };

    private static MeasuredStep? Mean(Finish finish, StepKind kind, IReadOnlyList<double> minutes)
    {
        var mean = MeasuredMinutes.Of(minutes, 0).Value.Value;
        return mean.IsMeasured ? new MeasuredStep(finish, kind, Math.Round((decimal)mean.Minutes * 60, 1), mean.Used, mean.LeftOut) : null;
    }

    private static int WholeSeconds(MeasuredStep measured) => Math.Max(1, (int)Math.Round(measured.Seconds, MidpointRounding.AwayFromZero));
}
