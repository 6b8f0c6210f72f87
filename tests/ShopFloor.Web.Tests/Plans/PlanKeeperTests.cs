using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using ShopFloor.Data;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Live;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>The planner follows the shop: it publishes what is true, gives up what was overtaken, and does not change plans for little.</summary>
public sealed class PlanKeeperTests
{
    [Fact]
    public async Task Start_OfAShopWithWork_PublishesAPlanAndRests()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var keeping = new Keeping(shop, rounds: 1);
        await keeping.RestsAsync(1);
        await using var context = await shop.ContextAsync();
        Assert.Equal("after a change", (await context.Plans.AsNoTracking().OrderBy(p => p.Number).FirstAsync()).Note);
        Assert.False(keeping.Desk.IsBehind);
    }

    /// <summary>The search that is left alone here would take minutes: news end it, and it publishes nothing any more.</summary>
    [Fact]
    public async Task Search_SomethingMoves_IsGivenUpAndPlannedAnew()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var keeping = new Keeping(shop, rounds: 10_000);
        // The first read is for the first plan, the second for the search.
        keeping.AtRead(2, () => keeping.News.Tell([new Change(Topic.Piece, Guid.Empty)]));
        await keeping.RestsAsync(1);
        await keeping.Clock.Waits(PlanKeeper.Quiet).ReachAsync(2);
        await using var context = await shop.ContextAsync();
        Assert.Equal(1, await context.Plans.CountAsync());
    }

    /// <summary>Nobody tells of what moves here but the refusal itself.</summary>
    [Fact]
    public async Task Publish_SomethingMovedMeanwhile_PlansAgainByItself()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Counter);
        var order = await shop.ShownAsync(ShopOrders.Plates(1));
        await using var keeping = new Keeping(shop, rounds: 1);
        keeping.BeforePublishing(async () => Assert.True((await shop.Get<BookOrder>().RunAsync(Asked.By(worker), order)).IsOk));

        await keeping.RefusesAsync(1);
        Assert.True(keeping.Desk.IsBehind);
        await using var context = await shop.ContextAsync();
        Assert.Equal(0, await context.Plans.CountAsync());

        await keeping.RestsAsync(1, again: true);
        Assert.False(keeping.Desk.IsBehind);
        Assert.NotEqual(0, await context.Plans.CountAsync());
    }

    [Theory]
    [InlineData(0, 0, false)]
    [InlineData(-1, 0, false)]
    [InlineData(-2, 0, true)]
    // What the standing one cost for its own moves is spent: it costs that much less now.
    [InlineData(-2, 5, false)]
    [InlineData(-7, 5, true)]
    public async Task Better_ByWhatItIsWorth_IsMoreThanOneMovedStep(int movedSteps, int spent, bool isBetter)
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var context = await shop.ContextAsync();
        var day = DayFromShop.Make(await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), default));
        var plan = DayPlanner.First(day, Fingerprint.Sha256(DayWriter.Write(day)));
        Plan Worth(long value, long changed) =>
            plan with
            {
                Objective = plan.Objective with { Value = value, Parts = [new ObjectivePart("changed", 0, changed, 0)] },
            };
        var step = day.Weights.Changed;
        Assert.True(step > 0);
        var standing = Worth(1_000 * step, spent * step);
        Assert.Equal(isBetter, BetterPlan.Is(Worth((1_000 + movedSteps) * step, 0), standing, day));
    }

    /// <summary>A planner at work on a shop. Its news and its clock are its own, so that it hears what the test says and nothing else.</summary>
    private sealed class Keeping : IAsyncDisposable, IDbContextFactory<ShopContext>, IServiceScopeFactory
    {
        private readonly TestShop shop;
        private readonly PlanKeeper keeper;
        private readonly IDisposable hearing;
        private readonly Dictionary<PlannerState, Tally> states = Enum.GetValues<PlannerState>().ToDictionary(s => s, _ => new Tally());
        private readonly Tally reads = new();
        private (int Read, Action Do)? atRead;
        private Func<Task>? beforePublishing;
        private PlannerState last = PlannerState.Resting;

        public Keeping(TestShop shop, int rounds)
        {
            this.shop = shop;
            Clock.SetUtcNow(shop.Clock.GetUtcNow());
            Desk = new PlanDesk(News);
            hearing = News.Subscribe([Topic.Plan], _ => Hear());
            var settings = Options.Create(new HostSettings { PlanRounds = rounds });
            keeper = new PlanKeeper(this, this, News, Desk, settings, Clock, NullLogger<PlanKeeper>.Instance);
        }

        public ListeningClock Clock { get; } = new();

        public Notifier News { get; } = new(NullLogger<Notifier>.Instance);

        public PlanDesk Desk { get; }

        public void AtRead(int read, Action act) => atRead = (read, act);

        public void BeforePublishing(Func<Task> act) => beforePublishing = act;

        public Task RestsAsync(int times, bool again = false) => WaitAsync(PlannerState.Resting, times, again);

        public Task RefusesAsync(int times) => WaitAsync(PlannerState.Refused, times, again: false);

        public ShopContext CreateDbContext()
        {
            reads.Note();
            if (atRead is { } due && due.Read == reads.Times)
                due.Do();
            return shop.Get<IDbContextFactory<ShopContext>>().CreateDbContext();
        }

        public IServiceScope CreateScope()
        {
            var first = Interlocked.Exchange(ref beforePublishing, null);
            first?.Invoke().GetAwaiter().GetResult();
            return shop.Get<IServiceScopeFactory>().CreateScope();
        }

        public async ValueTask DisposeAsync()
        {
            await keeper.StopAsync(default);
            hearing.Dispose();
            keeper.Dispose();
        }

        private async Task WaitAsync(PlannerState state, int times, bool again)
        {
            if (!again)
                await keeper.StartAsync(default);
            await Clock.Waits(PlanKeeper.Quiet).ReachAsync(again ? 2 : 1);
            Clock.Advance(PlanKeeper.Quiet);
            await states[state].ReachAsync(times);
        }

        // The desk tells of a value, too; only another state counts.
        private void Hear()
        {
            var state = Desk.Status.State;
            if (state == last)
                return;
            last = state;
            states[state].Note();
        }
    }
}
