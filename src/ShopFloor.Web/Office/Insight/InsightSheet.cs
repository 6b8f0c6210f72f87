using ShopFloor.Domain.Yield;

namespace ShopFloor.Web.Office.Insight;

/// <summary>What revenue, cost and margin are grouped by.</summary>
public enum InsightBy
{
    Finish,
    Material,
    Customer,
}

/// <summary>Money of one group: pieces handed over in the month, less what credit notes of the month took back.</summary>
/// <param name="Name">Finish, material or customer.</param>
/// <param name="Pieces">Handed over.</param>
/// <param name="Revenue">Their agreed prices before tax, less what was taken back.</param>
/// <param name="Cost">Their actual cost.</param>
/// <param name="Credited">Taken back by credit notes, before tax; already taken off the revenue.</param>
public sealed record MoneyRow(string Name, int Pieces, decimal Revenue, decimal Cost, decimal Credited)
{
    /// <summary>What is left.</summary>
    public decimal Margin => Revenue - Cost;

    /// <summary>Margin in percent of the revenue; null without revenue.</summary>
    public decimal? Percent => Revenue == 0 ? null : Margin / Revenue * 100;
}

/// <summary>Hours of a machine.</summary>
/// <param name="Hours">Hours in which a batch ran in it: actual production time.</param>
/// <param name="OpenHours">Hours in which somebody was at work by the shifts: planned busy time.</param>
/// <param name="Pieces">Pieces that ran in it.</param>
public sealed record MachineRow(string Name, decimal Hours, decimal OpenHours, int Pieces)
{
    /// <summary>Availability in ISO 22400-2: actual production time ÷ planned busy time, %; may pass 100 when it ran outside shifts.</summary>
    public decimal? InUsePercent => OpenHours == 0 ? null : Hours / OpenHours * 100;
}

/// <summary>Yield of a finish in the month, on all materials or on one.</summary>
/// <param name="Name">The finish.</param>
/// <param name="Good">Checked good.</param>
/// <param name="Reworked">Of these, only after rework.</param>
/// <param name="Spoiled">Lost.</param>
/// <param name="Likely">The share of good pieces with the range it likely lies in.</param>
public sealed record YieldRow(string Name, int Good, int Reworked, int Spoiled, LikelyShare Likely)
{
    /// <summary>On which material; null: on all together.</summary>
    public string? Material { get; init; }

    /// <summary>Pieces that came to a judgement: produced quantity.</summary>
    public int Pieces => Good + Spoiled;

    /// <summary>First pass yield in ISO 22400-2: good the first time ÷ inspected, %.</summary>
    public decimal FirstPassPercent => Percent(Good - Reworked);

    /// <summary>Scrap ratio in ISO 22400-2: scrap quantity ÷ produced quantity, %.</summary>
    public decimal ScrapPercent => Percent(Spoiled);

    /// <summary>Rework ratio in ISO 22400-2: rework quantity ÷ produced quantity, %.</summary>
    public decimal ReworkPercent => Percent(Reworked);

    private decimal Percent(int part) => Pieces == 0 ? 0 : part * 100m / Pieces;
}

/// <summary>A step at which pieces of a finish on a material were lost or sent back.</summary>
/// <param name="Step">In words.</param>
/// <param name="Pieces">That went into it.</param>
/// <param name="Lost">Of these, lost for what was seen there.</param>
/// <param name="Reworked">Of these, sent back for it, and not lost.</param>
/// <param name="Likely">The share that came through right the first time, with the range it likely lies in.</param>
public sealed record StepLossRow(string Step, int Pieces, int Lost, int Reworked, LikelyShare Likely)
{
    /// <summary>First pass yield of the step, %.</summary>
    public decimal FirstPassPercent => Pieces == 0 ? 0 : (Pieces - Lost - Reworked) * 100m / Pieces;
}

/// <summary>How pieces of a finish on a material come through their steps.</summary>
/// <param name="Finish">The finish.</param>
/// <param name="Material">The material.</param>
/// <param name="Pieces">Judged in the month.</param>
/// <param name="RolledPercent">The share that comes right the first time through all steps: the product of their first pass yields, %.</param>
/// <param name="Steps">The steps at which something was lost or sent back, in their order.</param>
public sealed record StepLossGroup(string Finish, string Material, int Pieces, decimal RolledPercent, IReadOnlyList<StepLossRow> Steps);

/// <summary>Counts of one thing, for an ordered chart.</summary>
public sealed record CountRow(string Name, int Count);

/// <summary>One month in figures.</summary>
public sealed record MonthFigures
{
    public DateOnly Month { get; init; }
    public IReadOnlyDictionary<InsightBy, IReadOnlyList<MoneyRow>> Money { get; init; } =
        new Dictionary<InsightBy, IReadOnlyList<MoneyRow>>();
    public IReadOnlyList<MachineRow> Machines { get; init; } = [];
    public IReadOnlyList<YieldRow> Yields { get; init; } = [];

    /// <summary>The same of each finish on each material.</summary>
    public IReadOnlyList<YieldRow> MaterialYields { get; init; } = [];

    /// <summary>At which steps pieces were lost and sent back.</summary>
    public IReadOnlyList<StepLossGroup> StepLosses { get; init; } = [];

    /// <summary>Faults that were reported, most frequent first.</summary>
    public IReadOnlyList<CountRow> Faults { get; init; } = [];

    /// <summary>Pieces checked good, by week of the month.</summary>
    public IReadOnlyList<CountRow> Weeks { get; init; } = [];

    /// <summary>Orders that became complete in the month.</summary>
    public int Completed { get; init; }

    /// <summary>Of these, complete by their promise.</summary>
    public int Kept { get; init; }

    /// <summary>Hours in which somebody was at work by the shifts.</summary>
    public decimal OpenHours { get; init; }

    public decimal Revenue => Money.GetValueOrDefault(InsightBy.Finish)?.Sum(m => m.Revenue) ?? 0;
    public decimal Cost => Money.GetValueOrDefault(InsightBy.Finish)?.Sum(m => m.Cost) ?? 0;
    public decimal Credited => Money.GetValueOrDefault(InsightBy.Finish)?.Sum(m => m.Credited) ?? 0;
    public int HandedOver => Money.GetValueOrDefault(InsightBy.Finish)?.Sum(m => m.Pieces) ?? 0;

    /// <summary>Pieces checked good.</summary>
    public int Good => Yields.Sum(y => y.Good);

    /// <summary>Share of pieces good the first time, %; null: none was judged.</summary>
    public decimal? FirstPassPercent =>
        Yields.Sum(y => y.Pieces) is > 0 and var all ? Yields.Sum(y => y.Good - y.Reworked) * 100m / all : null;

    /// <summary>Share of promises kept, %; null: no order became complete.</summary>
    public decimal? KeptPercent => Completed == 0 ? null : Kept * 100m / Completed;

    /// <summary>Good pieces in an open hour, after the throughput rate of ISO 22400-2, with open hours for the time of execution.</summary>
    public decimal? GoodPerHour => OpenHours == 0 ? null : Good / OpenHours;

    /// <summary>Less than these hours of a machine say nothing of a month (common practice, no source).</summary>
    private const decimal LeastHours = 0.1m;

    /// <summary>What an hour of a machine left, over all its pieces: the margin of the month ÷ its hours; null: it ran too little to say so.</summary>
    public decimal? MarginPerHour(MachineRow machine) => machine.Hours < LeastHours ? null : (Revenue - Cost) / machine.Hours;
}

/// <summary>A month beside the one before.</summary>
public sealed record InsightSheet(MonthFigures This, MonthFigures Before, string Currency, bool IsRunning);
