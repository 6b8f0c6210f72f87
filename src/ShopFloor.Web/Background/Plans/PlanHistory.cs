using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Planning.Reports;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Plans;

/// <summary>What a version of the plan changed and why.</summary>
/// <param name="Number">The version.</param>
/// <param name="At">When it was published, UTC.</param>
/// <param name="Because">What had happened; empty when nothing had.</param>
/// <param name="Changed">What changed, most important first; empty when nothing moved by more than ten minutes.</param>
/// <param name="Unmoved">Pieces that stay as they were.</param>
/// <param name="Short">The same for the Wall, in a few words.</param>
public sealed record PlanStory(
    int Number,
    DateTimeOffset At,
    IReadOnlyList<string> Because,
    IReadOnlyList<string> Changed,
    int Unmoved,
    IReadOnlyList<string> Short
);

/// <summary>
/// Tells of the last versions what they changed. A version that is only the better plan of the same moment is told together with the one it
/// improves: what counts is how it differs from the plan before that moment. Registered once; a version never changes, so each is compared once.
/// </summary>
public sealed class PlanHistory(IDbContextFactory<ShopContext> contexts, PlanShelf shelf)
{
    private const int Remembered = 60;
    private readonly ConcurrentDictionary<(int Number, int Before), PlanStory> told = [];

    private PlanStory? latest;

    /// <summary>The story of the latest version; null while there is nothing to compare it with.</summary>
    /// <param name="number">The latest version.</param>
    public async Task<PlanStory?> LatestAsync(int number)
    {
        if (latest is not { } known || known.Number != number)
            latest = (await LastAsync(1)) is [var story] ? story : null;
        return latest;
    }

    /// <summary>The stories of the last versions, newest first.</summary>
    /// <param name="count">How many at most.</param>
    /// <param name="cancel">Ends the reading.</param>
    public async Task<IReadOnlyList<PlanStory>> LastAsync(int count, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var moments = await context
            .Plans.GroupBy(p => p.Zero)
            .Select(g => g.Max(p => p.Number))
            .OrderByDescending(n => n)
            .Take(count + 1)
            .ToListAsync(cancel);
        var stories = new List<PlanStory>();
        foreach (var (number, before) in moments.Zip(moments.Skip(1)))
            if (await StoryAsync(context, number, before, cancel) is { } story)
                stories.Add(story);
        return stories;
    }

    private async Task<PlanStory?> StoryAsync(ShopContext context, int number, int before, CancellationToken cancel)
    {
        if (told.TryGetValue((number, before), out var known))
            return known;
        if (await shelf.FindAsync(number, cancel) is not { } plan || await shelf.FindAsync(before, cancel) is not { } last)
            return null;
        var report = PlanReport.Between(new PlannedDay(last.Day, last.Plan), new PlannedDay(plan.Day, plan.Plan));
        var codes = report
            .Causes.Where(c => c.Kind is CauseKind.PiecesNew or CauseKind.PiecesGone or CauseKind.BegunAgain)
            .SelectMany(c => c.Pieces)
            .ToList();
        var fates = await PieceFates.ReadAsync(context, codes, last.Journal, plan.Journal, cancel);
        var settings = await CurrentSettings.LoadAsync(context, plan.At, cancel);
        var zone = settings.Zone;
        string Clock(int second) =>
            ShopClock.At(TimeZoneInfo.ConvertTime(plan.Instant(second), zone), TimeZoneInfo.ConvertTime(plan.Zero, zone));
        var (calendar, explained) = await CalendarAsync(context, report, (last.Zero, settings), cancel);
        var words = new ChangeWords(report, plan.Day, await PlanWords.LoadAsync(context, cancel), fates, Clock)
        {
            Calendar = calendar,
            Explained = explained,
        };
        var story = new PlanStory(number, plan.At, words.Because(), words.Changed(), report.Unmoved, words.Short());
        if (told.Count > Remembered)
            told.Clear();
        return told[(number, before)] = story;
    }

    /// <summary>What was changed in the calendar since the plan before, and whose other shifts come of it.</summary>
    private static async Task<(IReadOnlyList<string> Words, HashSet<string> Explained)> CalendarAsync(
        ShopContext context,
        PlanReport report,
        (DateTimeOffset Before, CurrentSettings Now) known,
        CancellationToken cancel
    )
    {
        var people = report.Causes.Where(c => c.Kind == CauseKind.ShiftsChanged).Select(c => c.Name).ToHashSet(StringComparer.Ordinal);
        if (people.Count == 0)
            return ([], []);
        var (before, now) = (await CurrentSettings.LoadAsync(context, known.Before, cancel), known.Now);
        var closed = ChangeWords.CalendarOf([.. before.ClosedDays.Select(c => c.Day)], [.. now.ClosedDays.Select(c => c.Day)]);
        var hours = ChangeWords.HoursOf(before.DayHours, now.DayHours);
        var others = before.DayHours.Except(now.DayHours).Concat(now.DayHours.Except(before.DayHours)).Select(h => h.Person);
        return ([.. closed, .. hours], closed.Count > 0 ? people : others.ToHashSet(StringComparer.Ordinal));
    }
}

/// <summary>A moment by the shop's clock, with its day where that is another.</summary>
public static class ShopClock
{
    /// <summary>Hour and minute, with the day of the week before it when it is not today's.</summary>
    /// <param name="at">The moment, shop-local.</param>
    /// <param name="today">Any moment of today, shop-local.</param>
    public static string At(DateTimeOffset at, DateTimeOffset today) =>
        at.Date == today.Date ? Time(at)
        : (at.Date - today.Date).TotalDays is > 0 and < 7 ? $"{at.ToString("ddd", CultureInfo.InvariantCulture)} {Time(at)}"
        : $"{at.ToString("d MMM", CultureInfo.InvariantCulture)} {Time(at)}";

    // The words are shared by screens of several languages; the clock is the same in all of them.
    private static string Time(DateTimeOffset at) => at.ToString("t", CultureInfo.CurrentCulture);
}
