using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Lots;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.Tracing;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>The way of pieces through the Bench on the real database.</summary>
public sealed class BenchWayTests
{
    [Fact]
    public async Task Way_TwelveEqualPlates_FromWipeToPressInTwelveScansAndTenTapsAtMost()
    {
        await using var shop = await BenchShop.OpenAsync();
        await shop.WorkToAsync(StepKind.Wipe);
        var (scans, taps) = await shop.WorkToAsync(StepKind.Press);
        taps += await shop.DoAsync((await shop.PiecesAsync())[0].NextAttended!);
        Assert.InRange(scans, 1, 12);
        Assert.InRange(taps, 1, 10);
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal(WorkState.Done, p.Items.First(i => i.Kind == StepKind.Press).State));
    }

    [Theory]
    [InlineData(Finish.ShowThrough, "al")]
    [InlineData(Finish.WhiteGround, "slate")]
    [InlineData(Finish.VelvetMatt, "al")]
    [InlineData(Finish.BehindGlass, "glass")]
    public async Task Way_EveryFinish_EndsHandedOverAndItsJournalReplays(Finish finish, string material)
    {
        await using var shop = await BenchShop.OpenAsync(2, finish: finish, material: material);
        await shop.WorkToAsync(StepKind.Mask);
        BenchShop.Must(await shop.Shop.Get<HandOver>().RunAsync(shop.Ask(), new Target(shop.Code)));
        await using var context = await shop.Shop.ContextAsync();
        var journal = await context.Journal.OrderBy(j => j.Sequence).ToListAsync();
        foreach (var piece in await shop.PiecesAsync())
        {
            Assert.Equal(PieceState.HandedOver, piece.State);
            var again = new Piece(piece.Id);
            again.Replay([.. journal.Where(j => j.Piece == piece.Id).Select(j => (j.Id, j.Read()))]);
            Assert.Equal(BenchShop.Facts(piece), BenchShop.Facts(again));
        }
    }

    [Fact]
    public async Task Spray_Finished_TakesTheMillilitresOutOfItsCan()
    {
        await using var shop = await BenchShop.OpenAsync();
        await shop.WorkToAsync(StepKind.Cure);
        await using var context = await shop.Shop.ContextAsync();
        var wanted = (await shop.PiecesAsync()).Sum(p =>
            p.Items.Where(i => i.Kind is StepKind.Spray or StepKind.Wipe).Sum(i => i.Settings.Ml)
        );
        var moves = await context.StockMoves.ToListAsync();
        Assert.Equal(-wanted, moves.Where(m => m.Reason == StockReason.Use && m.Can is not null).Sum(m => m.Amount));
        foreach (var can in await context.Cans.ToListAsync())
            Assert.Equal(moves.Where(m => m.Can == can.Id).Sum(m => m.Amount), can.LeftMl);
    }

    /// <summary>Wiped from the can that stands next: every piece knows its lot, and its millilitres leave the can where the owner gave a number.</summary>
    [Theory]
    [InlineData(0, 0)]
    [InlineData(20, 0.12)]
    public async Task Wipe_Finished_RemembersTheCanAndTakesWhatASquareMetreTakes(double rate, double each)
    {
        await using var shop = await BenchShop.OpenAsync(2, before: s => RateAsync(s, (decimal)rate));
        await shop.WorkToAsync(StepKind.Wipe);
        var card = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0].Step!;
        await shop.WorkToAsync(StepKind.Spray);
        var wiped = (await shop.PiecesAsync()).Select(p => p.Items.First(i => i.Kind == StepKind.Wipe)).ToList();
        var id = Assert.Single(wiped.Select(w => w.Can).Distinct())!.Value;
        await using var context = await shop.Shop.ContextAsync();
        var can = await context.Cans.SingleAsync(c => c.Id == id);
        Assert.Contains(new Setting("Can", can.Code), card.Settings);
        Assert.NotNull(can.OpenedAt);
        Assert.Equal(can.FullMl - 2 * (decimal)each, can.LeftMl);
        var used = await context.StockMoves.Where(m => m.Can == id && m.Reason == StockReason.Use).ToListAsync();
        Assert.Equal(rate > 0 ? 2 : 0, used.Count);
        BenchShop.Must(await shop.Shop.Get<HoldLot>().RunAsync(shop.Ask(), new LotWish(can.Code, "smells of acid")));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal(PieceState.Held, p.State));
        Assert.Equal(2, (await shop.Shop.Get<TraceView>().ReadAsync("lot", can.Lot, false)).Value.Pieces.Count);
    }

    [Fact]
    public async Task Wipe_TheCanLastsForSomeOnly_TheOthersAreWipedFromTheNext()
    {
        await using var shop = await BenchShop.OpenAsync(6, before: s => RateAsync(s, 20m));
        await shop.WorkToAsync(StepKind.Wipe);
        var wipe = (await shop.PiecesAsync())[0].NextAttended!;
        await using var context = await shop.Shop.ContextAsync();
        var soon = DateOnly.FromDateTime(shop.Shop.Clock.GetUtcNow().UtcDateTime).AddDays(1);
        var promoters = await context
            .Cans.Where(c => context.Coatings.Any(k => k.Id == c.Coating && k.Kind == CoatingKind.Promoter))
            .OrderBy(c => c.Code)
            .ToListAsync();
        var (first, id) = (promoters[0], promoters[0].Id);
        await context
            .Cans.Where(c => c.Id == id)
            .ExecuteUpdateAsync(c => c.SetProperty(x => x.LeftMl, 2 * wipe.Settings.Ml).SetProperty(x => x.UseBy, soon));
        var card = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0].Step!;
        var said = Assert.Single(card.Settings, s => s.Label == "Can").Value.Split(", ");
        Assert.Equal((2, first.Code), (said.Length, said[0]));

        BenchShop.Must(await shop.StartAsync(wipe.Number));
        var cans = (await shop.PiecesAsync()).Select(p => p.NextAttended!.Can).ToList();
        Assert.Equal([2, 4], cans.GroupBy(c => c).OrderBy(g => g.Key != id).Select(g => g.Count()));
        BenchShop.Must(await shop.FinishAsync(wipe.Number));
        var used = (await context.StockMoves.Where(m => m.Reason == StockReason.Use && m.Can != null).ToListAsync()).Sum(m => m.Amount);
        Assert.Equal(-6 * wipe.Settings.Ml, used);
    }

    private static async Task RateAsync(TestShop shop, decimal rate)
    {
        await using var context = await shop.ContextAsync();
        var promoter = await context.Coatings.SingleAsync(c => c.Kind == CoatingKind.Promoter);
        Assert.True(promoter.Change(promoter.Name, promoter.Settings with { WipedMlPerSquareMetre = rate }).IsOk);
        await context.SaveChangesAsync();
    }

    [Fact]
    public async Task Tape_OneTextForEach_GivesEachPrintOnce()
    {
        string[] names = ["Ada", "Bo", "Cy", "Ada"];
        await using var shop = await BenchShop.OpenAsync(4, texts: names);
        await shop.WorkToAsync(StepKind.Tape);
        var tape = (await shop.PiecesAsync())[0].NextAttended!.Number;
        BenchShop.Must(await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), new FinishWish(new Target(shop.Code, tape, 1), Text: "Cy")));
        var taken = await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), new FinishWish(new Target(shop.Code, tape, 1), Text: "Cy"));
        Assert.Equal("print-taken", BenchShop.Code0(taken));
        BenchShop.Must(await shop.FinishAsync(tape));
        Assert.Equal(names.Order(), (await shop.PiecesAsync()).Select(p => p.BoundText).Order());
    }

    [Fact]
    public async Task Tray_SomeOfIt_MovesOnlySoMany()
    {
        await using var shop = await BenchShop.OpenAsync();
        await shop.ReceiveAsync();
        BenchShop.Must(await shop.FinishAsync(1, count: 5));
        var found = await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code);
        Assert.Equal([(1, 7), (2, 5)], found.Value.Pieces.Select(s => (s.Step!.Number, s.Count)));
        Assert.Equal("count", BenchShop.Code0(await shop.FinishAsync(1, count: 8)));
    }

    [Fact]
    public async Task Tray_OneSpoiledAndOnePutAside_TheOthersGoOn()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.ReceiveAsync();
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        var spoil = new FaultReport(new Target(codes[0]), "run", "", new TimeDecision(TimeChoice.Spoil, "bent"));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), spoil));
        BenchShop.Must(await shop.AsideAsync(new Target(codes[1]), "asked the customer"));

        BenchShop.Must(await shop.FinishAsync(1));

        Assert.Equal([1, 1, 2, 2], (await shop.PiecesAsync()).Select(p => p.NextAttended!.Number));
    }

    [Theory]
    [InlineData("https://shop.example/b/{0}")]
    [InlineData("/b/{0}/")]
    [InlineData("  {0} ")]
    public async Task Find_AddressOfTheLabel_OpensThePiece(string form)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        var typed = string.Format(System.Globalization.CultureInfo.InvariantCulture, form, shop.Code.ToLowerInvariant());
        Assert.Equal(shop.Code, (await shop.Shop.Get<FindByCode>().ReadAsync(typed)).Value.Code);
    }

    [Fact]
    public async Task Find_OneWrongCharacter_SaysSo()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        var wrong = (shop.Code[0] == '7' ? '8' : '7') + shop.Code[1..];
        Assert.Equal("code-mistyped", BenchShop.Code0(await shop.Shop.Get<FindByCode>().ReadAsync(wrong)));
        Assert.Equal("code-missing", BenchShop.Code0(await shop.Shop.Get<FindByCode>().ReadAsync(" ")));
        Assert.False((await shop.Shop.Get<FindByCode>().ReadAsync(new string('A', 100_000))).IsOk);
    }

    [Fact]
    public async Task Batch_PutTogetherByHand_IsScannedInAndStartsWithWhatIsThere()
    {
        await using var shop = await BenchShop.OpenAsync(6);
        await shop.WorkToAsync(StepKind.Cure);
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        var built = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code])));
        foreach (var code in codes.Take(4))
            BenchShop.Must(await shop.Shop.Get<ScanIntoBatch>().RunAsync(shop.Ask(), new ScanAtBatch(built.Batch!, code)));
        BenchShop.Must(
            await shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(built.Batch!, OnlyScanned: true, IsHot: true))
        );
        Assert.Equal(4, (await shop.PiecesAsync()).Count(p => p.NextAttended!.State == WorkState.Running));
        var late = await shop.Shop.Get<ScanIntoBatch>().RunAsync(shop.Ask(), new ScanAtBatch(built.Batch!, codes[5]));
        Assert.Equal("batch-begun", BenchShop.Code0(late));
        var again = await shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(built.Batch!, IsHot: true));
        Assert.Equal("batch-begun", BenchShop.Code0(again));
    }

    [Fact]
    public async Task Batch_AWrongTrayScannedIn_IsAnsweredInOneSentence()
    {
        await using var shop = await BenchShop.OpenAsync(6);
        await shop.WorkToAsync(StepKind.Cure);
        var first = (await shop.PiecesAsync())[0].Code;
        var load = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([first]))).Batch!;
        var tray = await shop.BookAsync(5, false, Finish.WhiteGround, "al");
        await shop.WorkToAsync(StepKind.Cure, tray);
        var cure = (await shop.PiecesAsync()).First(p => p.Tray == tray).NextAttended!.Number;
        var spray = (await shop.PiecesAsync()).First(p => p.Tray == tray).Items.Last(i => i.Kind == StepKind.Spray && i.Number < cure);
        var back = new TimeDecision(TimeChoice.Rework, "dust in it", spray.Number);
        var report = new FaultReport(new Target(tray, cure, 3), "run", "", back);
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), report));
        var wrong = await shop.Shop.Get<ScanIntoBatch>().RunAsync(shop.Ask(), new ScanAtBatch(load, tray));
        Assert.Equal("2 of 5 pieces fit, 3 do not: 3 standing at Spray.", Assert.Single(wrong.Refusals).Text);
    }
}
