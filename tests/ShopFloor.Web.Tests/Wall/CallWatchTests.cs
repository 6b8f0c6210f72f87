using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Live;
using ShopFloor.Web.Tests.Support;
using ShopFloor.Web.Wall.Calls;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Tests.Wall;

public sealed class CallWatchTests
{
    [Fact]
    public async Task News_AfterAWaitThatTheClockEnded_WakesTheWatch()
    {
        var (clock, notifier, reads) = (new ListeningClock(), new Notifier(NullLogger<Notifier>.Instance), new NoDatabase());
        await using var services = new ServiceCollection().BuildServiceProvider();
        var (plans, desk) = (new PlanShelf(reads), new PlanDesk(notifier));
        using var shared = new SharedWork(reads, clock, plans, new PlanHistory(reads, plans), desk, notifier);
        using var watch = new CallWatch(
            services.GetRequiredService<IServiceScopeFactory>(),
            shared,
            notifier,
            clock,
            NullLogger<CallWatch>.Instance
        );
        await watch.StartAsync(default);
        // The clock ends the first wait, and the watch looks again.
        await clock.Waits(CallWatch.Longest).ReachAsync(1);
        clock.Advance(CallWatch.Longest);
        await clock.Waits(CallWatch.Pause).ReachAsync(1);
        clock.Advance(CallWatch.Pause);
        await reads.Asked.ReachAsync(2);
        // Now it waits once more, and news ends that wait without the clock.
        await clock.Waits(CallWatch.Longest).ReachAsync(2);
        Assert.Equal(2, reads.Asked.Times);
        notifier.Tell([new Change(Topic.Piece, Guid.Empty)]);
        await clock.Waits(CallWatch.Pause).ReachAsync(2);
        clock.Advance(CallWatch.Pause);
        await reads.Asked.ReachAsync(3);
        await watch.StopAsync(default);
    }
}
