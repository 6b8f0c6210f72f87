using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Orders.Changes;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>More or fewer pieces of a booked line, or none: priced, made, planned and told as if it had been booked so.</summary>
public sealed class ChangeQuantityTests
{
    [Theory]
    [InlineData(3, 5)]
    [InlineData(5, 2)]
    public async Task Change_AnyNumber_CostsWhatAFreshBookingCosts(int from, int to)
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(from));
        var fresh = await shop.Get<QuoteOrder>().RunAsync(ChangedShop.Plates(to));

        var quote = await shop.LookAsync(to);
        var done = await shop.Get<ChangeQuantity>().RunAsync(shop.Asked(), quote.Input);

        Assert.True(done.IsOk, done.Refusals.FirstOrDefault()?.Text);
        var order = await shop.OrderAsync();
        Assert.Equal((fresh.Gross, fresh.Net, fresh.Deposit), (order.Gross, order.Net, order.Deposit));
        Assert.Equal((fresh.Lines[0].Price!.Hash, to), (order.Lines[0].Price.Hash, order.Lines[0].Quantity));
        Assert.Equal((quote.Price.After, quote.Sum.After, quote.Deposit.After), (order.Gross, order.Gross, order.Deposit));
        var entry = Assert.Single(await shop.AuditAsync());
        Assert.StartsWith($"line 1: {from} pieces, ", entry.Before, StringComparison.Ordinal);
        Assert.StartsWith($"line 1: {to} pieces, ", entry.After, StringComparison.Ordinal);
    }

    [Fact]
    public async Task More_OfBlanks_AreMadeAsAtBookingAndPlannedAndTold()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(3));
        var (before, heard) = (await shop.PiecesAsync(), new List<Change>());
        using var news = shop.Get<Notifier>().Subscribe([Topic.Order, Topic.Piece], heard.AddRange);

        await shop.ChangeAsync(5);

        var pieces = await shop.PiecesAsync();
        Assert.Equal([1, 2, 3, 4, 5], pieces.Select(p => p.Number));
        Assert.Equal(5, pieces.Select(p => p.Code).Distinct().Count());
        Assert.Equal(before[0].Tray, Assert.Single(pieces.Select(p => p.Tray).Distinct()));
        Assert.All(pieces, p => Assert.Equal(before[0].Items.Select(i => i.Kind), p.Items.Select(i => i.Kind)));
        Assert.Equal(2, heard.Count(c => c.Topic == Topic.Piece && pieces[3..].Exists(p => p.Id.Value == c.Id)));
        Assert.Contains(heard, c => c == new Change(Topic.Order, shop.Booked.Order.Value));
        await using var context = await shop.Shop.ContextAsync();
        var day = DayFromShop.Make(await ShopSnapshot.ReadPromisedAsync(context, shop.Shop.Clock.GetUtcNow(), default));
        Assert.Equal(5, day.Pieces.Count);
        Assert.Equal(5, await context.Journal.CountAsync());
    }

    [Fact]
    public async Task More_ThanFitsBeforeThePromise_MovesItAsShown()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1, own: true));
        var quote = await shop.LookAsync(80);
        Assert.True(quote.Promise.After > quote.Promise.Before, $"{quote.Promise}");
        Assert.True((await shop.Get<ChangeQuantity>().RunAsync(shop.Asked(), quote.Input)).IsOk);
        var detail = await shop.DetailAsync();
        Assert.Equal(quote.Promise.After, detail.Local(detail.PromisedAt));
        Assert.All(await shop.PiecesAsync(), p => Assert.Null(p.Tray));
    }

    [Fact]
    public async Task Fewer_BlanksThatAreHere_GoBackOnTheShelfAndBegunOnesStay()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(3));
        var tray = (await shop.PiecesAsync())[0].Tray!;
        Assert.True((await shop.Get<ReceivePieces>().RunAsync(shop.Asked(), new Target(tray))).IsOk);
        var here = await OnHandAsync(shop);

        await shop.ChangeAsync(1);

        Assert.Equal(here + 2, await OnHandAsync(shop));
        var pieces = await shop.PiecesAsync();
        Assert.Equal([PieceState.Received, PieceState.Returned, PieceState.Returned], pieces.Select(p => p.State));
        var step = pieces[0].NextAttended!.Number;
        Assert.True((await shop.Get<StartStep>().RunAsync(shop.Asked(), new StartWish(new Target(tray, step), IsHot: true))).IsOk);
        await shop.ChangeAsync(2);
        Assert.Equal([1, 2, 2, 3], (await shop.PiecesAsync()).Select(p => p.Number));
        Assert.Equal("begun", (await shop.ViewAsync(0)).Refusals[0].Code);
    }

    [Fact]
    public async Task LeaveOut_OneOfTwoLines_IsGoneFromPapersAndPlanAndTheLastOneStays()
    {
        var two = ChangedShop.Plates(2);
        two = two with { Lines = [two.Lines[0], two.Lines[0] with { Quantity = 3, Texts = ["x"] }] };
        await using var shop = await ChangedShop.OpenAsync(two);
        var fresh = await shop.Get<QuoteOrder>().RunAsync(ChangedShop.Plates(3, "x"));
        var quote = await shop.LookAsync(0);
        Assert.Equal((2, 0, 0m), (quote.Back.Count, quote.New, quote.Price.After));

        Assert.True((await shop.Get<ChangeQuantity>().RunAsync(shop.Asked(), quote.Input)).IsOk);

        var order = await shop.OrderAsync();
        Assert.Equal((fresh.Gross, fresh.Deposit, 2), (order.Gross, order.Deposit, Assert.Single(order.Lines).Number));
        var detail = await shop.DetailAsync();
        Assert.Equal(2, Assert.Single(detail.Lines).Number);
        Assert.NotNull(await shop.Get<OrderLetterView>().MakeAsync(shop.Booked.Number, OrderLetterKind.Confirmation, ""));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(3, DayFromShop.Make(await ShopSnapshot.ReadPromisedAsync(context, shop.Shop.Clock.GetUtcNow(), default)).Pieces.Count);
        Assert.Equal("last-line", (await shop.ViewAsync(0, line: 2)).Refusals[0].Code);
        // Who scans a label that is still about is told, and erasing finds nothing missing.
        var gone = (await shop.PiecesAsync()).First(p => p.State == PieceState.Returned);
        Assert.True((await shop.Get<FindByCode>().ReadAsync(gone.Code)).IsOk);
    }

    [Fact]
    public async Task Fewer_OwnPieceThatIsHere_HasToBeGivenBackAtTheBenchFirst()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2, own: true));
        foreach (var piece in await shop.PiecesAsync())
            Assert.True((await shop.Get<ReceivePieces>().RunAsync(shop.Asked(), new Target(piece.Code))).IsOk);
        Assert.Equal("own-here", (await shop.ViewAsync(1)).Refusals[0].Code);
        var back = new WithReason(new Target((await shop.PiecesAsync())[0].Code), "not wanted");
        Assert.True((await shop.Get<ReturnPieces>().RunAsync(shop.Asked(), back)).IsOk);
        await shop.ChangeAsync(1);
        Assert.Equal([PieceState.Returned, PieceState.Received], (await shop.PiecesAsync()).Select(p => p.State));
    }

    [Fact]
    public async Task Change_TextsForEach_HaveToMatchTheCount()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(3, "a", "b", "c"));
        var refusal = (await shop.ViewAsync(4, texts: ["a", "b", "c"])).Refusals[0];
        Assert.Equal(("texts", "texts"), (refusal.Code, refusal.Field));
        var quote = await shop.ViewAsync(4, texts: ["a", "b", "c", "d"]);
        Assert.True((await shop.Get<ChangeQuantity>().RunAsync(shop.Asked(), quote.Value.Input)).IsOk);
        Assert.Equal(["a", "b", "c", "d"], (await shop.OrderAsync()).Lines[0].Texts);
    }

    [Fact]
    public async Task Change_PriceSetByHand_StaysTheSameForOnePiece()
    {
        var byHand = ChangedShop.Plates(4);
        byHand = byHand with { Lines = [byHand.Lines[0] with { PriceByHand = 7.5m, PriceReason = "an old friend" }] };
        await using var shop = await ChangedShop.OpenAsync(byHand);
        var quote = await shop.LookAsync(6);
        Assert.Equal(new Turn<decimal>(30m, 45m), quote.Price);
        await shop.ChangeAsync(6);
        Assert.Equal("Price set by hand: an old friend", (await shop.OrderAsync()).Lines[0].Price.OverrideReason);
    }

    [Fact]
    public async Task Change_SentTwice_IsDoneOnceAndAnsweredTheSame()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        var (asked, quote) = (shop.Asked(), await shop.LookAsync(4));
        var first = await shop.Get<ChangeQuantity>().RunAsync(asked, quote.Input);
        var second = await shop.Get<ChangeQuantity>().RunAsync(asked, quote.Input);
        Assert.Equal((true, first.Value), (second.IsOk, second.Value));
        Assert.Equal((4, 1), ((await shop.PiecesAsync()).Count, (await shop.AuditAsync()).Count));
    }

    [Fact]
    public async Task Change_OtherPriceOrOrderThanShown_IsRefused()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        var quote = await shop.LookAsync(4);
        var other = await shop.Get<ChangeQuantity>().RunAsync(shop.Asked(), quote.Input with { Quantity = 5 });
        Assert.Equal("price-moved", other.Refusals[0].Code);
        await shop.WriteAsync(o => o.Write("called"));
        Assert.Equal("changed-meanwhile", (await shop.Get<ChangeQuantity>().RunAsync(shop.Asked(), quote.Input)).Refusals[0].Code);
        await shop.WriteAsync(o => o.Cancel(shop.Shop.Clock.GetUtcNow()));
        var seen = quote.Input with { SeenVersion = (await shop.OrderAsync()).Version };
        Assert.Equal("order-off", (await shop.Get<ChangeQuantity>().RunAsync(shop.Asked(), seen)).Refusals[0].Code);
        Assert.Equal(2, (await shop.PiecesAsync()).Count);
    }

    [Fact]
    public async Task Change_Discounted_IsRefusedUntilTheDiscountIsTakenBack()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        var wish = new DiscountInput(shop.Booked.Order, new DiscountWish(10m, true, "Friend"));
        Assert.True((await shop.Get<DiscountOrder>().RunAsync(shop.Asked(), wish)).IsOk);
        Assert.Equal("line-discounted", (await shop.ViewAsync(3)).Refusals[0].Code);
        Assert.True((await shop.Get<TakeBackExtra>().RunAsync(shop.Asked(), new ExtraInput(shop.Booked.Order, 1, true))).IsOk);
        await shop.ChangeAsync(3);
    }

    private static async Task<decimal> OnHandAsync(ChangedShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        var items = await context.StockItems.AsNoTracking().ToListAsync();
        return Blanks.Fitting(items, (await shop.OrderAsync()).Lines[0].Piece)!.OnHand;
    }
}
