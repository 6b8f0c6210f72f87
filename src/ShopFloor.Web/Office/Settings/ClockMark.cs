using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Settings;

/// <summary>
/// The latest instant at which the clock is known to have been right. A clock that is far from it may be wrong: then nothing is erased, mailed
/// or issued by it until the owner says that it is right.
/// </summary>
internal static class ClockMark
{
    // Nothing puts a clock back so far but a mistake: a change of zone or season is hours (common practice, no source).
    private static readonly TimeSpan MostBehind = TimeSpan.FromDays(2);

    // Three weeks of holidays and as much again are no reason to ask (common practice, no source).
    private static readonly TimeSpan MostAhead = TimeSpan.FromDays(45);

    /// <summary>The mark; null: there is none yet.</summary>
    public static Task<DateTimeOffset?> SeenAsync(ShopContext context, CancellationToken cancel) =>
        context
            .Settings.AsNoTracking()
            .Where(s => s.Key == SettingKeys.ClockSeen)
            .OrderByDescending(s => s.From)
            .Select(s => (DateTimeOffset?)s.From)
            .FirstOrDefaultAsync(cancel);

    /// <summary>True when the clock can be right.</summary>
    /// <param name="seen">The mark.</param>
    /// <param name="now">What the clock shows.</param>
    public static bool CanBe(DateTimeOffset seen, DateTimeOffset now) => now > seen - MostBehind && now < seen + MostAhead;

    /// <summary>True when the clock can be right, or there is no mark to tell.</summary>
    public static async Task<bool> IsSureAsync(ShopContext context, DateTimeOffset now, CancellationToken cancel) =>
        await SeenAsync(context, cancel) is not { } seen || CanBe(seen, now);

    /// <summary>Says that nothing is issued by a clock that may be wrong; null: it may be right.</summary>
    public static async Task<Refusal?> RefusalAsync(CommandWork work, CancellationToken cancel) =>
        await IsSureAsync(work.Context, work.Now, cancel)
            ? null
            : new Refusal(
                "clock-doubted",
                "The clock of this program may be wrong. Look at the notice on Today first: it says what to do."
            );

    /// <summary>Puts the mark to an instant.</summary>
    public static async Task MoveAsync(CommandWork work, DateTimeOffset at, CancellationToken cancel)
    {
        work.Context.Settings.RemoveRange(await work.Context.Settings.Where(s => s.Key == SettingKeys.ClockSeen).ToListAsync(cancel));
        work.Context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), SettingKeys.ClockSeen, at, "{}", work.By));
    }
}
