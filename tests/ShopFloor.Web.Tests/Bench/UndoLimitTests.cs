using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Lots;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Orders.Changes;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>One step back takes back what was tapped at the Bench, and brings nothing to life that the Office has ended.</summary>
public sealed class UndoLimitTests
{
    [Fact]
    public async Task Undo_PieceThatIsNoLongerOrdered_IsRefusedAndNotOffered()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await FewerAsync(shop, 1);
        var gone = (await shop.PiecesAsync()).Single(p => p.State == PieceState.Returned);
        Assert.Equal("not-at-bench", BenchShop.Code0(await BackAsync(shop, gone.Code)));
        Assert.Equal(PieceState.Returned, (await shop.PieceAsync(gone.Code)).State);
        Assert.Empty(await OffersAsync(shop, gone.Code));
    }

    [Fact]
    public async Task Undo_PieceOfAnOrderThatWasCalledOff_IsRefusedAndNotOffered()
    {
        await using var shop = await BenchShop.OpenAsync(2, own: true);
        var pieces = await shop.PiecesAsync();
        foreach (var piece in pieces)
            BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(piece.Code)));
        var lost = new FaultReport(new Target(pieces[0].Code), "run", "", new TimeDecision(TimeChoice.Spoil, "fell down"));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), lost));
        Assert.Single(await OffersAsync(shop, pieces[0].Code));
        await CallOffAsync(shop);
        Assert.Equal("order-off", BenchShop.Code0(await BackAsync(shop, pieces[0].Code)));
        Assert.Equal("not-at-bench", BenchShop.Code0(await BackAsync(shop, pieces[1].Code)));
        Assert.Equal([PieceState.Spoiled, PieceState.GoingBack], (await shop.PiecesAsync()).Select(p => p.State));
        Assert.Empty(await OffersAsync(shop, pieces[0].Code));
    }

    [Fact]
    public async Task Undo_LotThatWasBarred_IsRefusedAndThePiecesStayAside()
    {
        await using var shop = await BenchShop.OpenAsync(2, own: true);
        await shop.WorkToAsync(StepKind.Cure);
        await using var context = await shop.Shop.ContextAsync();
        var id = (await shop.PieceAsync(shop.Code)).Items.First(i => i.Can is not null).Can;
        var can = await context.Cans.AsNoTracking().FirstAsync(c => c.Id == id);
        var command = Guid.CreateVersion7();
        BenchShop.Must(await shop.Shop.Get<HoldLot>().RunAsync(shop.Ask(command), new LotWish(can.Code, "peels")));
        Assert.Equal("lot-barred", BenchShop.Code0(await shop.UndoAsync(command)));
        Assert.Equal("lot-barred", BenchShop.Code0(await BackAsync(shop, shop.Code)));
        Assert.Equal(PieceState.Held, (await shop.PieceAsync(shop.Code)).State);
        Assert.Empty(await OffersAsync(shop, shop.Code));
    }

    [Fact]
    public async Task Undo_SpoiledPieceWhoseLineWasMadeSmaller_IsRefusedAndNotOffered()
    {
        await using var shop = await BenchShop.OpenAsync(2, own: true);
        BenchShop.Must(await shop.ReceiveAsync());
        await SpoilAsync(shop, shop.Code);
        Assert.Single(await OffersAsync(shop, shop.Code));
        await FewerAsync(shop, 1);
        Assert.Equal("none-missing", BenchShop.Code0(await BackAsync(shop, shop.Code)));
        Assert.Empty(await OffersAsync(shop, shop.Code));
    }

    [Fact]
    public async Task Undo_SpoiledPieceThatWasMadeAnew_IsRefusedUntilTheNewOneIsGone()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        BenchShop.Must(await shop.ReceiveAsync());
        await SpoilAsync(shop, shop.Code);
        var made = BenchShop.Must(await shop.Shop.Get<MakeAnother>().RunAsync(shop.Ask(), new Target(shop.Code))).Codes[0];
        Assert.Equal("none-missing", BenchShop.Code0(await BackAsync(shop, shop.Code)));
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(made)));
        await SpoilAsync(shop, made);
        BenchShop.Must(await BackAsync(shop, shop.Code));
        Assert.Equal(PieceState.Received, (await shop.PieceAsync(shop.Code)).State);
    }

    [Fact]
    public async Task Stock_OpenPieceOnALineThatWasLeftOut_IsReadAllTheSame()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await using var context = await shop.Shop.ContextAsync();
        await context.Database.ExecuteSqlAsync($"UPDATE OrderLines SET Quantity = 0");
        Assert.NotEmpty((await shop.Shop.Get<StockView>().LoadAsync()).Items);
    }

    private static async Task SpoilAsync(BenchShop shop, string code)
    {
        var lost = new FaultReport(new Target(code), "run", "", new TimeDecision(TimeChoice.Spoil, "fell down"));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), lost));
    }

    /// <summary>Makes it fewer pieces of the shop's one line.</summary>
    /// <summary>Whoever adds a command to the Bench says whether one step back takes it back.</summary>
    [Fact]
    public void AtTheBench_EveryCommandOfTheBench_IsNamedOrMovesNoPiece()
    {
        string[] others = ["AnswerCall", "BuildBatch", "DropBatch", "HoldLot", "KeepReading", "ScanIntoBatch"];
        var all = typeof(UndoLimits)
            .Assembly.GetTypes()
            .Where(t => t.IsAssignableTo(typeof(IUseCase)) && t.Namespace!.StartsWith("ShopFloor.Web.Bench", StringComparison.Ordinal))
            .Select(t => t.Name)
            .Except(["BenchMoves"]);
        Assert.Equal(all.Order(StringComparer.Ordinal), UndoLimits.AtTheBench.Concat(others).Order(StringComparer.Ordinal));
    }

    internal static async Task FewerAsync(BenchShop shop, int quantity)
    {
        var owner = await shop.Shop.WorkerAsync(WorkerRole.Owner);
        await using var context = await shop.Shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync();
        var quote = (await shop.Shop.Get<QuantityView>().LoadAsync(new QuantityInput(order.Id, order.Version, 1, quantity, []))).Value;
        Assert.Equal("ok", BenchShop.Code0(await shop.Shop.Get<ChangeQuantity>().RunAsync(Asked.By(owner), quote.Input)));
    }

    private static async Task CallOffAsync(BenchShop shop)
    {
        var owner = await shop.Shop.WorkerAsync(WorkerRole.Owner);
        await using var context = await shop.Shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync();
        var change = new OrderChange(order.Id, order.Version, OrderAct.Cancel, "changed their mind");
        Assert.Equal("ok", BenchShop.Code0(await shop.Shop.Get<ChangeOrder>().RunAsync(Asked.By(owner), change)));
    }

    private static Task<Result<Moved>> BackAsync(BenchShop shop, string code) =>
        shop.Shop.Get<UndoLast>().RunAsync(shop.Ask(), new UndoWish(code, null));

    /// <summary>The buttons for one step back on the page of a piece.</summary>
    private static async Task<IReadOnlyList<string>> OffersAsync(BenchShop shop, string code)
    {
        var sheet = Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(code)).Value.Pieces);
        await using var page = TestPage.Plain();
        return [.. page.Render<WayList>(p => p.Add(w => w.Sheet, sheet)).FindAll("[data-move]").Select(b => b.TextContent)];
    }
}
