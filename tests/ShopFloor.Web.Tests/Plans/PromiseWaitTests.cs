using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Live;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>Who asks for a day within the write gate and gives up lets the others in.</summary>
public sealed class PromiseWaitTests
{
    [Fact]
    public async Task Now_GivenUpWhileTheDayIsBeingPlanned_EndsAtOnce()
    {
        await using var shop = await TestShop.EmptyAsync();
        var read = new TaskCompletionSource();
        var slow = new SlowContexts(shop.Get<IDbContextFactory<ShopContext>>(), read.Task);
        using var promises = new PromiseDay(slow, shop.Clock, shop.Get<Notifier>());
        var nothing = new AskedOrder([], Rush: false);
        using var gaveUp = new CancellationTokenSource(TimeSpan.FromMilliseconds(200));
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => promises.ForAsync(nothing, gaveUp.Token));

        await using var context = await shop.ContextAsync();
        using var alsoGaveUp = new CancellationTokenSource(TimeSpan.FromMilliseconds(200));
        var now = promises.NowAsync(context, nothing, alsoGaveUp.Token);

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => now.WaitAsync(TimeSpan.FromSeconds(20)));
        read.SetResult();
    }

    private sealed class SlowContexts(IDbContextFactory<ShopContext> inner, Task until) : IDbContextFactory<ShopContext>
    {
        public ShopContext CreateDbContext() => inner.CreateDbContext();

        public async Task<ShopContext> CreateDbContextAsync(CancellationToken cancellationToken = default)
        {
            await until;
            return await inner.CreateDbContextAsync(cancellationToken);
        }
    }
}
