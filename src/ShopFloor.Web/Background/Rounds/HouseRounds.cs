using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Prices;

namespace ShopFloor.Web.Background.Rounds;

/// <summary>What is looked after from time to time without anybody asking: reminders, overdue letters.</summary>
public sealed partial class HouseRounds(IServiceScopeFactory scopes, TimeProvider time, ILogger<HouseRounds> logger) : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromMinutes(10);

    /// <summary>The rounds in their order; each is harmless to repeat. Those that erase, write to customers or learn by the clock want a sure one.</summary>
    private static readonly (string Name, bool WantsClock, Func<IServiceProvider, CancellationToken, Task> Run)[] All =
    [
        ("pick-up reminders", true, (s, c) => s.GetRequiredService<RemindPickUps>().RunAsync(c)),
        ("measured times", true, (s, c) => s.GetRequiredService<MeasureNightly>().RunAsync(c)),
        ("overdue letters", true, (s, c) => s.GetRequiredService<MailOverdue>().RunAsync(c)),
        ("database check", false, (s, _) => Task.FromResult(s.GetRequiredService<CheckDatabase>().RunIfDue())),
        ("backup", false, (s, _) => Task.FromResult(s.GetRequiredService<KeepBackup>().RunIfDue())),
        ("restore rehearsal", false, (s, c) => s.GetRequiredService<RehearseRestore>().RunAsync(cancel: c)),
        ("pictures left over", true, (s, c) => s.GetRequiredService<SweepPictures>().RunAsync(c)),
        ("old data", true, (s, c) => s.GetRequiredService<ClearNightly>().RunAsync(s.GetRequiredService<ClearOldData>(), c)),
    ];

    /// <summary>How many are begun at a tick at which all fail, the look at the clock among them.</summary>
    public static int Count => 1 + All.Count(r => !r.WantsClock);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Every, time);
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken))
                await AllAsync(stoppingToken);
        }
        // The program ends.
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested) { }
    }

    private async Task AllAsync(CancellationToken stop)
    {
        var isSure = false;
        await OneAsync("clock", async (s, c) => isSure = await s.GetRequiredService<WatchClock>().RunAsync(c), stop);
        if (!isSure)
            LogDoubted(logger, time.GetUtcNow());
        foreach (var (name, wantsClock, run) in All)
            if (isSure || !wantsClock)
                await OneAsync(name, run, stop);
    }

    private async Task OneAsync(string name, Func<IServiceProvider, CancellationToken, Task> run, CancellationToken stop)
    {
        // One round that fails must not end the others: it is logged and tried again with the next.
        try
        {
            await using var scope = scopes.CreateAsyncScope();
            await run(scope.ServiceProvider, stop);
        }
        catch (Exception trouble) when (trouble is not OperationCanceledException || !stop.IsCancellationRequested)
        {
            LogTrouble(logger, name, trouble);
        }
    }

    [LoggerMessage(
        Level = LogLevel.Warning,
        Message = "The clock shows {Now} and may be wrong: nothing is erased or mailed by it until it is right or the owner confirms it"
    )]
    private static partial void LogDoubted(ILogger logger, DateTimeOffset now);

    [LoggerMessage(Level = LogLevel.Error, Message = "The round {Name} failed")]
    private static partial void LogTrouble(ILogger logger, string name, Exception trouble);
}
