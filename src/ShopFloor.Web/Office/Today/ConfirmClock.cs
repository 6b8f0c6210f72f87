using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Today;

/// <summary>A clock that may be wrong.</summary>
/// <param name="Shows">What it shows, shop-local.</param>
/// <param name="Seen">When it was known to be right last, shop-local.</param>
public sealed record DoubtedClock(DateTime Shows, DateTime Seen);

/// <summary>Reads whether the clock may be wrong.</summary>
public sealed class ClockView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The doubt; null: there is none.</summary>
    public async Task<DoubtedClock?> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        if (await ClockMark.SeenAsync(context, cancel) is not { } seen || ClockMark.CanBe(seen, now))
            return null;
        var zone = (await CurrentSettings.LoadAsync(context, now, cancel)).Zone;
        return new DoubtedClock(TimeZoneInfo.ConvertTime(now, zone).DateTime, TimeZoneInfo.ConvertTime(seen, zone).DateTime);
    }
}

/// <summary>The owner has looked at the clock and finds it right: what waited for that goes on.</summary>
public sealed class ConfirmClock(CommandRunner runner) : IUseCase
{
    /// <summary>The word in the security log.</summary>
    public const string What = "clock confirmed";

    /// <summary>Confirms it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, CancellationToken cancel = default) =>
        runner.RunAsync<string, Done>(
            nameof(ConfirmClock),
            Allowed.Owner,
            asked,
            What,
            async work =>
            {
                var seen = await ClockMark.SeenAsync(work.Context, cancel);
                await ClockMark.MoveAsync(work, work.Now, cancel);
                work.NoteSafety(What, string.Create(CultureInfo.InvariantCulture, $"{seen:u} to {work.Now:u}"));
                work.Touch(Topic.Settings, Guid.Empty);
                return default(Done);
            },
            cancel
        );
}
