using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Shared.Uploads;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Stock is what the work and the owner made of it: every change has a move, and the moves add up.</summary>
public sealed class StockTests
{
    [Fact]
    public async Task Work_WholeLineOfBlanks_PostsBlanksCoatTapeAndSheets()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 6);
        var before = await AmountsAsync(bench.Shop);
        await bench.WorkToAsync(StepKind.Inspect);
        var after = await AmountsAsync(bench.Shop);

        Assert.Equal(-6, after["plate-100x60"] - before["plate-100x60"]);
        Assert.Equal(-6 * 0.006m, after["tape"] - before["tape"]);
        await using var context = await bench.Shop.ContextAsync();
        var sessions = await context.Batches.CountAsync(b => b.Kind == BatchKind.PressSession);
        Assert.True(sessions > 0);
        Assert.Equal(-sessions, after["sheet"] - before["sheet"]);
        var pieces = await bench.PiecesAsync();
        var coated = pieces.SelectMany(p => p.Items).Where(i => i.Kind is StepKind.Spray or StepKind.Wipe).Sum(i => i.Settings.Ml);
        var cans = await context.StockMoves.Where(m => m.Can != null && m.Reason == StockReason.Use).ToListAsync();
        Assert.Equal(-coated, cans.Sum(m => m.Amount));
        await AddUpAsync(bench.Shop);
    }

    [Fact]
    public async Task Work_TakenBack_GivesBlankAndTapeBackOnce()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 4);
        var start = await AmountsAsync(bench.Shop);
        var command = Guid.CreateVersion7();
        BenchShop.Must(
            await bench.Shop.Get<Web.Bench.Moves.ReceivePieces>().RunAsync(bench.Ask(command), new Web.Bench.Moves.Target(bench.Code))
        );
        Assert.Equal(start["plate-100x60"] - 4, (await AmountsAsync(bench.Shop))["plate-100x60"]);
        BenchShop.Must(await bench.UndoAsync(command));
        Assert.Equal(start["plate-100x60"], (await AmountsAsync(bench.Shop))["plate-100x60"]);
        await AddUpAsync(bench.Shop);
    }

    [Theory]
    [InlineData(3)]
    [InlineData(0)]
    public async Task Work_TakenBackAfterAStockTake_LeavesWhatWasFound(int more)
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 4);
        var command = Guid.CreateVersion7();
        BenchShop.Must(
            await bench.Shop.Get<Web.Bench.Moves.ReceivePieces>().RunAsync(bench.Ask(command), new Web.Bench.Moves.Target(bench.Code))
        );
        bench.Wait(60);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        var booked = (await AmountsAsync(bench.Shop))["plate-100x60"];
        var found = new Counted(null, "plate-100x60", booked, booked + more);
        Assert.True((await bench.Shop.Get<TakeStock>().RunAsync(Asked.By(owner), new StockCount("on the shelf", [found]))).IsOk);
        BenchShop.Must(await bench.UndoAsync(command));
        Assert.Equal(booked + more, (await AmountsAsync(bench.Shop))["plate-100x60"]);
        await AddUpAsync(bench.Shop);
    }

    /// <summary>What breaks on the shelf is booked off, and nobody counts the rest by that.</summary>
    [Fact]
    public async Task Work_TakenBackAfterSomeWereThrownAway_ReturnsToTheShelf()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 4);
        var before = (await AmountsAsync(bench.Shop))["plate-100x60"];
        var command = Guid.CreateVersion7();
        BenchShop.Must(
            await bench.Shop.Get<Web.Bench.Moves.ReceivePieces>().RunAsync(bench.Ask(command), new Web.Bench.Moves.Target(bench.Code))
        );
        bench.Wait(60);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        var waste = new ItemMove("plate-100x60", 1, IsWaste: true, "broken");
        Assert.True((await bench.Shop.Get<MoveItem>().RunAsync(Asked.By(owner), waste)).IsOk);
        BenchShop.Must(await bench.UndoAsync(command));
        Assert.Equal(before - 1, (await AmountsAsync(bench.Shop))["plate-100x60"]);
    }

    [Fact]
    public async Task Work_BlanksGivenBackUnworked_ReturnToTheShelf()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 3);
        var start = await AmountsAsync(bench.Shop);
        BenchShop.Must(await bench.ReceiveAsync());
        var back = new Web.Bench.Moves.WithReason(new Web.Bench.Moves.Target(bench.Code), "called off");
        BenchShop.Must(await bench.Shop.Get<Web.Bench.Moves.ReturnPieces>().RunAsync(bench.Ask(), back));
        Assert.Equal(start["plate-100x60"], (await AmountsAsync(bench.Shop))["plate-100x60"]);
    }

    [Fact]
    public async Task Bench_SeveralCans_SpraysFromTheFirstToExpire()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 2, finish: Finish.ShowThrough);
        await bench.WorkToAsync(StepKind.Cure);
        await using var context = await bench.Shop.ContextAsync();
        var used = (await bench.PiecesAsync())[0].Items.First(i => i.Kind == StepKind.Spray).Can;
        var clear = await context.Coatings.FirstAsync(c => c.Kind == CoatingKind.Clear);
        var first = await context.Cans.Where(c => c.Coating == clear.Id).OrderBy(c => c.UseBy).FirstAsync();
        Assert.Equal(first.Id, used);
    }

    [Fact]
    public async Task Print_SheetsPrintedTwice_TakePaperTwice()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var worker = await shop.WorkerAsync(WorkerRole.Bench);
        var before = (await AmountsAsync(shop))["paper-a4"];
        var print = new PaperPrint(new PaperWish(PaperKind.Sheets, "3"), [new PaperSheets("A4", 2)]);
        Assert.True((await shop.Get<PrintPaper>().RunAsync(Asked.By(worker), print)).IsOk);
        Assert.True((await shop.Get<PrintPaper>().RunAsync(Asked.By(worker), print)).IsOk);
        Assert.Equal(before - 4, (await AmountsAsync(shop))["paper-a4"]);
    }

    [Fact]
    public async Task Weigh_CanLighterThanTheBook_BooksTheDifference()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var can = (await shop.Get<StockView>().LoadAsync()).Cans.First(c => c.State == CanState.Unopened);
        // (170 − 92) ÷ 0.78 = 100 ml, with the demo's empty can and density.
        var done = await shop.Get<WeighCan>().RunAsync(Asked.By(owner), new CanWeighing(can.Id, can.Version, 170));
        Assert.Equal((100m, 100m - can.LeftMl), (done.Value.LeftMl, done.Value.ChangeMl));
        var again = await shop.Get<WeighCan>().RunAsync(Asked.By(owner), new CanWeighing(can.Id, can.Version, 170));
        Assert.Equal("changed-meanwhile", Assert.Single(again.Refusals).Code);
        await AddUpAsync(shop);
    }

    [Fact]
    public async Task Count_EachLine_BecomesAMoveWithTheReasonAndDifferencesAreTold()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var form = new CountForm(await shop.Get<StockView>().LoadAsync()) { Reason = "end of quarter" };
        var tape = form.Lines.First(l => l.Field == "item-tape");
        var can = form.Lines.First(l => l.Field.StartsWith("can-", StringComparison.Ordinal));
        (tape.Text, can.Text) = ("5", can.Booked.ToString(CultureInfo.CurrentCulture));
        var done = await shop.Get<TakeStock>().RunAsync(Asked.By(owner), form.Read().Value);
        Assert.Equal(1, done.Value);
        await using var context = await shop.ContextAsync();
        var moves = await context.StockMoves.Where(m => m.Note.StartsWith("stock-take")).ToListAsync();
        Assert.Equal([0m, 5 - tape.Booked], moves.Select(m => m.Amount).OrderDescending());
        var move = moves.Single(m => m.Can is null);
        Assert.Equal(("tape", 5 - tape.Booked, "stock-take: end of quarter"), (move.Item, move.Amount, move.Note));
        await AddUpAsync(shop);
    }

    /// <summary>The list shows tenths, or finer below one; who types what it shows has found no difference.</summary>
    [Theory]
    [InlineData("412.0371", "412", "0")]
    [InlineData("411.75", "411.8", "0")]
    [InlineData("0.2513", "0.251", "0")]
    [InlineData("60", "60", "0")]
    [InlineData("411.75", "411.75", "0")]
    [InlineData("411.75", "411.7", "-0.05")]
    public void Count_WhatTheListShows_IsNoDifference(string booked, string typed, string change)
    {
        var line = new CountLine(null, "tape", "Tape", "Tape", "m", decimal.Parse(booked, CultureInfo.InvariantCulture));
        var counted = line.With(decimal.Parse(typed, CultureInfo.InvariantCulture));
        Assert.Equal(decimal.Parse(change, CultureInfo.InvariantCulture), counted.Found - counted.Booked);
        if (change == "0" && typed != booked)
            Assert.Equal(decimal.Parse(typed, CultureInfo.InvariantCulture), StockWords.Shown(line.Booked));
    }

    [Fact]
    public async Task Count_NonsenseTyped_NamesTheLineAndBooksNothing()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var form = new CountForm(await shop.Get<StockView>().LoadAsync()) { Reason = "" };
        form.Lines.First(l => l.Field == "item-tape").Text = "many";
        Assert.Equal("item-tape", Assert.Single(form.Read().Refusals).Field);
        form.Lines.First(l => l.Field == "item-tape").Text = "-1";
        var done = await shop.Get<TakeStock>().RunAsync(Asked.By(owner), form.Read().Value);
        Assert.Equal(["item-tape", "reason"], done.Refusals.Select(r => r.Field).Order());
    }

    [Fact]
    public void Count_TypedJustAsTheListShowsIt_IsNotAskedAbout()
    {
        CountLine Line(string typed) => new(null, "paper-a4", "Paper", "Paper", "sheets", 2500) { Text = typed };
        Assert.True(Line($" {StockWords.Amount(2500)} ").IsAsShown);
        Assert.False(Line("2,450").IsAsShown);
    }

    [Fact]
    public async Task Receive_NewCans_GetFreeNumbersAndAMoveEach()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var clear = (await shop.Get<StockView>().LoadAsync()).Coatings.First(c => c.Code == "clear");
        var bad = await shop.Get<ReceiveCans>().RunAsync(Asked.By(owner), new CanDelivery(clear.Id, 0, " ", new DateOnly(2020, 1, 1)));
        Assert.Equal(["count", "lot", "useBy"], bad.Refusals.Select(r => r.Field).Order());
        var good = await shop.Get<ReceiveCans>().RunAsync(Asked.By(owner), new CanDelivery(clear.Id, 2, "N-1", new DateOnly(2027, 1, 1)));
        Assert.Equal((2, null), (good.Value.Codes.Distinct().Count(), good.Value.HeldBecause));
        await AddUpAsync(shop);
    }

    [Fact]
    public async Task Receive_CansOfABarredLot_AreBarredWithTheSameReason()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var can = (await shop.Get<StockView>().LoadAsync()).Cans[0];
        BenchShop.Must(await shop.Get<Web.Bench.Lots.HoldLot>().RunAsync(bench.Ask(), new Web.Bench.Lots.LotWish(can.Code, "peels")));
        var coating = (await shop.Get<StockView>().LoadAsync()).Coatings.First(c => c.Code == can.CoatingCode);

        var more = await shop.Get<ReceiveCans>()
            .RunAsync(Asked.By(owner), new CanDelivery(coating.Id, 2, can.Lot.ToLowerInvariant(), null));

        Assert.Equal("peels", more.Value.HeldBecause);
        var cans = (await shop.Get<StockView>().LoadAsync()).Cans.Where(c => more.Value.Codes.Contains(c.Code)).ToList();
        Assert.Equal(["peels", "peels"], cans.Select(c => c.HeldBecause));
    }

    /// <summary>An hour after midnight in the workshop the day before is over, though elsewhere it is not.</summary>
    [Fact]
    public async Task Receive_CansOfYesterdayByTheWorkshopsClock_AreRefused()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var clear = (await shop.Get<StockView>().LoadAsync()).Coatings.First(c => c.Code == "clear");
        shop.Clock.SetUtcNow(new DateTimeOffset(2026, 3, 5, 23, 30, 0, TimeSpan.Zero));
        var old = await shop.Get<ReceiveCans>().RunAsync(Asked.By(owner), new CanDelivery(clear.Id, 1, "N-1", new DateOnly(2026, 3, 5)));
        Assert.Equal("expired", Assert.Single(old.Refusals).Code);
        var good = await shop.Get<ReceiveCans>().RunAsync(Asked.By(owner), new CanDelivery(clear.Id, 1, "N-1", new DateOnly(2026, 3, 6)));
        Assert.True(good.IsOk);
    }

    [Fact]
    public async Task Reorder_BlanksBookedBeyondTheShelf_AreToOrder()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        await shop.Get<Web.Counter.Booking.BookOrder>().RunAsync(Asked.BySystem(), await shop.ShownAsync(ShopOrders.Plates(120)));
        var row = Assert.Single(
            (await shop.Get<StockView>().LoadAsync()).ToOrder,
            r => r.Href.EndsWith("/plate-100x60", StringComparison.Ordinal)
        );
        Assert.True(row.Advice.Missing);
        Assert.True(row.Outlook.NeededInAll >= 120 && row.Suggested >= 120 - row.Outlook.OnHand);
    }

    [Fact]
    public async Task SafetySheet_SentForALot_IsKeptOnceAndReplaced()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var can = (await shop.Get<StockView>().LoadAsync()).Cans[0];
        foreach (var text in (string[])["%PDF-1.7 one %%EOF", "%PDF-1.7 two %%EOF"])
        {
            var file = Guid.CreateVersion7();
            await shop.Get<IncomingFiles>().TakeAsync(file, new MemoryStream(System.Text.Encoding.ASCII.GetBytes(text)), default);
            var kept = await shop.Get<KeepSafetySheet>().RunAsync(Asked.By(owner), new SheetInput(can.Id, file, "clear lot.pdf"));
            Assert.True(kept.IsOk);
            Assert.False(shop.Get<IncomingFiles>().Open(file).IsOk);
        }
        await using var context = await shop.ContextAsync();
        var sheet = Assert.Single(await context.SafetySheets.ToListAsync());
        Assert.EndsWith("two %%EOF", System.Text.Encoding.ASCII.GetString(sheet.Content), StringComparison.Ordinal);
        Assert.Equal(sheet.Id.Value, (await shop.Get<StockDetailView>().CanAsync(can.Code))!.Sheet);
    }

    private static async Task<Dictionary<string, decimal>> AmountsAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        return await context.StockItems.ToDictionaryAsync(i => i.Code, i => i.OnHand);
    }

    // What is there is the sum of all moves, of every can and every item.
    private static async Task AddUpAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var moves = await context.StockMoves.ToListAsync();
        foreach (var item in await context.StockItems.ToListAsync())
            Assert.Equal(item.OnHand, moves.Where(m => m.Item == item.Code).Sum(m => m.Amount));
        foreach (var can in await context.Cans.ToListAsync())
            Assert.Equal(can.LeftMl, moves.Where(m => m.Can == can.Id).Sum(m => m.Amount));
    }
}
