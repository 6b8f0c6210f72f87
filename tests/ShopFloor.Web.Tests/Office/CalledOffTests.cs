using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>An order that was called off offers nothing any more, and says what of the money must go back.</summary>
public sealed class CalledOffTests
{
    [Fact]
    public async Task Cancel_PaidAndCharged_OffersNothingAndNamesTheMoneyUntilItIsBack()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1, own: true);
        var (shop, owner) = (bench.Shop, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        var (number, id) = await OrderAsync(shop);
        var today = DateOnly.FromDateTime(shop.Clock.GetUtcNow().UtcDateTime);
        Task<Result<PaymentEntered>> Pay(decimal amount) =>
            shop.Get<EnterPayment>().RunAsync(Asked.By(owner), new PaymentInput(null, id, amount, today, "cash"));
        Assert.True((await shop.Get<ChargeOrder>().RunAsync(Asked.By(owner), new ChargeInput(id, "Shipping", 6m))).IsOk);
        Assert.True((await Pay(10m)).IsOk);

        Assert.True((await ActAsync(shop, owner, number, OrderAct.Cancel)).IsOk);

        var detail = (await shop.Get<OrderDetailView>().LoadAsync(number))!;
        Assert.Equal((10m, 0m), (detail.ToGoBack, detail.DepositAsked));
        Assert.Empty(detail.Extras);
        var invoicing = (await shop.Get<InvoiceListView>().ForOrderAsync(number))!;
        Assert.Equal((true, false, 0m), (invoicing.IsOff, invoicing.HasOpen, invoicing.DepositAsked));
        Assert.Equal("order-off", (await ActAsync(shop, owner, number, OrderAct.ApproveProof)).Refusals[0].Code);
        var deposit = await shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(id, Deposit: 1m));
        Assert.Equal("order-off", deposit.Refusals[0].Code);

        Assert.Equal("money-owed", (await EraseAsync(shop, owner, id)).Refusals[0].Code);

        Assert.True((await Pay(-10m)).IsOk);
        Assert.Equal(0m, (await shop.Get<OrderDetailView>().LoadAsync(number))!.ToGoBack);
        Assert.True((await shop.Get<ChargeOrder>().RunAsync(Asked.By(owner), new ChargeInput(id, "Fee for calling off", 5m))).IsOk);
        Assert.True((await shop.Get<InvoiceListView>().ForOrderAsync(number))!.HasOpen);
        Assert.True((await EraseAsync(shop, owner, id)).IsOk);
    }

    [Fact]
    public async Task HandOver_CheckedGoodAndNotPacked_IsOfferedOnlyOncePacked()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        var (shop, owner) = (bench.Shop, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        var (number, _) = await OrderAsync(shop);
        await bench.WorkToAsync(Domain.Recipes.StepKind.Pack);
        Assert.DoesNotContain((await shop.Get<OrderDetailView>().LoadAsync(number))!.Pieces, p => p.IsReady);
        Assert.Equal("step-open", (await ActAsync(shop, owner, number, OrderAct.HandOver)).Refusals[0].Code);
        await bench.DoAsync((await bench.PiecesAsync())[0].NextAttended!);
        Assert.True((await ActAsync(shop, owner, number, OrderAct.HandOver)).IsOk);
        Assert.Equal(PieceState.HandedOver, (await bench.PiecesAsync())[0].State);
    }

    [Fact]
    public async Task Cancel_OwnPieceThatIsHere_StandsOnTodayUntilItIsGivenBack()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 2, own: true);
        var (shop, owner) = (bench.Shop, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        var (number, id) = await OrderAsync(shop);
        var first = (await bench.PiecesAsync())[0];
        BenchShop.Must(await shop.Get<ReceivePieces>().RunAsync(bench.Ask(), new Target(first.Code)));
        Assert.Equal("nothing-here", (await ActAsync(shop, owner, number, OrderAct.GiveBack)).Refusals[0].Code);

        Assert.True((await ActAsync(shop, owner, number, OrderAct.Cancel)).IsOk);

        Assert.Equal([PieceState.GoingBack, PieceState.Returned], (await bench.PiecesAsync()).Select(p => p.State));
        var row = Assert.Single((await shop.Get<TodayView>().LoadAsync()).GoingBack);
        Assert.Equal((number, 1, 0), (row.Number, row.Pieces, row.Days));
        Assert.Equal("orders-open", (await EraseAsync(shop, owner, id)).Refusals[0].Code);
        Assert.True((await ActAsync(shop, owner, number, OrderAct.GiveBack)).IsOk);
        Assert.All(await bench.PiecesAsync(), p => Assert.Equal(PieceState.Returned, p.State));
        Assert.Empty((await shop.Get<TodayView>().LoadAsync()).GoingBack);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Cancel_OwnPieceThatIsGoodButNotPacked_NothingWaitsForItAndItIsGivenBack(bool packing)
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1, own: true);
        var (shop, owner) = (bench.Shop, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        var (number, _) = await OrderAsync(shop);
        await bench.WorkToAsync(Domain.Recipes.StepKind.Pack);
        if (packing)
            BenchShop.Must(await bench.StartAsync((await bench.PiecesAsync())[0].NextAttended!.Number));
        Assert.Equal("nothing-here", (await ActAsync(shop, owner, number, OrderAct.GiveBack)).Refusals[0].Code);

        Assert.True((await ActAsync(shop, owner, number, OrderAct.Cancel)).IsOk);

        var now = shop.Clock.GetUtcNow();
        await using (var context = await shop.ContextAsync())
        {
            // The Wall's promises, the Bench's first page and the plan are made of these.
            Assert.Empty((await OpenWork.LoadAsync(context, now, null, default)).Pieces);
            Assert.Empty((await ShopSnapshot.ReadAsync(context, now, default)).Pieces);
        }
        var row = Assert.Single((await shop.Get<TodayView>().LoadAsync()).GoingBack);
        Assert.Equal((number, 1), (row.Number, row.Pieces));
        Assert.Single((await shop.Get<OrderDetailView>().LoadAsync(number))!.GoingBack);
        Assert.True((await ActAsync(shop, owner, number, OrderAct.GiveBack)).IsOk);
        Assert.Equal(PieceState.HandedOver, (await bench.PiecesAsync())[0].State);
        Assert.Empty((await shop.Get<TodayView>().LoadAsync()).GoingBack);
    }

    /// <summary>An order that was made, handed over and paid cannot be said to be called off, to its customer least of all.</summary>
    [Fact]
    public async Task Cancel_AllHandedOver_IsRefusedAndNotOffered()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 2);
        var (shop, owner) = (bench.Shop, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        var (number, _) = await OrderAsync(shop);
        await bench.WorkToAsync(Domain.Recipes.StepKind.Mask);
        Assert.False((await shop.Get<OrderDetailView>().LoadAsync(number))!.IsOver);
        Assert.True((await ActAsync(shop, owner, number, OrderAct.HandOver)).IsOk);

        var detail = (await shop.Get<OrderDetailView>().LoadAsync(number))!;
        Assert.All(detail.Pieces, p => Assert.Equal(PieceState.HandedOver, p.State));
        Assert.True(detail.IsOver);
        Assert.Equal("order-over", (await ActAsync(shop, owner, number, OrderAct.Cancel)).Refusals[0].Code);
        Assert.False((await shop.Get<OrderDetailView>().LoadAsync(number))!.IsCancelled);
    }

    private static async Task<Result<Done>> EraseAsync(TestShop shop, Guid owner, OrderId order)
    {
        await using var context = await shop.ContextAsync();
        var customer = await context.Orders.Where(o => o.Id == order).Select(o => o.Customer).SingleAsync();
        return await shop.Get<EraseCustomer>().RunAsync(Asked.By(owner), new EraseInput(customer));
    }

    private static async Task<(int Number, OrderId Id)> OrderAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync();
        return (order.Number, order.Id);
    }

    private static async Task<Result<Done>> ActAsync(TestShop shop, Guid owner, int number, OrderAct act)
    {
        var now = (await shop.Get<OrderDetailView>().LoadAsync(number))!;
        return await shop.Get<ChangeOrder>().RunAsync(Asked.By(owner), new OrderChange(now.Id, now.Version, act, "called off"));
    }
}
