using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Seasons;

/// <summary>One change of the seasons; exactly one of the two is given.</summary>
/// <param name="Keep">A season to enter; one of the same name is replaced.</param>
/// <param name="Drop">The name of a season to take out.</param>
public sealed record SeasonChange(Season? Keep = null, string? Drop = null);

/// <summary>Enters a season with its last day for orders, or takes one out.</summary>
public sealed class ChangeSeasons(CommandRunner runner) : IUseCase
{
    private const int Most = 20;

    /// <summary>Changes them, or names every field that is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, SeasonChange change, CancellationToken cancel = default) =>
        runner.RunAsync<SeasonChange, Done>(
            nameof(ChangeSeasons),
            Allowed.Owner,
            asked,
            change,
            work => DecideAsync(work, change, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, SeasonChange change, CancellationToken cancel)
    {
        var now = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        // What is over says nothing any more.
        var today = now.Day(work.Now);
        var others = now.Seasons.Where(s => s.HandOverBy >= today && !IsNamed(s, change.Keep?.Name ?? change.Drop ?? "")).ToList();
        if (change.Keep is { } season)
        {
            season = season with { Name = season.Name.Trim(), German = season.German.Trim() };
            var faults = season.Faults(today);
            if (faults.Count > 0)
                return Result<Done>.Refused(faults);
            if (others.Count >= Most)
                return new Refusal("seasons-many", $"There are {Most} seasons already: take one out first.");
            var people = await work.Context.People.AsNoTracking().Where(p => p.IsActive).ToListAsync(cancel);
            if (PromiseRounding.CloseOf(season.HandOverBy, people, now) is null)
                return new Refusal("season-closed", NobodyThere(now, season.HandOverBy), nameof(Season.HandOverBy));
            others.Add(season);
        }
        IReadOnlyList<Season> sorted = [.. others.OrderBy(s => s.LastDay).ThenBy(s => s.Name, StringComparer.Ordinal)];
        await work.KeepAsync(SettingKeys.Seasons, sorted, cancel);
        return default(Done);
    }

    private static bool IsNamed(Season season, string name) => string.Equals(season.Name, name.Trim(), StringComparison.OrdinalIgnoreCase);

    private static string NobodyThere(CurrentSettings now, DateOnly day) =>
        now.ClosedDays.FirstOrDefault(c => c.Day == day) is { } closed
            ? $"The shop is closed on this day ({closed.Reason}): nothing can be handed over. Choose a day before it."
            : "Nobody works on this day: nothing can be handed over. Choose another one, or set hours for it under People and shifts.";
}
