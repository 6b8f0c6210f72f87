namespace ShopFloor.Web.Background.Sending;

/// <summary>Looks into the outbox every few seconds, in a lane for each kind of message: a slow receiver of webhooks holds up no mail.</summary>
public sealed partial class OutboxSender(IEnumerable<ICarrier> carriers, SendDue send, TimeProvider time, ILogger<OutboxSender> logger)
    : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(5);

    protected override Task ExecuteAsync(CancellationToken stoppingToken) =>
        Task.WhenAll(carriers.Select(c => RunLaneAsync(c, stoppingToken)));

    private async Task RunLaneAsync(ICarrier carrier, CancellationToken stop)
    {
        using var timer = new PeriodicTimer(Every, time);
        while (await NextAsync(timer, stop))
        {
            // Whatever goes wrong must not end the lane: it is logged, and the next look tries again.
            try
            {
                await send.RunAsync(carrier, stop);
            }
            catch (OperationCanceledException) when (stop.IsCancellationRequested)
            {
                return;
            }
            catch (Exception trouble) when (trouble is not OperationCanceledException || !stop.IsCancellationRequested)
            {
                LogTrouble(logger, carrier.Kind, trouble);
            }
        }
    }

    private static async Task<bool> NextAsync(PeriodicTimer timer, CancellationToken stop)
    {
        try
        {
            return await timer.WaitForNextTickAsync(stop);
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "The outbox lane {Kind} failed")]
    private static partial void LogTrouble(ILogger logger, string kind, Exception trouble);
}
