using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Background.Rounds;

/// <summary>Once a week puts the newest backup back into a folder of its own, and writes down whether that worked.</summary>
public sealed partial class RehearseRestore(
    CommandRunner runner,
    KeepBackup backups,
    IDbContextFactory<ShopContext> contexts,
    TimeProvider time,
    ILogger<RehearseRestore> logger
) : IUseCase
{
    /// <summary>The word in the security log.</summary>
    public const string What = "restore rehearsed";

    private static readonly TimeSpan Week = TimeSpan.FromDays(7);

    // What failed is tried again the next day: the newest backup is another one then.
    private static readonly TimeSpan Day = TimeSpan.FromDays(1);

    private sealed record Outcome(bool IsGood, string Words);

    /// <summary>Does it when it is due.</summary>
    /// <param name="now">Whether it is due or not.</param>
    /// <param name="cancel">Stops it.</param>
    /// <returns>True when it was due and worked, false when it was due and failed; null when it was not due or there is no backup.</returns>
    public async Task<bool?> RunAsync(bool now = false, CancellationToken cancel = default)
    {
        if (backups.Newest is not { } newest || !(now || await IsDueAsync(cancel)))
            return null;
        var outcome = await TryAsync(newest, cancel);
        await runner.RunAsync<Outcome, Done>(
            nameof(RehearseRestore),
            Allowed.System,
            Asked.BySystem(),
            outcome,
            work =>
            {
                work.NoteSafety(What, outcome.Words, outcome.IsGood);
                work.Touch(Topic.Settings, Guid.Empty);
                return Task.FromResult(Result<Done>.Ok(default));
            },
            cancel
        );
        return outcome.IsGood;
    }

    private async Task<bool> IsDueAsync(CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        // One of a time to come was noted while the clock was ahead.
        var now = time.GetUtcNow();
        var last = await context
            .SecurityEvents.Where(e => e.What == What && e.At <= now)
            .OrderByDescending(e => e.At)
            .Select(e => new { e.At, e.IsGood })
            .FirstOrDefaultAsync(cancel);
        return last is null || now - last.At >= (last.IsGood ? Week : Day);
    }

    private async Task<Outcome> TryAsync(string newest, CancellationToken cancel)
    {
        try
        {
            var back = await Rehearsal.RunAsync(newest, backups.DataFolder, backups.Keys, time.GetUtcNow(), cancel);
            LogWorked(logger, back.File, back.Orders, back.Pieces, back.Pictures);
            return new Outcome(true, $"{back.File}: {back.Orders} orders, {back.Pieces} pieces, {back.Pictures} pictures");
        }
        // Whatever stands in the way of a restore is what this is here to find.
        catch (Exception no) when (no is not OperationCanceledException || !cancel.IsCancellationRequested)
        {
            LogFailed(logger, newest, no);
            var words = $"{Path.GetFileName(newest)}: {no.Message}";
            return new Outcome(false, words.Length > 300 ? words[..300] : words);
        }
    }

    [LoggerMessage(
        Level = LogLevel.Information,
        Message = "Backup {File} was restored for trial: {Orders} orders, {Pieces} pieces, {Pictures} pictures"
    )]
    private static partial void LogWorked(ILogger logger, string file, int orders, int pieces, int pictures);

    [LoggerMessage(Level = LogLevel.Error, Message = "Backup {File} could not be restored for trial")]
    private static partial void LogFailed(ILogger logger, string file, Exception trouble);
}
