using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Costs;
using ShopFloor.Web.Office.Insight;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A test piece is work of its own, and its result is known of the material from then on.</summary>
public sealed class TestPieceTests
{
    [Fact]
    public async Task Test_WorkedAndGood_IsSaidAtTheBenchAndAnswersTheCounter()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, material: "slate");
        Assert.True((await SheetAsync(shop, shop.Code)).Test!.IsWanted);
        var test = await WorkTestAsync(shop);
        BenchShop.Must(await JudgeAsync(shop, test, TestOutcome.Good, ""));
        var sheet = (await SheetAsync(shop, shop.Code)).Test!;
        Assert.Equal((test, false, false), (sheet.By, sheet.IsWanted, sheet.IsBad));
        Assert.Contains("good", sheet.Sentence, StringComparison.Ordinal);
        var quote = await QuoteAsync(shop);
        Assert.Equal((Verdict.Take, new DateOnly(2026, 3, 4)), (quote.Verdict, quote.TestedOn));
        var piece = await shop.PieceAsync(test);
        Assert.Equal((PieceState.CheckedGood, null), (piece.State, piece.NextAttended));
    }

    [Fact]
    public async Task Test_NotGood_IsSpoiledAndTheCounterRefuses()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, material: "slate");
        var test = await WorkTestAsync(shop);
        Assert.Equal("note-missing", BenchShop.Code0(await JudgeAsync(shop, test, TestOutcome.Refuse, " ")));
        BenchShop.Must(await JudgeAsync(shop, test, TestOutcome.Refuse, "spalls at the edges"));
        Assert.Equal(PieceState.Spoiled, (await shop.PieceAsync(test)).State);
        var quote = await QuoteAsync(shop);
        Assert.Equal(Verdict.Refuse, quote.Verdict);
        Assert.Contains("spalls at the edges", quote.VerdictText, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(TestOutcome.Good)]
    [InlineData(TestOutcome.Refuse)]
    public async Task Test_VerdictTakenBack_IsNotKnownOfTheMaterialUntilItIsGivenAgain(TestOutcome first)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, material: "slate");
        var test = await WorkTestAsync(shop);
        BenchShop.Must(await JudgeAsync(shop, test, first, "looks like it"));
        Assert.NotEqual(Verdict.TestPiece, (await QuoteAsync(shop)).Verdict);
        BenchShop.Must(await shop.Shop.Get<UndoLast>().RunAsync(shop.Ask(), new UndoWish(test, null)));
        Assert.Equal(Verdict.TestPiece, (await QuoteAsync(shop)).Verdict);
        Assert.Null((await SheetAsync(shop, shop.Code)).Test!.By);
        BenchShop.Must(await JudgeAsync(shop, test, TestOutcome.Limits, "only indoors"));
        Assert.Equal(Verdict.Take, (await QuoteAsync(shop)).Verdict);
    }

    [Fact]
    public async Task Test_Spoiled_CountsNeitherInTheMonthsYieldNorInTheMeasuredLoss()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, material: "slate");
        var test = await WorkTestAsync(shop);
        BenchShop.Must(await JudgeAsync(shop, test, TestOutcome.Refuse, "spalls at the edges"));
        Assert.Empty((await shop.Shop.Get<InsightView>().LoadAsync(null)).This.Yields);
        var measured = await shop.Shop.Get<MeasureShop>().RunAsync(Asked.BySystem(), new MeasureInput());
        Assert.Empty(measured.Value.Losses);
        Assert.Empty(measured.Value.Steps);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task FirstStep_WithoutAGoodTest_AsksForADecisionWithItsReason(bool atOnceDone)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, material: "slate");
        BenchShop.Must(await shop.ReceiveAsync());
        Task<ShopFloor.Domain.Result<Moved>> DoAsync(TimeDecision? decision) =>
            atOnceDone ? shop.FinishAsync(1, decision: decision) : shop.StartAsync(1, decision: decision);
        Assert.Equal("test-first", BenchShop.Code0(await DoAsync(null)));
        Assert.Equal("reason-missing", BenchShop.Code0(await DoAsync(new TimeDecision(TimeChoice.GoOn, " "))));
        Assert.Equal(PieceState.Received, (await shop.PieceAsync(shop.Code)).State);
        BenchShop.Must(await DoAsync(new TimeDecision(TimeChoice.GoOn, "went well before")));
        Assert.Equal(PieceState.InWork, (await shop.PieceAsync(shop.Code)).State);
    }

    [Fact]
    public async Task FirstStep_PutAsideForTheTest_IsHeldWithTheReason()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, material: "slate");
        BenchShop.Must(await shop.ReceiveAsync());
        BenchShop.Must(await shop.FinishAsync(1, decision: new TimeDecision(TimeChoice.Test, "no scrap here")));
        var piece = await shop.PieceAsync(shop.Code);
        Assert.Equal((PieceState.Held, "Test first: no scrap here"), (piece.State, piece.Reason));
    }

    [Fact]
    public async Task FirstStep_AfterAGoodTest_IsNotAskedAbout()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, material: "slate");
        BenchShop.Must(await JudgeAsync(shop, await WorkTestAsync(shop), TestOutcome.Good, ""));
        BenchShop.Must(await shop.ReceiveAsync());
        BenchShop.Must(await shop.FinishAsync(1));
    }

    [Fact]
    public async Task Make_WhileOneIsOpen_IsRefusedWithItsCode()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, material: "slate");
        var first = BenchShop.Must(await MakeAsync(shop)).Codes[0];
        var again = await MakeAsync(shop);
        Assert.Equal("test-open", BenchShop.Code0(again));
        Assert.Contains(first, again.Refusals[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Judge_APieceThatIsNoTest_IsRefused()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Inspect);
        Assert.Equal("not-a-test", BenchShop.Code0(await JudgeAsync(shop, shop.Code, TestOutcome.Good, "")));
    }

    [Fact]
    public async Task Judge_Good_TheLineIsNotDoneByItsTestPiece()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        BenchShop.Must(await JudgeAsync(shop, await WorkTestAsync(shop), TestOutcome.Good, ""));
        Assert.Equal(0, Assert.Single(await shop.Shop.Get<OrderCostsView>().LoadAsync(1)).Ended);
    }

    private static Task<ShopFloor.Domain.Result<Moved>> MakeAsync(BenchShop shop) =>
        shop.Shop.Get<MakeTestPiece>().RunAsync(shop.Ask(), new Target(shop.Code));

    internal static Task<ShopFloor.Domain.Result<Moved>> JudgeAsync(BenchShop shop, string code, TestOutcome outcome, string note) =>
        shop.Shop.Get<JudgeTest>().RunAsync(shop.Ask(), new TestVerdict(code, outcome, note, new Findings { CrossCutClass = 1 }));

    /// <summary>A test piece of the shop's line, worked as far as its inspection.</summary>
    internal static async Task<string> WorkTestAsync(BenchShop shop)
    {
        var code = BenchShop.Must(await MakeAsync(shop)).Codes[0];
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(code)));
        await shop.WorkToAsync(StepKind.Inspect, code);
        return code;
    }

    private static async Task<PieceSheet> SheetAsync(BenchShop shop, string code) =>
        (await shop.Shop.Get<FindByCode>().ReadAsync(code)).Value.Pieces[0];

    private static async Task<LineQuote> QuoteAsync(BenchShop shop)
    {
        var order = ShopOrders.Plates(1, own: true);
        order = order with { Lines = [order.Lines[0] with { Piece = order.Lines[0].Piece with { Material = "slate" } }] };
        return (await shop.Shop.Get<QuoteOrder>().RunAsync(order)).Lines[0];
    }
}
