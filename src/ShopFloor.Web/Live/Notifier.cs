using System.Collections.Immutable;

namespace ShopFloor.Web.Live;

/// <summary>
/// Tells open screens after a save what was changed. One per process.
/// Handlers run on the thread of the teller, outside any lock, and must only post to their own circuit and return.
/// </summary>
public sealed partial class Notifier(ILogger<Notifier> logger)
{
    private ImmutableList<Subscription> subscriptions = [];

    /// <summary>Number of open subscriptions.</summary>
    public int Count => subscriptions.Count;

    /// <summary>Calls <paramref name="handler"/> after each save that touches one of the topics, until the result is disposed.</summary>
    public IDisposable Subscribe(IReadOnlyCollection<Topic> topics, Action<IReadOnlyList<Change>> handler)
    {
        var subscription = new Subscription(this, [.. topics], handler);
        ImmutableInterlocked.Update(ref subscriptions, list => list.Add(subscription));
        return subscription;
    }

    /// <summary>Tells what was saved. A subscriber that fails is logged and does not keep the others from hearing it.</summary>
    public void Tell(IReadOnlyCollection<Change> changes)
    {
        if (changes.Count == 0)
            return;
        foreach (var subscription in subscriptions)
            Tell(subscription, changes);
    }

    private void Tell(Subscription subscription, IReadOnlyCollection<Change> changes)
    {
        var wanted = changes.Where(c => subscription.Topics.Contains(c.Topic)).ToList();
        if (wanted.Count == 0)
            return;
        try
        {
            subscription.Handler(wanted);
        }
        // Whatever one screen does wrong must not stop the news for the others, nor fail a command that is already saved.
        catch (Exception e)
        {
            LogSubscriberFailed(logger, e);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "A screen failed while hearing of a change")]
    private static partial void LogSubscriberFailed(ILogger logger, Exception exception);

    private sealed record Subscription(Notifier Owner, ImmutableHashSet<Topic> Topics, Action<IReadOnlyList<Change>> Handler) : IDisposable
    {
        // Records compare by value; two screens may subscribe alike, so removal goes by reference.
        public bool Equals(Subscription? other) => ReferenceEquals(this, other);

        public override int GetHashCode() => System.Runtime.CompilerServices.RuntimeHelpers.GetHashCode(this);

        public void Dispose() => ImmutableInterlocked.Update(ref Owner.subscriptions, list => list.Remove(this));
    }
}
