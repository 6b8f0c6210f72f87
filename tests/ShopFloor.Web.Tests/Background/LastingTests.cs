using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using Microsoft.Extensions.Time.Testing;
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
        await using var shop = await TestShop.EmptyAsync();
        var send = new SendDue(new NoDatabase(), new WriteGate(), Quiet, shop.Clock, NullLogger<SendDue>.Instance);
        using var sender = new OutboxSender([new Broken()], send, shop.Clock, NullLogger<OutboxSender>.Instance);
        await LastsAsync(sender, shop.Clock, TimeSpan.FromSeconds(5));
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
        // Nothing is registered: every round fails when it is asked for.
        await using var services = new ServiceCollection().BuildServiceProvider();
        var clock = new FakeTimeProvider();
        using var rounds = new HouseRounds(services.GetRequiredService<IServiceScopeFactory>(), clock, NullLogger<HouseRounds>.Instance);
        await LastsAsync(rounds, clock, TimeSpan.FromMinutes(10));
    }

    [Fact]
    public async Task PlanKeeper_AnyFault_IsShownAndDoesNotEndPlanning()
    {
        await using var services = new ServiceCollection().BuildServiceProvider();
        var (clock, desk) = (new FakeTimeProvider(), new PlanDesk(Quiet));
        using var keeper = new PlanKeeper(
            new NoDatabase(),
            services.GetRequiredService<IServiceScopeFactory>(),
            Quiet,
            desk,
            Options.Create(new HostSettings()),
            clock,
            NullLogger<PlanKeeper>.Instance
        );
        await LastsAsync(keeper, clock, TimeSpan.FromSeconds(1));
        Assert.Equal(PlannerState.Refused, desk.Status.State);
    }

    private static Notifier Quiet => new(NullLogger<Notifier>.Instance);

    private static async Task LastsAsync(BackgroundService service, FakeTimeProvider clock, TimeSpan step)
    {
        await service.StartAsync(default);
        for (var n = 0; n < 10 && !service.ExecuteTask!.IsCompleted; n++)
        {
            await Task.Delay(20);
            clock.Advance(step);
        }
        await Task.Delay(50);
        Assert.False(service.ExecuteTask!.IsCompleted, service.ExecuteTask.Exception?.Message ?? "It has ended.");
        await service.StopAsync(default);
    }

    private sealed class Broken : ICarrier
    {
        public const string Name = "broken";

        public string Kind => Name;

        public Task<Carried> CarryAsync(OutboxMessage message, CancellationToken cancel) =>
            Task.FromException<Carried>(new NotSupportedException("unheard of"));
    }

    private sealed class NoDatabase : IDbContextFactory<ShopContext>
    {
        public ShopContext CreateDbContext() => throw new NotSupportedException("unheard of");
    }
}
