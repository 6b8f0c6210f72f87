using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Background;

/// <summary>What a doubted clock holds up, and the notice that lets it go on.</summary>
public sealed class DoubtedRoundsTests
{
    private static readonly TimeSpan Every = TimeSpan.FromMinutes(10);

    // The look at the clock and what wants no sure one; then all.
    private static readonly (int Doubted, int Sure) Begun = (HouseRounds.Count, 9);

    [Fact]
    public async Task Rounds_ClockIsDoubted_EraseMailAndMeasureNothing()
    {
        await using var shop = await TestShop.EmptyAsync();
        Assert.True(await shop.Get<WatchClock>().RunAsync());
        shop.Clock.AdjustTime(shop.Clock.GetUtcNow().AddDays(100));
        var (ticks, scopes) = (new ListeningClock(), new CountedScopes(shop.Get<IServiceScopeFactory>()));
        using var rounds = new HouseRounds(scopes, ticks, NullLogger<HouseRounds>.Instance);
        await rounds.StartAsync(default);
        await ticks.Waits(Every).ReachAsync(1);
        ticks.Advance(Every);
        await scopes.Asked.ReachAsync(Begun.Doubted);
        ticks.Advance(Every);
        await scopes.Asked.ReachAsync(2 * Begun.Doubted);
        Assert.False(await HasMeasuredAsync(shop));

        shop.Clock.AdjustTime(shop.Clock.GetUtcNow().AddDays(-100));
        ticks.Advance(Every);
        await scopes.Asked.ReachAsync(2 * Begun.Doubted + Begun.Sure);
        Assert.True(await HasMeasuredAsync(shop));
        await rounds.StopAsync(default);
    }

    [Fact]
    public async Task Notice_ClockIsDoubted_StandsUntilTheOwnerSaysThatItIsRight()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        await shop.Get<WatchClock>().RunAsync();
        await using var page = TestPage.Of(shop);
        IRenderedComponent<ClockNotice> Open() => page.Render<ClockNotice>(p => p.AddCascadingValue(TestPage.Session(owner)));
        Assert.Empty(Open().FindAll("section"));
        shop.Clock.AdjustTime(shop.Clock.GetUtcNow().AddDays(100));
        var doubted = Open();
        doubted.WaitForElement("section");
        await doubted.Find("button").ClickAsync();
        doubted.WaitForAssertion(() => Assert.Empty(doubted.FindAll("section")));
        Assert.True(await shop.Get<WatchClock>().RunAsync());
    }

    private static async Task<bool> HasMeasuredAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        return await context.Commands.AnyAsync(c => c.Name == nameof(MeasureShop));
    }

    private sealed class CountedScopes(IServiceScopeFactory inner) : IServiceScopeFactory
    {
        public Tally Asked { get; } = new();

        public IServiceScope CreateScope()
        {
            Asked.Note();
            return inner.CreateScope();
        }
    }
}
