using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Live;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Background;

/// <summary>What looks after the shop goes on after any fault, also one that nobody foresaw.</summary>
public sealed class LastingTests
{
    [Fact]
    public async Task OutboxSender_AnyFault_DoesNotEndTheLane()
    {
        var (clock, database) = (new ListeningClock(), new NoDatabase());
        var send = new SendDue(database, new WriteGate(), Quiet, clock, NullLogger<SendDue>.Instance);
        using var sender = new OutboxSender([new Broken()], send, clock, NullLogger<OutboxSender>.Instance);
        await sender.StartAsync(default);
        await TicksAsync(clock, TimeSpan.FromSeconds(5), database.Asked, each: 1);
        await sender.StopAsync(default);
    }

    [Fact]
    public async Task SendDue_AMessageThatBreaksItsCarrier_HoldsUpNoOther()
    {
        await using var shop = await TestShop.EmptyAsync();
        await using var context = await shop.ContextAsync();
        for (var n = 0; n < 2; n++)
            context.Outbox.Add(new OutboxMessage(Guid.CreateVersion7(), Broken.Name, "{}", shop.Clock.GetUtcNow()));
        await context.SaveChangesAsync();
        await shop.Get<SendDue>().RunAsync(new Broken(), default);
        var tried = await context.Outbox.AsNoTracking().Select(m => new { m.Tries, m.Trouble }).ToListAsync();
        Assert.All(tried, m => Assert.Equal((1, "NotSupportedException: unheard of"), (m.Tries, m.Trouble)));
    }

    [Fact]
    public async Task HouseRounds_AnyFault_DoesNotEndTheRounds()
    {
        var (clock, scopes) = (new ListeningClock(), new NoScopes());
        using var rounds = new HouseRounds(scopes, clock, NullLogger<HouseRounds>.Instance);
        await rounds.StartAsync(default);
        await TicksAsync(clock, TimeSpan.FromMinutes(10), scopes.Asked, HouseRounds.Count);
        await rounds.StopAsync(default);
    }

    [Fact]
    public async Task PlanKeeper_AnyFault_IsShownAndDoesNotEndPlanning()
    {
        var (clock, database, notifier) = (new ListeningClock(), new NoDatabase(), Quiet);
        var desk = new PlanDesk(notifier);
        using var keeper = new PlanKeeper(
            database,
            new NoScopes(),
            notifier,
            desk,
            Options.Create(new HostSettings()),
            clock,
            NullLogger<PlanKeeper>.Instance
        );
        await keeper.StartAsync(default);
        for (var n = 1; n <= 3; n++)
        {
            await clock.Waits(PlanKeeper.Quiet).ReachAsync(n);
            clock.Advance(PlanKeeper.Quiet);
            await database.Asked.ReachAsync(n);
            notifier.Tell([new Change(Topic.Piece, Guid.Empty)]);
        }
        // It waits for a fourth time, so what it said of the third try stands.
        await clock.Waits(PlanKeeper.Quiet).ReachAsync(4);
        Assert.Equal(PlannerState.Refused, desk.Status.State);
        await keeper.StopAsync(default);
    }

    private static Notifier Quiet => new(NullLogger<Notifier>.Instance);

    /// <summary>After each tick the service asks again, although every time before it got nothing but a fault.</summary>
    private static async Task TicksAsync(ListeningClock clock, TimeSpan every, Tally asked, int each)
    {
        await clock.Waits(every).ReachAsync(1);
        for (var tick = 1; tick <= 5; tick++)
        {
            clock.Advance(every);
            await asked.ReachAsync(tick * each);
        }
    }

    private sealed class Broken : ICarrier
    {
        public const string Name = "broken";

        public string Kind => Name;

        public Task<Carried> CarryAsync(OutboxMessage message, CancellationToken cancel) =>
            Task.FromException<Carried>(new NotSupportedException("unheard of"));
    }

    /// <summary>Has no services, and counts how often it was asked for some.</summary>
    private sealed class NoScopes : IServiceScopeFactory
    {
        public Tally Asked { get; } = new();

        public IServiceScope CreateScope()
        {
            Asked.Note();
            throw new NotSupportedException("unheard of");
        }
    }
}
