using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Api;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Api;

/// <summary>A program that asks for what is new hears of changes of the order itself too.</summary>
public sealed class ChangedSinceTests
{
    [Fact]
    public async Task Many_ChangedSince_NamesAnOrderOfWhichNoPieceMoved()
    {
        await using var shop = await ShopOrders.DemoAsync();
        shop.Clock.Advance(TimeSpan.FromHours(1));
        var (view, since) = (shop.Get<OrderStatusView>(), shop.Clock.GetUtcNow());
        Assert.Empty((await view.ManyAsync(0, 100, since, default)).Orders);
        await using var context = await shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().OrderBy(o => o.Number).FirstAsync();
        var asked = Asked.By(await shop.WorkerAsync(WorkerRole.Owner));

        var change = new OrderChange(order.Id, order.Version, OrderAct.Note, "Call before it is ready.");
        Assert.True((await shop.Get<ChangeOrder>().RunAsync(asked, change)).IsOk);

        Assert.Equal(order.Number, Assert.Single((await view.ManyAsync(0, 100, since, default)).Orders).Order);
        Assert.Empty((await view.ManyAsync(0, 100, since.AddSeconds(1), default)).Orders);
    }
}
