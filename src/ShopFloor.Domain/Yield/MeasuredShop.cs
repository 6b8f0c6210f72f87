using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Yield;

/// <summary>How long an attended step really takes for one piece of a finish.</summary>
/// <param name="Finish">Which finish.</param>
/// <param name="Kind">Which step.</param>
/// <param name="Seconds">Robust mean, seconds.</param>
/// <param name="Used">Measurements that went in.</param>
/// <param name="LeftOut">Measurements left out as mishaps.</param>
public sealed record MeasuredStep(Finish Finish, StepKind Kind, decimal Seconds, int Used, int LeftOut);

/// <summary>How many pieces of a finish were lost.</summary>
/// <param name="Finish">Which finish.</param>
/// <param name="Lost">Spoiled.</param>
/// <param name="Pieces">All that came to an end, good or bad.</param>
public sealed record MeasuredLoss(Finish Finish, int Lost, int Pieces);

/// <summary>What the workshop measured of itself up to a day; it replaces estimates in prices and plans once there is enough of it.</summary>
public sealed record MeasuredShop
{
    /// <summary>Pieces that must have come to an end before their loss counts: 20, common practice, no source.</summary>
    public const int EnoughPieces = 20;

    /// <summary>Steps with enough measurements.</summary>
    public IReadOnlyList<MeasuredStep> Steps { get; init; } = [];

    /// <summary>Losses of every finish that was made.</summary>
    public IReadOnlyList<MeasuredLoss> Losses { get; init; } = [];

    /// <summary>The steps with measured times in place of the recipe's, where there are any.</summary>
    public IReadOnlyList<RecipeStep> Apply(Finish finish, IReadOnlyList<RecipeStep> steps) =>
        [.. steps.Select(s => Step(finish, s.Kind) is { } m ? s with { LengthSeconds = WholeSeconds(m) } : s)];

    /// <summary>The measured time of a step; null: too few measurements, or a step that is not attended.</summary>
    public MeasuredStep? Step(Finish finish, StepKind kind) =>
        kind.NeedsHands() ? Steps.FirstOrDefault(s => s.Finish == finish && s.Kind == kind) : null;

    /// <summary>Chance of losing a piece by Laplace's rule of succession, (lost + 1) ÷ (pieces + 2); null: too few pieces yet.</summary>
    public decimal? Loss(Finish finish) =>
        Losses.FirstOrDefault(l => l.Finish == finish) is { Pieces: >= EnoughPieces } l
            ? Math.Min(0.9m, (l.Lost + 1m) / (l.Pieces + 2m))
            : null;

    /// <summary>What measurements tell.</summary>
    /// <param name="shares">Runs with their shares, each with the finish of its piece.</param>
    /// <param name="losses">Losses of each finish.</param>
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
            Losses = [.. losses.OrderBy(l => l.Finish)],
        };

    private static MeasuredStep? Mean(Finish finish, StepKind kind, IReadOnlyList<double> minutes)
    {
        var mean = MeasuredMinutes.Of(minutes, 0).Value.Value;
        return mean.IsMeasured ? new MeasuredStep(finish, kind, Math.Round((decimal)mean.Minutes * 60, 1), mean.Used, mean.LeftOut) : null;
    }

    private static int WholeSeconds(MeasuredStep measured) => Math.Max(1, (int)Math.Round(measured.Seconds, MidpointRounding.AwayFromZero));
}
