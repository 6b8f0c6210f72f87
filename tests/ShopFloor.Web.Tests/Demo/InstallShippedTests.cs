using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Live;
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

    /// <summary>The program ended between "become the owner" and what is shipped: the next start puts it in, and leaves what is there.</summary>
    [Fact]
    public async Task Start_OwnerAndNoRecipe_PutsInWhatIsShipped()
    {
        await using var shop = await TestShop.EmptyAsync();
        Assert.True((await ShippedStart.RunAsync(shop.Get<IServiceProvider>())).IsOk);
        await using var context = await shop.ContextAsync();
        Assert.Equal(0, await context.Recipes.CountAsync());

        await shop.WorkerAsync(WorkerRole.Owner);
        context.Stations.Add(ShippedDefaults.Stations().First());
        await context.SaveChangesAsync();
        for (var start = 0; start < 2; start++)
            Assert.True((await ShippedStart.RunAsync(shop.Get<IServiceProvider>())).IsOk);
        Assert.Equal(
            (4, 1, 5),
            (await context.Recipes.CountAsync(), await context.Stations.CountAsync(), await context.Coatings.CountAsync())
        );
    }

    [Fact]
    public async Task RunAsync_AfterThePlanOfTheEmptyProgram_IsKnownToPromisesAndTold()
    {
        await using var shop = await TestShop.EmptyAsync();
        await PublishAsync(shop);
        var told = new List<Topic>();
        using (shop.Get<Notifier>().Subscribe([Topic.Station, Topic.Stock], changes => told.AddRange(changes.Select(c => c.Topic))))
            Assert.True((await shop.Get<InstallShipped>().RunAsync(Asked.BySystem())).IsOk);
        Assert.Equal([Topic.Station, Topic.Stock], told.Order());

        // Nobody works there yet and there is no can: no day, and a reason, not a fault. What no can holds is known before anything is planned.
        var quote = await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(own: true));
        Assert.Null(quote.PromisedAt);
        Assert.Equal("no coating", Assert.Single(quote.LeftOut).Value.Reason);
    }

    private static async Task PublishAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), CancellationToken.None);
        var bytes = DayWriter.Write(DayFromShop.Make(snapshot));
        var plan = PlanWriter.Write(DayPlanner.First(DayFromShop.Make(snapshot), Fingerprint.Sha256(bytes)));
        var input = new PlanInput(snapshot.Now, snapshot.Journal, Encoding.UTF8.GetString(bytes), Encoding.UTF8.GetString(plan), "test");
        Assert.True((await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input)).IsOk);
    }
}
