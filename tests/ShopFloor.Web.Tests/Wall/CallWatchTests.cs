using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using ShopFloor.Data;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Live;
using ShopFloor.Web.Wall.Calls;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Tests.Wall;

public sealed class CallWatchTests
{
    [Fact]
    public async Task News_AfterAWaitThatTheClockEnded_WakesTheWatch()
    {
        var (clock, notifier, reads) = (new FakeTimeProvider(), new Notifier(NullLogger<Notifier>.Instance), new Counting());
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
        await UntilAsync(2, 60);
        await Task.Delay(50);
        notifier.Tell([new Change(Topic.Piece, Guid.Empty)]);
        await UntilAsync(3, 20);
        await watch.StopAsync(default);

        async Task UntilAsync(int looks, int seconds)
        {
            for (var n = 0; n < seconds && reads.Made < looks; n++)
            {
                await Task.Delay(20);
                if (reads.Made < looks)
                    clock.Advance(TimeSpan.FromSeconds(1));
            }
            await Task.Delay(20);
            Assert.Equal(looks, reads.Made);
        }
    }

    /// <summary>Has no database, and counts how often it was asked for one.</summary>
    private sealed class Counting : IDbContextFactory<ShopContext>
    {
        private int made;

        public int Made => Volatile.Read(ref made);

        public ShopContext CreateDbContext()
        {
            Interlocked.Increment(ref made);
            throw new NotSupportedException("There is no database.");
        }
    }
}
