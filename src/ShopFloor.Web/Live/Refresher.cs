namespace ShopFloor.Web.Live;

/// <summary>
/// Calls a reload after each change of the given topics and, as a backstop, from time to time without one.
/// Changes that arrive while a reload runs are folded into one more reload, so a burst costs two.
/// </summary>
public sealed class Refresher : IDisposable
{
    private readonly Func<Task> reload;
    private readonly IDisposable subscription;
    private readonly ITimer poll;
    private readonly Lock gate = new();
    private bool running;
    private bool again;
    private bool disposed;

    /// <param name="notifier">Who tells.</param>
    /// <param name="time">The clock of the backstop.</param>
    /// <param name="topics">What the screen shows.</param>
    /// <param name="pollEvery">The longest a missed change stays unseen.</param>
    /// <param name="reload">Reads again; it must bring itself onto its circuit and handle its own faults.</param>
    public Refresher(Notifier notifier, TimeProvider time, IReadOnlyCollection<Topic> topics, TimeSpan pollEvery, Func<Task> reload)
    {
        this.reload = reload;
        subscription = notifier.Subscribe(topics, _ => Start());
        poll = time.CreateTimer(_ => Start(), null, pollEvery, pollEvery);
    }

    public void Dispose()
    {
        lock (gate)
            disposed = true;
        subscription.Dispose();
        poll.Dispose();
    }

    private void Start()
    {
        lock (gate)
        {
            if (disposed)
                return;
            again = running;
            if (running)
                return;
            running = true;
        }
        _ = RunAsync();
    }

    private async Task RunAsync()
    {
        do await reload();
        while (GoOn());
    }

    private bool GoOn()
    {
        lock (gate)
        {
            running = again && !disposed;
            again = false;
            return running;
        }
    }
}
