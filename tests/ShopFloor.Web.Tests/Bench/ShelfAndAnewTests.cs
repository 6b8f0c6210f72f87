using System.Text.Json;
using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A blank that went back to the shelf leaves its line one short: another takes its place, or the order is made smaller.</summary>
public sealed class ShelfAndAnewTests
{
    [Fact]
    public async Task Shelf_OneOfThree_AnotherTakesItsNumberItsBlankAndItsPlaceInTheMoney()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var (shelf, money) = (await OnShelfAsync(shop), await MoneyAsync(shop));
        BenchShop.Must(await shop.ReceiveAsync());
        var command = Guid.CreateVersion7();
        var gone = await BackAsync(shop, command);
        Assert.Equal((shelf - 2, true), (await OnShelfAsync(shop), await MoneyAsync(shop) < money));

        var tap = await OfferAsync(shop, gone.Code);
        Assert.Equal(("makeAnother", gone.Code), (tap!.Move, tap.Code));
        // The tray's page offers the same.
        Assert.Equal(tap.Code, (await OfferAsync(shop, shop.Code))!.Code);
        var made = Assert.Single(BenchShop.Must(await shop.Shop.Get<BenchMoves>().RunAsync(shop.Ask(), tap, default)).Codes);
        Assert.Equal((gone.Number, PieceState.Booked), ((await shop.PieceAsync(made)).Number, (await shop.PieceAsync(made)).State));
        Assert.Equal(money, await MoneyAsync(shop));
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(made)));
        Assert.Equal(shelf - 3, await OnShelfAsync(shop));

        Assert.Null(await OfferAsync(shop, gone.Code));
        Assert.Equal("none-missing", BenchShop.Code0(await shop.UndoAsync(command)));
    }

    [Fact]
    public async Task Shelf_OrderMadeSmallerAfterwards_OffersNoneAndAsksForTwo()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        BenchShop.Must(await shop.ReceiveAsync());
        var gone = await BackAsync(shop, Guid.CreateVersion7());
        await UndoLimitTests.FewerAsync(shop, 2);
        Assert.Null(await OfferAsync(shop, gone.Code));
        Assert.Equal(2, (await shop.PiecesAsync()).Count(p => p.State == PieceState.Received));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal((await context.Orders.SingleAsync()).Gross, await MoneyAsync(shop));
    }

    // Of three, two go back and one is made anew with the number of the first: that one's return stays.
    [Fact]
    public async Task Undo_OfAReturnWhoseNumberAnotherHas_IsRefusedAndTheOtherComesBack()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        BenchShop.Must(await shop.ReceiveAsync());
        var (first, second) = (Guid.CreateVersion7(), Guid.CreateVersion7());
        var gone = await BackAsync(shop, first);
        await BackAsync(shop, second);
        var made = BenchShop.Must(await shop.Shop.Get<MakeAnother>().RunAsync(shop.Ask(), new Target(gone.Code))).Codes[0];

        var refused = await shop.UndoAsync(first);
        Assert.Equal("number-taken", BenchShop.Code0(refused));
        Assert.Contains(made, refused.Refusals[0].Text, StringComparison.Ordinal);
        BenchShop.Must(await shop.UndoAsync(second));
        var there = (await shop.PiecesAsync()).Where(p => p.State.IsThere()).ToList();
        Assert.Equal([1, 2, 3], there.Select(p => p.Number).Order());
    }

    [Fact]
    public async Task GivenBack_CustomersOwn_OffersNone()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        BenchShop.Must(await shop.ReceiveAsync());
        await BackAsync(shop, Guid.CreateVersion7());
        Assert.Null(await OfferAsync(shop, shop.Code));
    }

    private static async Task<Piece> BackAsync(BenchShop shop, Guid command)
    {
        var wish = new WithReason(new Target(shop.Code, 1, Count: 1), "Too many laid out");
        var moved = BenchShop.Must(await shop.Shop.Get<ReturnPieces>().RunAsync(shop.Ask(command), wish));
        return await shop.PieceAsync(Assert.Single(moved.Codes));
    }

    private static async Task<decimal> MoneyAsync(BenchShop shop) => (await shop.Shop.Get<OpenMoneyView>().LoadAsync(1))!.Amount;

    private static async Task<decimal> OnShelfAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return (await context.StockItems.Where(i => i.Kind == StockItem.Blank).ToListAsync()).Sum(i => i.OnHand);
    }

    /// <summary>What the page of a code offers for what went back; null: nothing.</summary>
    private static async Task<Tap?> OfferAsync(BenchShop shop, string code)
    {
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(code)).Value.Pieces.Single(p => p.State == PieceState.Returned);
        await using var page = TestPage.Plain();
        var actions = page.Render<StepActions>(p => p.Add(s => s.Sheet, sheet));
        return actions.FindAll("[data-move]").SingleOrDefault() is { } button
            ? JsonSerializer.Deserialize<Tap>(button.GetAttribute("data-move")!, JsonForms.Default)
            : null;
    }
}
