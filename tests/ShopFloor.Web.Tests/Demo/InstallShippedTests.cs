using Microsoft.EntityFrameworkCore;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Demo;

public sealed class InstallShippedTests
{
    [Fact]
    public async Task RunAsync_Twice_LeavesEachThingOnceAndNoOrders()
    {
        await using var shop = await TestShop.EmptyAsync();
        Assert.True((await shop.Get<InstallShipped>().RunAsync(Asked.BySystem())).IsOk);
        Assert.True((await shop.Get<InstallShipped>().RunAsync(Asked.BySystem())).IsOk);

        await using var context = await shop.ContextAsync();
        Assert.Equal(4, await context.Recipes.CountAsync());
        Assert.Equal(6, await context.Stations.CountAsync());
        Assert.Equal(5, await context.Coatings.CountAsync());
        Assert.Equal(0, await context.Orders.CountAsync());
    }
}
