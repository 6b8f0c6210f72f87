using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Tests.Live;

public sealed class NotifierTests
{
    private static readonly Change Piece = new(Topic.Piece, new Guid("0199aaaa-0000-7000-8000-000000000001"));
    private static readonly Change Order = new(Topic.Order, new Guid("0199aaaa-0000-7000-8000-000000000002"));
    private readonly Notifier notifier = new(NullLogger<Notifier>.Instance);
    private readonly FakeTimeProvider clock = new();

    [Fact]
    public void Tell_SeveralTopics_EachHearsItsOwn()
    {
        var pieces = new List<Change>();
        using var one = notifier.Subscribe([Topic.Piece], pieces.AddRange);
        notifier.Tell([Order]);
        Assert.Empty(pieces);
        notifier.Tell([Order, Piece]);
        Assert.Equal([Piece], pieces);
    }

    [Fact]
    public void Tell_OneSubscriberFails_TheOthersStillHear()
    {
        var heard = 0;
        using var bad = notifier.Subscribe([Topic.Piece], _ => throw new InvalidOperationException("a screen that is broken"));
        using var good = notifier.Subscribe([Topic.Piece], _ => heard++);
        notifier.Tell([Piece]);
        Assert.Equal(1, heard);
    }

    [Fact]
    public void Tell_SubscriberLeavesWhileBeingTold_DisturbsNobody()
    {
        IDisposable? leaving = null;
        var heard = 0;
        leaving = notifier.Subscribe([Topic.Piece], _ => leaving!.Dispose());
        using var staying = notifier.Subscribe([Topic.Piece], _ => heard++);
        notifier.Tell([Piece]);
        notifier.Tell([Piece]);
        Assert.Equal(2, heard);
        Assert.Equal(1, notifier.Count);
    }

    [Fact]
    public async Task Subscribe_ManyThreadsComingAndGoing_LeaveNoneBehind()
    {
        await Parallel.ForAsync(
            0,
            500,
            (_, _) =>
            {
                using var mine = notifier.Subscribe([Topic.Piece], _ => { });
                notifier.Tell([Piece]);
                return ValueTask.CompletedTask;
            }
        );
        Assert.Equal(0, notifier.Count);
    }

    [Fact]
    public void Refresher_BurstDuringAReload_IsFoldedIntoOneMore()
    {
        var reloads = 0;
        var first = new TaskCompletionSource();
        using var refresher = Refresh(() => ++reloads == 1 ? first.Task : Task.CompletedTask);
        notifier.Tell([Piece]);
        for (var i = 0; i < 10; i++)
            notifier.Tell([Piece]);
        Assert.Equal(1, reloads);
        first.SetResult();
        Assert.True(SpinWait.SpinUntil(() => Volatile.Read(ref reloads) == 2, TimeSpan.FromSeconds(60)));
    }

    [Fact]
    public void Refresher_NothingHeard_ReadsAgainAfterThePollTime()
    {
        var reloads = 0;
        using var refresher = Refresh(() =>
        {
            reloads++;
            return Task.CompletedTask;
        });
        clock.Advance(TimeSpan.FromSeconds(14));
        Assert.Equal(0, reloads);
        clock.Advance(TimeSpan.FromSeconds(1));
        Assert.Equal(1, reloads);
    }

    [Fact]
    public void Refresher_Disposed_ReadsNoMore()
    {
        var reloads = 0;
        Refresh(() =>
            {
                reloads++;
                return Task.CompletedTask;
            })
            .Dispose();
        notifier.Tell([Piece]);
        clock.Advance(TimeSpan.FromMinutes(5));
        Assert.Equal(0, reloads);
    }

    private Refresher Refresh(Func<Task> reload) => new(notifier, clock, [Topic.Piece], TimeSpan.FromSeconds(15), reload);
}
