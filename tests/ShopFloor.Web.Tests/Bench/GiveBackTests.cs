using System.Text.Json;
using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A single piece goes back as it is, while its order goes on or after it was called off.</summary>
public sealed class GiveBackTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task OwnPiece_WantedBack_GoesByThePageAndTheOrderIsMadeSmaller(bool aside)
    {
        await using var shop = await BenchShop.OpenAsync(2, own: true);
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        foreach (var code in codes)
            BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(code)));
        if (aside)
            await AsideAsync(shop, codes[0]);
        BenchShop.Must(await TapAsync(shop, await TapOfPageAsync(shop, codes[0], "Give back", "The customer wants it back")));
        var gone = await shop.PieceAsync(codes[0]);
        Assert.Equal((PieceState.Returned, "The customer wants it back"), (gone.State, gone.Reason));
        await UndoLimitTests.FewerAsync(shop, 1);
        Assert.Equal(PieceState.Received, (await shop.PieceAsync(codes[1])).State);
    }

    [Fact]
    public async Task OwnPiece_OfAnOrderThatWasCalledOff_GoesByThePage()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        BenchShop.Must(await shop.ReceiveAsync());
        await using (var context = await shop.Shop.ContextAsync())
        {
            var order = await context.Orders.AsNoTracking().SingleAsync();
            var owner = await shop.Shop.WorkerAsync(WorkerRole.Owner);
            var off = new OrderChange(order.Id, order.Version, OrderAct.Cancel, "changed their mind");
            Assert.True((await shop.Shop.Get<ChangeOrder>().RunAsync(Asked.By(owner), off)).IsOk);
        }
        Assert.Equal(PieceState.GoingBack, (await shop.PieceAsync(shop.Code)).State);
        BenchShop.Must(await TapAsync(shop, await TapOfPageAsync(shop, shop.Code, "Give back", "Not suited after all")));
        Assert.Equal(PieceState.Returned, (await shop.PieceAsync(shop.Code)).State);
    }

    [Fact]
    public async Task Piece_WithoutAReason_StaysAndIsAskedWhy()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        BenchShop.Must(await shop.ReceiveAsync());
        Assert.Equal("reason-missing", BenchShop.Code0(await TapAsync(shop, new Tap { Move = "giveBack", Code = shop.Code })));
        Assert.Equal(PieceState.Received, (await shop.PieceAsync(shop.Code)).State);
    }

    [Fact]
    public async Task Blank_GivenBackTakenBackAndGivenBackAgain_IsOnTheShelfOnce()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var start = await OnShelfAsync(shop);
        BenchShop.Must(await shop.ReceiveAsync());
        var tap = await TapOfPageAsync(shop, shop.Code, "Back on the shelf", "Too many laid out");
        Assert.Equal(1, tap.Count);
        var command = Guid.CreateVersion7();
        var gone = Assert.Single(BenchShop.Must(await TapAsync(shop, tap, command)).Codes);
        Assert.Equal(start - 2, await OnShelfAsync(shop));
        BenchShop.Must(await shop.UndoAsync(command));
        Assert.Equal((start - 3, PieceState.Received), (await OnShelfAsync(shop), (await shop.PieceAsync(gone)).State));
        BenchShop.Must(await TapAsync(shop, tap with { Code = gone, Group = null, Count = null }));
        Assert.Equal(start - 2, await OnShelfAsync(shop));
    }

    [Fact]
    public async Task Blank_BegunAndPutAside_IsNotOfferedAndStays()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        BenchShop.Must(await shop.ReceiveAsync());
        BenchShop.Must(await shop.FinishAsync(1));
        await AsideAsync(shop, shop.Code);
        Assert.False(Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces).MayGoBack);
        var tap = new Tap
        {
            Move = "giveBack",
            Code = (await shop.PiecesAsync())[0].Code,
            Reason = "Not needed any more",
        };
        Assert.Equal("blank-begun", BenchShop.Code0(await TapAsync(shop, tap)));
    }

    [Fact]
    public async Task Blank_SentBackToItsFirstStep_IsNoBlankAnyMore()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        var start = await OnShelfAsync(shop);
        await shop.WorkToAsync(StepKind.Tape);
        var back = new FaultReport(new Target(shop.Code), "dust", "", new TimeDecision(TimeChoice.Rework, "", 1));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), back));
        await AsideAsync(shop, shop.Code);
        Assert.DoesNotContain((await shop.PiecesAsync())[0].Items, i => i.StartedAt is not null);
        Assert.False(Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces).MayGoBack);
        var tap = new Tap
        {
            Move = "giveBack",
            Code = (await shop.PiecesAsync())[0].Code,
            Reason = "Not needed any more",
        };
        Assert.Equal("blank-begun", BenchShop.Code0(await TapAsync(shop, tap)));
        Assert.Equal(start - 1, await OnShelfAsync(shop));
        Assert.False(ShopFloor.Domain.Orders.LinePieces.IsFree((await shop.PiecesAsync())[0]));
    }

    [Fact]
    public async Task Tray_SomeAside_ThoseOfTheGroupThatWasSeenGo()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        BenchShop.Must(await shop.ReceiveAsync());
        var aside = (await shop.PiecesAsync())[2].Code;
        await AsideAsync(shop, aside);
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces.Single(p => p.State == PieceState.Held);
        Assert.Equal(
            [aside],
            BenchShop.Must(await TapAsync(shop, await TapOfPageAsync(sheet, "Back on the shelf", "Not needed any more"))).Codes
        );
    }

    private static Task<Result<Moved>> TapAsync(BenchShop shop, Tap tap, Guid? command = null) =>
        shop.Shop.Get<BenchMoves>().RunAsync(shop.Ask(command), tap, default);

    private static async Task<Tap> TapOfPageAsync(BenchShop shop, string code, string press, string reason) =>
        await TapOfPageAsync(Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(code)).Value.Pieces), press, reason);

    /// <summary>What the page sends when somebody gives the piece back.</summary>
    private static async Task<Tap> TapOfPageAsync(PieceSheet sheet, string press, string reason)
    {
        await using var page = TestPage.Plain();
        page.ComponentFactories.AddStub<StepSheet>();
        page.ComponentFactories.AddStub<WayList>();
        var card = page.Render<PieceCard>(p => p.Add(c => c.Sheet, sheet).Add(c => c.PromisedText, "today"));
        AngleSharp.Dom.IElement Button(string word) => card.FindAll("button").First(b => b.TextContent.Trim() == word);
        await Button(press).ClickAsync();
        Assert.True(card.Find("[data-move]").HasAttribute("disabled"));
        await Button(reason).ClickAsync();
        return JsonSerializer.Deserialize<Tap>(card.Find("[data-move]").GetAttribute("data-move")!, JsonForms.Default)!;
    }

    private static async Task AsideAsync(BenchShop shop, string code)
    {
        var report = new FaultReport(new Target(code), "run", "", new TimeDecision(TimeChoice.Hold, "customer rang"));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), report));
    }

    private static async Task<decimal> OnShelfAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.StockItems.Where(i => i.Code == "plate-100x60").Select(i => i.OnHand).SingleAsync();
    }
}
