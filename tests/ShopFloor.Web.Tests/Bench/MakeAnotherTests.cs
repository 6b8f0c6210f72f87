using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Plans;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

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
    public async Task Make_OfPiecesWithATextEach_IsPrintedAndTapedWithTheTextThatIsMissing()
    {
        await using var shop = await BenchShop.OpenAsync(3, texts: ["Adam", "Boris", "Cyril"]);
        await shop.WorkToAsync(StepKind.Tape);
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        await LoseAsync(shop, codes[1]);
        var made = Assert.Single(BenchShop.Must(await MakeAsync(shop, codes[1])).Codes);
        var order = new PaperWish(PaperKind.Sheets, "1");

        Assert.Equal(["Adam", "Boris", "Cyril"], await NamesAsync(shop, order));
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(made)));
        await shop.WorkToAsync(StepKind.Tape, made);
        await TapeAsync(shop, codes[0]);
        await TapeAsync(shop, codes[2]);
        var sheet = Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(made)).Value.Pieces);
        Assert.Equal(["Cyril"], sheet.OpenPrints);
        Assert.Equal(["Adam", "Boris", "Cyril"], await NamesAsync(shop, order));
        await TapeAsync(shop, made);

        var good = (await shop.PiecesAsync()).Where(p => p.State != PieceState.Spoiled);
        Assert.Equal(["Adam", "Boris", "Cyril"], good.Select(p => p.BoundText).Order());
    }

    [Fact]
    public async Task Make_WhileTheOthersAreWithTheCustomer_IsPrintedWithTheTextThatIsMissing()
    {
        await using var shop = await BenchShop.OpenAsync(2, texts: ["Adam", "Boris"]);
        var (gone, lost) = ((await shop.PiecesAsync())[0].Code, (await shop.PiecesAsync())[1].Code);
        await shop.WorkToAsync(StepKind.Tape);
        await TapeAsync(shop, shop.Code);
        await LoseAsync(shop, lost);
        BenchShop.Must(await MakeAsync(shop, lost));
        await using (var context = await shop.Shop.ContextAsync())
        {
            var piece = await context.Pieces.SingleAsync(p => p.Code == gone);
            piece.Apply(new PieceHandedOver(shop.Shop.Clock.GetUtcNow()));
            await context.SaveChangesAsync();
        }

        Assert.Equal(["Boris"], await NamesAsync(shop, new PaperWish(PaperKind.Sheets, "1")));
    }

    private static async Task TapeAsync(BenchShop shop, string code)
    {
        var pieces = await shop.PiecesAsync();
        var tape = pieces.First(p => (p.Tray == code || p.Code == code) && p.State == PieceState.InWork).NextAttended!.Number;
        BenchShop.Must(await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), new FinishWish(new Target(code, tape))));
    }

    /// <summary>The names that the order's sheets bear.</summary>
    private static async Task<IEnumerable<string>> NamesAsync(BenchShop shop, PaperWish wish)
    {
        var made = await shop.Shop.Get<PaperView>().MakeAsync(wish, "http://shop.example/");
        using var pdf = UglyToad.PdfPig.PdfDocument.Open(made.Value.Paper.ToBytes());
        // What is printed is mirrored: its letters stand in their order in the file, not on the paper.
        var letters = string.Concat(pdf.GetPages().SelectMany(p => p.Letters).Select(l => l.Value));
        string[] names = ["Adam", "Boris", "Cyril"];
        return names.Where(n => letters.Contains(n, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Make_Twice_SaysThatNoneIsMissing()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        Assert.False(await IsMissedAsync(shop));
        await SpoilAsync(shop, shop.Code);
        Assert.True(await IsMissedAsync(shop));
        BenchShop.Must(await MakeAsync(shop, shop.Code));
        Assert.False(await IsMissedAsync(shop));
        Assert.Equal("none-missing", BenchShop.Code0(await MakeAsync(shop, shop.Code)));
        Assert.Equal(2, (await shop.PiecesAsync()).Count);
    }

    [Fact]
    public async Task Make_AfterTheLineWasMadeSmaller_WhatWasGivenBackIsNotCountedAsThere()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await UndoLimitTests.FewerAsync(shop, 1);
        var code = (await shop.PiecesAsync()).Single(p => p.State == PieceState.Booked).Code;
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(code)));
        await LoseAsync(shop, code);
        Assert.True(Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(code)).Value.Pieces).IsMissed);
        BenchShop.Must(await MakeAsync(shop, code));
        Assert.Equal("none-missing", BenchShop.Code0(await MakeAsync(shop, code)));
    }

    [Fact]
    public async Task Make_AfterThePrintWasTapedOn_IsUnprintedAtTheBenchAndInThePlanUntilItIsPrinted()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Press);
        var lost = (await shop.PiecesAsync())[0];
        await LoseAsync(shop, lost.Code);
        var moved = BenchShop.Must(await MakeAsync(shop, lost.Code));
        var made = moved.Codes[0];
        Assert.EndsWith(
            $"mark it {made}, then tap It came in on its page; its print must be made again.",
            moved.Text,
            StringComparison.Ordinal
        );
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(made)));
        var due = await PrintsAsync(shop, made);
        Assert.Equal((1, 1), (due.Prints.Single().Order, due.Prints.Single().Pieces));
        Assert.Equal(1_800 + 60 * due.Dry, due.Ready);
        await shop.WorkToAsync(StepKind.Tape, made);
        Assert.True(await IsUnprintedAsync(shop, made));
        var tape = new FinishWish(new Target(made, (await shop.PieceAsync(made)).NextAttended!.Number));
        var asked = await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), tape);
        Assert.Equal("not-printed", BenchShop.Code0(asked));
        Assert.Contains(made, asked.Refusals[0].Text, StringComparison.Ordinal);

        var part = new PrintedOrder(lost.Order.Value, IsWhole: false) { Codes = [made] };
        var print = new PaperPrint(new PaperWish(PaperKind.Sheets, "S-1"), []) { Orders = [part] };
        Assert.True((await shop.Shop.Get<PrintPaper>().RunAsync(shop.Ask(), print)).IsOk);
        Assert.False(await IsUnprintedAsync(shop, made));
        shop.Wait(600);
        BenchShop.Must(await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), tape));
    }

    // The note that the print of the one that went back is there for it no longer holds.
    [Fact]
    public async Task Make_ForOneBackOnTheShelfWhosePrintIsGone_IsUnprinted()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        BenchShop.Must(await shop.ReceiveAsync());
        var back = new WithReason(new Target(shop.Code, 1, Count: 1), "Too many laid out");
        var gone = Assert.Single(BenchShop.Must(await shop.Shop.Get<ReturnPieces>().RunAsync(shop.Ask(), back)).Codes);
        shop.Shop.Clock.Advance(TimeSpan.FromMinutes(1));
        var made = BenchShop.Must(await MakeAsync(shop, gone)).Codes[0];
        await using (var context = await shop.Shop.ContextAsync())
            await context.Audit.Where(a => a.What == "transfers printed in part").ExecuteDeleteAsync();
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(made)));
        await shop.WorkToAsync(StepKind.Tape, made);
        Assert.True(await IsUnprintedAsync(shop, made));
    }

    [Fact]
    public async Task Make_BeforeThePrintWasTapedOn_HasTheLostOnesPrint()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Tape);
        var lost = (await shop.PiecesAsync())[0].Code;
        await LoseAsync(shop, lost);
        var moved = BenchShop.Must(await MakeAsync(shop, lost));
        Assert.EndsWith($"mark it {moved.Codes[0]}, then tap It came in on its page.", moved.Text, StringComparison.Ordinal);
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(moved.Codes[0])));
        await shop.WorkToAsync(StepKind.Tape, moved.Codes[0]);
        Assert.False(await IsUnprintedAsync(shop, moved.Codes[0]));
        await TapeAsync(shop, moved.Codes[0]);
    }

    private static async Task<bool> IsUnprintedAsync(BenchShop shop, string code) =>
        Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(code)).Value.Pieces).IsUnprinted;

    /// <summary>The prints that the plan lists, and from when on Tape has that of the piece.</summary>
    private static async Task<(IReadOnlyList<PrintDue> Prints, int Ready, int Dry)> PrintsAsync(BenchShop shop, string code)
    {
        await using var context = await shop.Shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Shop.Clock.GetUtcNow(), default);
        var day = DayFromShop.Make(snapshot);
        var bytes = DayWriter.Write(day);
        var plan = DayPlanner.First(day, Fingerprint.Sha256(bytes));
        var input = new PlanInput(
            snapshot.Now,
            snapshot.Journal,
            Encoding.UTF8.GetString(bytes),
            Encoding.UTF8.GetString(PlanWriter.Write(plan)),
            ""
        );
        Assert.True((await shop.Shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input)).IsOk);
        var timeline = (await shop.Shop.Get<TimelineView>().LoadAsync(0))!;
        return (
            timeline.Prints,
            day.Pieces.Single(p => p.Id == code).Route.Max(s => s.ReadyS),
            snapshot.Settings.Profile.TransferDryMinutes
        );
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

    /// <summary>Whether the page of the shop's piece offers to make another.</summary>
    private static async Task<bool> IsMissedAsync(BenchShop shop) =>
        Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces).IsMissed;

    private static Task<Result<Moved>> MakeAsync(BenchShop shop, string code) =>
        shop.Shop.Get<MakeAnother>().RunAsync(shop.Ask(), new Target(code));

    private static async Task SpoilAsync(BenchShop shop, string code)
    {
        BenchShop.Must(await shop.ReceiveAsync());
        await LoseAsync(shop, code);
    }

    private static async Task LoseAsync(BenchShop shop, string code)
    {
        var report = new FaultReport(new Target(code), "run", "", new TimeDecision(TimeChoice.Spoil, "no use"));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), report));
        Assert.Equal(PieceState.Spoiled, (await shop.PieceAsync(code)).State);
    }
}
