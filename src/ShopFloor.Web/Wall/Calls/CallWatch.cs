using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Wall.Calls;

/// <summary>
/// Keeps the record of calls: after each change, and at the instant at which the next call begins or ends. The screens do not wait for it;
/// they turn calls on by the clock. Registered once.
/// </summary>
public sealed partial class CallWatch(
    IServiceScopeFactory scopes,
    SharedWork shared,
    Notifier notifier,
    TimeProvider time,
    ILogger<CallWatch> logger
) : BackgroundService
{
    private static readonly Topic[] Topics = [Topic.Piece, Topic.Batch, Topic.Order, Topic.Plan, Topic.Station];

    /// <summary>From a look to the next: moves come in bursts, and a call is no worse written down a moment later.</summary>
    public static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(700);

    /// <summary>It looks after this time although nothing was heard.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);
    private readonly SemaphoreSlim news = new(0, 1);

    protected override async Task ExecuteAsync(CancellationToken stop)
    {
        using var subscription = notifier.Subscribe(Topics, _ => Wake());
        while (!stop.IsCancellationRequested)
        {
            var next = Longest;
            try
            {
                next = await NoteAsync(stop);
            }
            // Calls are shown all the same; what is wrong with the record must not end the watch.
            catch (Exception e) when (e is not OperationCanceledException || !stop.IsCancellationRequested)
            {
                LogFailed(logger, e);
            }
            await NewsAsync(next, stop);
            await Task.Delay(Pause, time, stop);
        }
    }

    /// <summary>Waits for news, or as long as said. The wait for news ends with it: one left behind would take the next news for itself.</summary>
    private async Task NewsAsync(TimeSpan longest, CancellationToken stop)
    {
        using var over = new CancellationTokenSource(longest, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(over.Token, stop);
        try
        {
            await news.WaitAsync(either.Token);
        }
        catch (OperationCanceledException) when (!stop.IsCancellationRequested)
        {
            // Nothing came: the clock says that it is time to look.
        }
    }

    /// <summary>Writes down what has changed; the answer is how long nothing will by the clock alone.</summary>
    private async Task<TimeSpan> NoteAsync(CancellationToken stop)
    {
        var now = time.GetUtcNow();
        var work = await shared.ReadAsync();
        var all = WallSheet.Of(work, now, []).Calls;
        var active = all.Where(c => c.From <= now && (c.Until is null || now < c.Until)).Select(c => c.Active).ToList();
        if (!active.Select(a => a.Key).ToHashSet(StringComparer.Ordinal).SetEquals(work.Calls.Select(c => c.Key)))
        {
            using var scope = scopes.CreateScope();
            await scope.ServiceProvider.GetRequiredService<NoteCalls>().RunAsync(Asked.BySystem(), active, stop);
        }
        var edges = all.SelectMany(c => new[] { c.From, c.Until ?? c.From }).Where(t => t > now).ToList();
        var wait = edges.Count == 0 ? Longest : edges.Min() - now;
        return wait < Longest ? wait : Longest;
    }

    private void Wake()
    {
        try
        {
            news.Release();
        }
        catch (SemaphoreFullException)
        {
            // It is awake already.
        }
    }

    public override void Dispose()
    {
        news.Dispose();
        base.Dispose();
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "Calls could not be written down")]
    private static partial void LogFailed(ILogger logger, Exception exception);
}
