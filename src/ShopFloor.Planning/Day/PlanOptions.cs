using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>How long and how the planner searches. The plan depends on the day, the seed, the chains and the finished rounds alone.</summary>
public sealed record PlanOptions
{
    /// <summary>Seed of the search.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Independent searches side by side; they run on as many threads. 1 to 64.</summary>
    public int Chains { get; init; } = 2;

    /// <summary>Rounds of search after the first plan; 0: the first plan only.</summary>
    public int Rounds { get; init; } = 20;

    /// <summary>Fingerprint of the day file's bytes; null: of the day as this program writes it.</summary>
    public string? DaySha256 { get; init; }
}

/// <summary>How far the search has come.</summary>
/// <param name="Round">Finished rounds.</param>
/// <param name="Rounds">Rounds in all.</param>
/// <param name="Value">Value of the best plan so far.</param>
/// <param name="Bound">What no plan can go below.</param>
public readonly record struct PlanProgress(int Round, int Rounds, long Value, long Bound);
