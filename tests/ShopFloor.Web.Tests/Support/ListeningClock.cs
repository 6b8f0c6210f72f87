using Microsoft.Extensions.Time.Testing;

namespace ShopFloor.Web.Tests.Support;

/// <summary>How often something has happened so far, for a test that goes on when it has. A wait that is in vain fails after a minute.</summary>
internal sealed class Tally
{
    private readonly Lock gate = new();
    private readonly List<(int Times, TaskCompletionSource Reached)> waiting = [];
    private int times;

    public int Times => Volatile.Read(ref times);

    public void Note()
    {
        lock (gate)
        {
            times++;
            foreach (var (_, reached) in waiting.Where(w => w.Times <= times))
                reached.TrySetResult();
        }
    }

    /// <summary>Over as soon as it has happened so often.</summary>
    public Task ReachAsync(int wanted)
    {
        var reached = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        lock (gate)
            if (times >= wanted)
                reached.SetResult();
            else
                waiting.Add((wanted, reached));
        return reached.Task.WaitAsync(TimeSpan.FromMinutes(1));
    }
}

/// <summary>A clock that a test moves, and that tells when somebody waits for it: moved before that, it would wake nobody.</summary>
internal sealed class ListeningClock : FakeTimeProvider
{
    private readonly Lock gate = new();
    private readonly Dictionary<TimeSpan, Tally> waits = [];

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        var timer = base.CreateTimer(callback, state, dueTime, period);
        Waits(dueTime).Note();
        return timer;
    }

    /// <summary>Waits that long which were begun so far.</summary>
    public Tally Waits(TimeSpan dueTime)
    {
        lock (gate)
            return waits.TryGetValue(dueTime, out var found) ? found : waits[dueTime] = new Tally();
    }
}
