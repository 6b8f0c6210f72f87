using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Plans;

/// <summary>A bar in the timeline, of one task or of short ones in a row. Seconds from the plan's zero.</summary>
/// <param name="Kind">Kind of task; <c>several</c> for different ones in a row.</param>
/// <param name="Text">What stands on it.</param>
/// <param name="From">Start.</param>
/// <param name="To">End.</param>
/// <param name="Lane">Lane within its row, from 0.</param>
/// <param name="IsRunning">True when it had begun when the plan was made.</param>
public sealed record TimelineBar(string Kind, string Text, int From, int To, int Lane, bool IsRunning);

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
public sealed record PlanTrouble(string Piece, string Order, string Text, string? Helps);

/// <summary>A transfer that must be printed, and by when.</summary>
/// <param name="Order">For which order.</param>
/// <param name="Pieces">How many.</param>
/// <param name="By">Latest, shop-local.</param>
public sealed record PrintDue(int Order, int Pieces, DateTime By);

/// <summary>The published plan as the Office shows it; <paramref name="Begin"/> is the first second of the picture.</summary>
public sealed record Timeline(
    int Number,
    DateTimeOffset At,
    string Note,
    DateTime Zero,
    int Begin,
    Objective Objective,
    IReadOnlyList<TimelineRow> Rows,
    IReadOnlyList<PlanTrouble> Troubles,
    IReadOnlyList<PrintDue> Prints,
    SearchNote Search
)
{
    /// <summary>The shop's clock at a second of the plan.</summary>
    public DateTime Clock(int second) => Zero.AddSeconds(second);
}

/// <summary>Reads the published plan for the Office.</summary>
public sealed class TimelineView(PlanShelf shelf, IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Hours shown.</summary>
    public const int Hours = 10;

    /// <summary>The plan; null while there is none.</summary>
    /// <param name="fromHours">Where the picture begins, hours from the plan's zero.</param>
    /// <param name="cancel">Ends the reading.</param>
    public async Task<Timeline?> LoadAsync(int fromHours, CancellationToken cancel = default)
    {
        if (await shelf.LatestAsync(cancel) is not { } read)
            return null;
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var zero = TimeZoneInfo.ConvertTime(read.Zero, settings.Zone).DateTime;
        // The picture begins at a full hour of the shop's clock.
        var begin = fromHours * 3600 - (int)zero.TimeOfDay.TotalSeconds % 3600;
        var unprinted = await context.Orders.Where(o => o.PrintedAt == null).Select(o => o.Number).ToListAsync(cancel);
        return new Timeline(
            read.Number,
            read.At,
            read.Note,
            zero,
            begin,
            read.Plan.Objective,
            TimelineRows.Of(read.Day, read.Plan, begin, begin + Hours * 3600, await NamesAsync(context, cancel)),
            Troubles(read, zero),
            Prints(read, zero, [.. unprinted], settings.Profile.TransferDryMinutes * 60),
            read.Plan.Search
        );
    }

    // What people call the stations and persons that the plan knows by code.
    private static async Task<Dictionary<string, string>> NamesAsync(ShopContext context, CancellationToken cancel)
    {
        var stations = await context.Stations.AsNoTracking().Select(s => new { s.Code, s.Name }).ToListAsync(cancel);
        var people = await context.People.AsNoTracking().Select(p => new { p.Code, p.Name }).ToListAsync(cancel);
        return stations.Concat(people).DistinctBy(n => n.Code).ToDictionary(n => n.Code, n => n.Name, StringComparer.Ordinal);
    }

    private static List<PlanTrouble> Troubles(ReadPlan read, DateTime zero)
    {
        var pieces = read.Day.Pieces.ToDictionary(p => p.Id, StringComparer.Ordinal);
        var helps = read
            .Plan.Why.Where(w => w.Helps is not null && w.Piece is not null)
            .GroupBy(w => w.Piece!, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.First().Helps, StringComparer.Ordinal);
        var ends = read
            .Plan.Tasks.Where(t => t.Piece is not null)
            .GroupBy(t => t.Piece!, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Max(t => t.EndS ?? 0), StringComparer.Ordinal);
        var late = pieces
            .Values.Where(p => ends.TryGetValue(p.Id, out var end) && end > p.PromiseS)
            .OrderBy(p => p.PromiseS)
            .Select(p => new PlanTrouble(
                p.Id,
                p.Order,
                $"{Late(ends[p.Id] - p.PromiseS)} · {zero.AddSeconds(ends[p.Id]).ToString("g", CultureInfo.CurrentCulture)}",
                helps.GetValueOrDefault(p.Id)
            ));
        var left = read.Plan.LeftOut.Select(l => new PlanTrouble(l.Piece, pieces[l.Piece].Order, l.Text, null));
        return [.. left, .. late];
    }

    private static string Late(int seconds) =>
        seconds < 7200 ? $"+{seconds / 60} min"
        : seconds < 172_800 ? $"+{seconds / 3600} h"
        : $"+{seconds / 86_400} d";

    private static List<PrintDue> Prints(ReadPlan read, DateTime zero, HashSet<int> unprinted, int drySeconds)
    {
        var order = read.Day.Pieces.ToDictionary(p => p.Id, p => p.Order, StringComparer.Ordinal);
        return
        [
            .. read
                .Plan.Tasks.Where(t => t.Kind == "tape" && t.Piece is not null)
                .GroupBy(t => order[t.Piece!], StringComparer.Ordinal)
                .Where(g => int.TryParse(g.Key, NumberStyles.None, CultureInfo.InvariantCulture, out var n) && unprinted.Contains(n))
                .Select(g => new PrintDue(
                    int.Parse(g.Key, CultureInfo.InvariantCulture),
                    g.Count(),
                    zero.AddSeconds(g.Min(t => t.StartS) - drySeconds)
                ))
                .OrderBy(p => p.By),
        ];
    }
}
