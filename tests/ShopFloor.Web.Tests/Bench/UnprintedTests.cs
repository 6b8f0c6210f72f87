using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>What was never printed here is asked about at Tape, before a print of somebody else's is taped on.</summary>
public sealed class UnprintedTests
{
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Tape_NothingPrinted_IsAskedAndGoesOnWithAReason(bool started)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Tape);
        await UnprintAsync(shop);
        var tape = (await shop.PiecesAsync())[0].NextAttended!.Number;
        var decision = new TimeDecision(TimeChoice.GoOn, "Printed elsewhere");
        Assert.Equal("not-printed", BenchShop.Code0(started ? await shop.StartAsync(tape) : await shop.FinishAsync(tape)));
        if (started)
            BenchShop.Must(await shop.StartAsync(tape, decision: decision));
        BenchShop.Must(await shop.FinishAsync(tape, decision: started ? null : decision));
        Assert.All(
            await shop.PiecesAsync(),
            p => Assert.Equal("not-printed: Printed elsewhere", p.Items.First(i => i.Number == tape).Decision)
        );
    }

    [Fact]
    public async Task Tape_NothingPrintedAndStillWarm_BothAreAsked()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Cure);
        await shop.DoAsync((await shop.PiecesAsync())[0].NextAttended!);
        await UnprintAsync(shop);
        var asked = await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number);
        Assert.Equal(["too-early", "not-printed"], asked.Refusals.Select(r => r.Code));
    }

    [Fact]
    public async Task Tape_PrintedInPart_IsAskedAboutTheOthersOnly()
    {
        await using var shop = await BenchShop.OpenAsync(2, own: true);
        await shop.WorkToAsync(StepKind.Tape);
        var other = (await shop.PiecesAsync()).Single(p => p.Code != shop.Code);
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(other.Code)));
        await shop.WorkToAsync(StepKind.Tape, other.Code);
        await UnprintAsync(shop);
        var part = new PrintedOrder(other.Order.Value, IsWhole: false) { Codes = [shop.Code] };
        var print = new PaperPrint(new PaperWish(PaperKind.Sheets, "S-1"), []) { Orders = [part] };
        Assert.True((await shop.Shop.Get<PrintPaper>().RunAsync(shop.Ask(), print)).IsOk);
        shop.Wait(600);
        Assert.False((await SheetAsync(shop)).IsUnprinted);
        Assert.True((await shop.Shop.Get<FindByCode>().ReadAsync(other.Code)).Value.Pieces[0].IsUnprinted);
        var tape = (await shop.PieceAsync(other.Code)).NextAttended!.Number;
        BenchShop.Must(await shop.FinishAsync(tape));
        var second = await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), new FinishWish(new Target(other.Code, tape)));
        Assert.Equal("not-printed", BenchShop.Code0(second));
    }

    [Theory]
    [InlineData(true, false)]
    [InlineData(true, true)]
    [InlineData(false, false)]
    public async Task Tape_BackAfterThePrintWasOn_IsAskedUntilItIsPrintedAgain(bool own, bool wasInPart)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: own);
        if (wasInPart)
        {
            await UnprintAsync(shop);
            await PrintAsync(shop, isWhole: false);
        }
        await shop.WorkToAsync(StepKind.Press);
        var piece = (await shop.PiecesAsync())[0];
        var tape = piece.Items.First(i => i.Kind == StepKind.Tape).Number;
        var back = new FaultReport(new Target(piece.Code), "run", "", new TimeDecision(TimeChoice.Rework, "Wrong way round", tape));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), back));

        Assert.True((await shop.Shop.Get<FindByCode>().ReadAsync(piece.Code)).Value.Pieces[0].IsUnprinted);
        await using (var context = await shop.Shop.ContextAsync())
        {
            var snapshot = await ShopSnapshot.ReadAsync(context, shop.Shop.Clock.GetUtcNow(), default);
            var order = await context.Orders.SingleAsync();
            Assert.True(order.PrintedAt is null || snapshot.Unprinted.Contains(piece.Code));
        }
        var asked = await shop.FinishAsync(tape);
        Assert.Equal("not-printed", BenchShop.Code0(asked));
        if (!wasInPart)
            Assert.Contains("went back after its print was on", asked.Refusals[0].Text, StringComparison.Ordinal);

        shop.Wait(60);
        await PrintAsync(shop, isWhole: false);
        shop.Wait(600);
        Assert.False((await shop.Shop.Get<FindByCode>().ReadAsync(piece.Code)).Value.Pieces[0].IsUnprinted);
        BenchShop.Must(await shop.FinishAsync(tape));
    }

    [Fact]
    public async Task Sheet_NothingPrinted_SaysSoWithTheWayToTheSheet()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Tape);
        Assert.False((await SheetAsync(shop)).IsUnprinted);
        await UnprintAsync(shop);
        var sheet = await SheetAsync(shop);
        Assert.True(sheet.IsUnprinted);
        await using var page = TestPage.Plain();
        page.Services.AddSingleton(shop.Shop.Get<StepReasons>());
        var card = page.Render<PieceCard>(p => p.Add(c => c.Sheet, sheet).Add(c => c.PromisedText, "today"));
        Assert.Equal($"papers/sheets/{sheet.Order}/look", card.Find(".notice a").GetAttribute("href"));
        var outcome = new MoveOutcomeArgs { Refusals = [new OutcomeRefusal("not-printed", "Not printed.")] };
        Assert.Equal([TimeChoice.GoOn, TimeChoice.Hold], Decisions.For(outcome, sheet.Way).Select(d => d.Decision.Choice));
        Assert.Contains("Printed elsewhere", Decisions.ReasonsFor(outcome));
    }

    private static async Task PrintAsync(BenchShop shop, bool isWhole)
    {
        var piece = (await shop.PiecesAsync())[0];
        var part = new PrintedOrder(piece.Order.Value, isWhole) { Codes = [piece.Code] };
        var print = new PaperPrint(new PaperWish(PaperKind.Sheets, "S-1"), []) { Orders = [part] };
        Assert.True((await shop.Shop.Get<PrintPaper>().RunAsync(shop.Ask(), print)).IsOk);
    }

    private static async Task<PieceSheet> SheetAsync(BenchShop shop) =>
        (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0];

    private static async Task UnprintAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        await context.Orders.ExecuteUpdateAsync(o => o.SetProperty(x => x.PrintedAt, (DateTimeOffset?)null));
    }
}
