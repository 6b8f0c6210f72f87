using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Prices;

namespace ShopFloor.Web.Background.Rounds;

/// <summary>What is looked after from time to time without anybody asking: reminders, overdue letters.</summary>
public sealed partial class HouseRounds(IServiceScopeFactory scopes, TimeProvider time, ILogger<HouseRounds> logger) : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromMinutes(10);

    /// <summary>The rounds in their order; each is harmless to repeat.</summary>
    private static readonly (string Name, Func<IServiceProvider, CancellationToken, Task> Run)[] All =
    [
        ("pick-up reminders", (s, c) => s.GetRequiredService<RemindPickUps>().RunAsync(c)),
        ("measured times", (s, c) => s.GetRequiredService<MeasureNightly>().RunAsync(c)),
        ("overdue letters", (s, c) => s.GetRequiredService<MailOverdue>().RunAsync(c)),
        ("database check", (s, _) => Task.FromResult(s.GetRequiredService<CheckDatabase>().RunIfDue())),
        ("backup", (s, _) => Task.FromResult(s.GetRequiredService<KeepBackup>().RunIfDue())),
        ("restore rehearsal", (s, c) => s.GetRequiredService<RehearseRestore>().RunAsync(cancel: c)),
        ("pictures left over", (s, c) => s.GetRequiredService<SweepPictures>().RunAsync(c)),
        ("old data", (s, c) => s.GetRequiredService<ClearNightly>().RunAsync(s.GetRequiredService<ClearOldData>(), c)),
    ];

    /// <summary>How many there are.</summary>
    public static int Count => All.Length;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Every, time);
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken))
                foreach (var (name, run) in All)
                    await OneAsync(name, run, stoppingToken);
        }
        // The program ends.
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested) { }
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

    [LoggerMessage(Level = LogLevel.Error, Message = "The round {Name} failed")]
    private static partial void LogTrouble(ILogger logger, string name, Exception trouble);
}
