using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A spoiled piece of the workshop's own stock is made anew.</summary>
public sealed class MakeAnotherTests
{
    [Fact]
    public async Task Make_ForASpoiledPieceOfStock_IsBookedWithTheSameStepsAndWorkedLikeAnyOther()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await SpoilAsync(shop, shop.Code);

        var made = Assert.Single(BenchShop.Must(await MakeAsync(shop, shop.Code)).Codes);

        var (old, anew) = (await shop.PieceAsync(shop.Code), await shop.PieceAsync(made));
        Assert.Equal(
            (PieceState.Booked, old.Order, old.Line, 2, false, false),
            (anew.State, anew.Order, anew.Line, anew.Number, anew.IsOwn, anew.IsTest)
        );
        Assert.Equal(old.Items.Select(i => i.Settings), anew.Items.Select(i => i.Settings));
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(made)));
        await shop.WorkToAsync(StepKind.Inspect, made);
        Assert.Equal(StepKind.Inspect, (await shop.PieceAsync(made)).NextAttended!.Kind);
    }

    [Fact]
    public async Task Make_Twice_SaysThatNoneIsMissing()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await SpoilAsync(shop, shop.Code);
        BenchShop.Must(await MakeAsync(shop, shop.Code));
        Assert.Equal("none-missing", BenchShop.Code0(await MakeAsync(shop, shop.Code)));
        Assert.Equal(2, (await shop.PiecesAsync()).Count);
    }

    [Fact]
    public async Task Make_ForAPieceInWorkOrACustomersOwn_IsRefused()
    {
        await using var stock = await BenchShop.OpenAsync(1);
        Assert.Equal("not-spoiled", BenchShop.Code0(await MakeAsync(stock, stock.Code)));
        await using var own = await BenchShop.OpenAsync(1, own: true);
        await SpoilAsync(own, own.Code);
        Assert.Equal("own-piece", BenchShop.Code0(await MakeAsync(own, own.Code)));
    }

    [Fact]
    public async Task Make_ForAnOrderThatWasCalledOff_IsRefused()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await SpoilAsync(shop, shop.Code);
        await using (var context = await shop.Shop.ContextAsync())
        {
            var order = await context.Orders.SingleAsync();
            order.Cancel(shop.Shop.Clock.GetUtcNow());
            await context.SaveChangesAsync();
        }
        Assert.Equal("order-off", BenchShop.Code0(await MakeAsync(shop, shop.Code)));
    }

    private static Task<Result<Moved>> MakeAsync(BenchShop shop, string code) =>
        shop.Shop.Get<MakeAnother>().RunAsync(shop.Ask(), new Target(code));

    private static async Task SpoilAsync(BenchShop shop, string code)
    {
        BenchShop.Must(await shop.ReceiveAsync());
        var report = new FaultReport(new Target(code), "run", "", new TimeDecision(TimeChoice.Spoil, "no use"));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), report));
        Assert.Equal(PieceState.Spoiled, (await shop.PieceAsync(code)).State);
    }
}
