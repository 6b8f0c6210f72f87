using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Rounds;

/// <summary>
/// Looks whether the clock can be right, and moves the mark of it along while it can. In a shop without a mark the last entry of the journal is the first.
/// </summary>
public sealed class WatchClock(CommandRunner runner, IDbContextFactory<ShopContext> contexts, TimeProvider time) : IUseCase
{
    // The mark need not be newer: clocks that are wrong by less do no harm that matters.
    private static readonly TimeSpan Step = TimeSpan.FromHours(6);

    /// <summary>Looks.</summary>
    /// <returns>False while the clock is doubted.</returns>
    public async Task<bool> RunAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var seen = await ClockMark.SeenAsync(context, cancel);
        var mark = seen ?? await LastEntryAsync(context, cancel) ?? now;
        var isSure = ClockMark.CanBe(mark, now);
        if (isSure && now - mark >= Step)
            mark = now;
        if (mark != seen)
            await MoveAsync(mark, cancel);
        return isSure;
    }

    private static Task<DateTimeOffset?> LastEntryAsync(ShopContext context, CancellationToken cancel) =>
        context.Journal.OrderByDescending(j => j.At).Select(j => (DateTimeOffset?)j.At).FirstOrDefaultAsync(cancel);

    private Task<Result<Done>> MoveAsync(DateTimeOffset mark, CancellationToken cancel) =>
        runner.RunAsync<DateTimeOffset, Done>(
            nameof(WatchClock),
            Allowed.System,
            Asked.BySystem(),
            mark,
            async work =>
            {
                await ClockMark.MoveAsync(work, mark, cancel);
                return default(Done);
            },
            cancel
        );
}
