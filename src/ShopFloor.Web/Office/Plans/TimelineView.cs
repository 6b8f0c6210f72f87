using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Plans;

/// <summary>A bar in the timeline, of one task or of short ones in a row. Seconds from the plan's zero.</summary>
/// <param name="Kind">Kind of task; <c>several</c> for different ones in a row.</param>
/// <param name="Text">What stands on it.</param>
/// <param name="From">Start.</param>
/// <param name="To">End.</param>
/// <param name="Lane">Lane within its row, from 0.</param>
/// <param name="IsRunning">True when it had begun when the plan was made.</param>
public sealed record TimelineBar(string Kind, string Text, int From, int To, int Lane, bool IsRunning)
{
    /// <summary>The tasks it stands for, by start.</summary>
    public IReadOnlyList<PlanTask> Tasks { get; init; } = [];
}

/// <summary>A station or a person with its bars.</summary>
/// <param name="Name">Who or what.</param>
/// <param name="Lanes">How many bars lie above each other.</param>
/// <param name="Bars">By start.</param>
/// <param name="Away">Times outside shifts or down.</param>
/// <param name="Waiting">For a rack instead of bars: how many pieces rest there, and from when to when.</param>
public sealed record TimelineRow(
    string Name,
    int Lanes,
    IReadOnlyList<TimelineBar> Bars,
    IReadOnlyList<(int From, int To)> Away,
    IReadOnlyList<(int From, int To, int Pieces)> Waiting
);

/// <summary>A piece that the plan brings late or leaves out.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Order">Its order.</param>
/// <param name="Text">How late, or why it is left out.</param>
/// <param name="Made">What its time goes into, longest first; empty for a piece left out.</param>
/// <param name="Helps">What would help; null when nobody tried.</param>
public sealed record PlanTrouble(string Piece, string Order, string Text, string Made, string? Helps);

/// <summary>A transfer that must be printed, and by when.</summary>
/// <param name="Order">For which order.</param>
/// <param name="Pieces">How many.</param>
/// <param name="By">Latest, shop-local.</param>
public sealed record PrintDue(int Order, int Pieces, DateTime By);

/// <summary>The published plan as the Office shows it.</summary>
public sealed record Timeline(
    int Number,
    DateTimeOffset At,
    string Note,
    DateTimeOffset Zero,
    TimeZoneInfo Zone,
    TimelineAxis Axis,
    Objective Objective,
    IReadOnlyList<TimelineRow> Rows,
    IReadOnlyList<PlanTrouble> Troubles,
    IReadOnlyList<PrintDue> Prints,
    SearchNote Search
)
{
    /// <summary>The tasks of the hours shown, by start.</summary>
    public IReadOnlyList<PlanTask> Shown { get; init; } = [];

    /// <summary>The loads and sessions that begin in the hours shown.</summary>
    public IReadOnlyList<PlannedBatch> Batches { get; init; } = [];

    /// <summary>The spray rounds that begin in the hours shown, with what they save.</summary>
    public IReadOnlyList<PlannedRound> Rounds { get; init; } = [];

    /// <summary>Says why a task stands where it does.</summary>
    public required WhyWords Why { get; init; }

    /// <summary>Loads that run and must come out while nobody is there, with the latest time, shop-local.</summary>
    public IReadOnlyList<(string Load, DateTime By)> Unattended { get; init; } = [];

    /// <summary>Whether work by hand is planned after the hours shown.</summary>
    public bool HasMore { get; init; }

    /// <summary>The shop's clock at a second of the plan.</summary>
    public DateTime Clock(int second) => TimeZoneInfo.ConvertTime(Zero.AddSeconds(second), Zone).DateTime;

    /// <summary>The same in words.</summary>
    public string ClockText(int second, bool withDay = false) =>
        string.Format(CultureInfo.CurrentCulture, withDay ? "{0:ddd} {0:t}" : "{0:t}", Clock(second));
}

/// <summary>Reads the published plan for the Office.</summary>
public sealed class TimelineView(PlanShelf shelf, IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The plan; null while there is none.</summary>
    /// <param name="skip">Working hours of the plan that lie before the picture.</param>
    /// <param name="cancel">Ends the reading.</param>
    public async Task<Timeline?> LoadAsync(int skip, CancellationToken cancel = default)
    {
        if (await shelf.LatestAsync(cancel) is not { } read)
            return null;
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var zero = TimeZoneInfo.ConvertTime(read.Zero, settings.Zone);
        // The picture begins at a full hour of the shop's clock.
        var axis = TimelineAxis.Of(read.Day, read.Plan, -(int)zero.TimeOfDay.TotalSeconds % 3600, skip);
        var words = await PlanWords.LoadAsync(context, cancel);
        // A second of the plan is a moment first: between it and the zero the clock may have been changed.
        DateTimeOffset Local(int second) => TimeZoneInfo.ConvertTime(read.Instant(second), settings.Zone);
        var why = new WhyWords(read.Day, read.Plan, words, s => ShopClock.At(Local(s), zero));
        var unprinted = await context.Orders.Where(o => o.PrintedAt == null).Select(o => o.Number).ToListAsync(cancel);
        var missing = await PrintedParts.MissingAsync(context, null, cancel);
        var loads = await context.Batches.AsNoTracking().Where(b => b.State == BatchState.Running).ToListAsync(cancel);
        return new Timeline(
            read.Number,
            read.At,
            read.Note,
            zero,
            settings.Zone,
            axis,
            read.Plan.Objective,
            TimelineRows.Of(read.Day, read.Plan, axis, words),
            [.. await FaultyAsync(context, read, cancel), .. Troubles(read, s => ShopClock.At(Local(s), zero), why)],
            Prints(read, s => Local(s).DateTime, ([.. unprinted], missing), settings.Profile.TransferDryMinutes * 60),
            read.Plan.Search
        )
        {
            Why = why,
            Shown = [.. read.Plan.Tasks.Where(t => t.StartS < axis.To && (t.EndS ?? t.StartS) > axis.From)],
            Batches = BatchSheets.Of(read.Day, read.Plan, axis, (words, why), await RoundPieces.OfAsync(context, read.Plan, cancel)),
            Rounds = [.. PlannedRounds.Of(read.Day, read.Plan, words).Where(r => r.FirstS >= axis.From && r.FirstS < axis.To)],
            Unattended =
            [
                .. UnattendedLoads
                    .Of(read, loads, time.GetUtcNow())
                    .Select(u => (u.Load.Code, TimeZoneInfo.ConvertTime(u.By, settings.Zone).DateTime)),
            ],
            HasMore = read.Plan.Tasks.Any(t => t.Person is not null && t.StartS >= axis.To),
        };
    }

    private static async Task<IEnumerable<PlanTrouble>> FaultyAsync(ShopContext context, ReadPlan read, CancellationToken cancel)
    {
        var planned = read.Day.Pieces.Select(p => p.Id).ToHashSet(StringComparer.Ordinal);
        return (await FaultyPieces.ReadAsync(context, planned, cancel)).Select(f => new PlanTrouble(
            f.Code,
            f.Order.ToString(CultureInfo.InvariantCulture),
            f.Reason,
            "",
            null
        ));
    }

    private static List<PlanTrouble> Troubles(ReadPlan read, Func<int, string> clock, WhyWords why)
    {
        var pieces = read.Day.Pieces.ToDictionary(p => p.Id, StringComparer.Ordinal);
        var helps = read
            .Plan.Why.Where(w => w.Helps is not null && w.Piece is not null)
            .GroupBy(w => w.Piece!, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.First().Helps, StringComparer.Ordinal);
        var left = read.Plan.LeftOut.Select(l => new PlanTrouble(l.Piece, pieces[l.Piece].Order, l.Text, "", null)).ToList();
        var ends = PlanEnds.Of(read.Plan);
        var late = pieces
            .Values.Where(p => ends.TryGetValue(p.Id, out var end) && end > p.PromiseS && left.TrueForAll(l => l.Piece != p.Id))
            .OrderBy(p => p.PromiseS)
            .ThenBy(p => p.Id, StringComparer.Ordinal)
            .Select(p => new PlanTrouble(
                p.Id,
                p.Order,
                $"{PlanWords.Long(ends[p.Id] - p.PromiseS)} late, ready {clock(ends[p.Id])}",
                why.TimeOf(p.Id),
                helps.GetValueOrDefault(p.Id)
            ));
        return [.. left, .. late];
    }

    private static List<PrintDue> Prints(
        ReadPlan read,
        Func<int, DateTime> local,
        (HashSet<int> Orders, IReadOnlySet<string> Pieces) unprinted,
        int drySeconds
    )
    {
        var order = read.Day.Pieces.ToDictionary(p => p.Id, p => p.Order, StringComparer.Ordinal);
        return
        [
            .. read
                .Plan.Tasks.Where(t => t.Kind == "tape" && t.Piece is not null)
                .Where(t =>
                    unprinted.Pieces.Contains(t.Piece!)
                    || (
                        int.TryParse(order[t.Piece!], NumberStyles.None, CultureInfo.InvariantCulture, out var n)
                        && unprinted.Orders.Contains(n)
                    )
                )
                .GroupBy(t => order[t.Piece!], StringComparer.Ordinal)
                .Select(g => new PrintDue(
                    int.Parse(g.Key, CultureInfo.InvariantCulture),
                    g.Count(),
                    local(g.Min(t => t.StartS) - drySeconds)
                ))
                .OrderBy(p => p.By),
        ];
    }
}
