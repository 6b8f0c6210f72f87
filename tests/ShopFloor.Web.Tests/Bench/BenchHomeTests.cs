using Bunit;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>What the lines of the Bench's first page say, and what the page of a tray says of its test piece.</summary>
public sealed class BenchHomeTests
{
    [Fact]
    public async Task Running_LoadOfPiecesWhoseCuresHaveDifferentNumbers_IsNamedByTheCure()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, finish: Finish.ShowThrough);
        string[] codes = [shop.Code, await shop.BookAsync(1, own: true, Finish.WhiteGround, "al")];
        foreach (var code in codes)
            await shop.WorkToAsync(StepKind.Cure, code);
        var numbers = (await shop.PiecesAsync()).Select(p => p.NextAttended!.Number).Distinct();
        Assert.Equal(2, numbers.Count());
        // The piece of the first place is not the first by its code.
        var wish = new BatchWish([.. codes.OrderDescending(StringComparer.Ordinal)]);
        BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), wish));
        Assert.Equal("Cure", Assert.Single((await HomeAsync(shop)).Building).Word);
    }

    [Fact]
    public async Task Coming_OwnBlanksAndACustomersPiece_AreHeadedByPieceAndOrderWithWhatBringsThemIn()
    {
        await using var shop = await BenchShop.OpenAsync(12);
        var own = await shop.BookAsync(1, own: true, Finish.WhiteGround, "al");
        var coming = (await HomeAsync(shop)).Coming;
        Assert.Equal([(shop.Code, "Lay out"), (own, "Take in")], coming.Select(l => (l.Code, l.Brings!)).OrderBy(l => l.Item2));
        await using var page = TestPage.Of(shop.Shop);
        var list = page.Render<WorkList>(p => p.Add(w => w.Lines, coming));
        Assert.DoesNotContain("Clean", list.Markup, StringComparison.Ordinal);
        var tray = list.FindAll(".work-line").Single(l => l.GetAttribute("href") == $"b/{shop.Code}");
        Assert.Equal($"{shop.Code} · order 1", tray.QuerySelector(".work-word")!.TextContent);
        Assert.Equal("Lay out: 12 pieces", tray.QuerySelector(".work-count")!.TextContent);

        BenchShop.Must(await shop.ReceiveAsync());
        var ready = (await HomeAsync(shop)).Ready;
        var here = page.Render<WorkList>(p => p.Add(w => w.Lines, ready));
        Assert.Equal("Clean", here.Find(".work-word").TextContent);
    }

    [Fact]
    public async Task TestFirst_TrayIsLaidOutAndItsTestPieceIsMade_StaysOnTheTrayAndInTheList()
    {
        await using var shop = await BenchShop.OpenAsync(2, own: true, material: "slate");
        var test = BenchShop.Must(await shop.Shop.Get<MakeTestPiece>().RunAsync(shop.Ask(), new Target(shop.Code))).Codes[0];
        BenchShop.Must(await shop.ReceiveAsync());
        var home = await HomeAsync(shop);
        Assert.True(Assert.Single(home.Ready).IsTestFirst);
        Assert.Equal((test, true, false), (home.Coming[0].Code, home.Coming[0].IsTest, home.Coming[0].IsTestFirst));
        await using var page = TestPage.Of(shop.Shop);
        Assert.Contains(
            "Test piece first",
            page.Render<WorkList>(p => p.Add(w => w.Lines, home.Ready)).Find(".work-first").TextContent,
            StringComparison.Ordinal
        );
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0];
        var hint = page.Render<TestHint>(p => p.Add(h => h.Test, sheet.Test!).Add(h => h.Code, shop.Code));
        Assert.Contains(test, hint.Find("[data-test-first]").TextContent, StringComparison.Ordinal);

        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(test)));
        await shop.WorkToAsync(StepKind.Inspect, test);
        BenchShop.Must(await TestPieceTests.JudgeAsync(shop, test, TestOutcome.Good, ""));
        Assert.DoesNotContain((await HomeAsync(shop)).Ready, l => l.IsTestFirst);
    }

    [Fact]
    public async Task PutTogether_FromThePageOfAPiece_ItCountsAsThereBesideTheOneThatIsScannedIn()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        var other = await shop.BookAsync(1, own: true, Finish.WhiteGround, "al");
        foreach (var code in new[] { shop.Code, other })
            await shop.WorkToAsync(StepKind.Cure, code);
        var tap = new Tap
        {
            Move = "build",
            Code = shop.Code,
            Step = (await shop.PieceAsync(shop.Code)).NextAttended!.Number,
        };
        var load = BenchShop.Must(await shop.Shop.Get<BenchMoves>().RunAsync(shop.Ask(), tap, default)).Batch!;
        BenchShop.Must(await shop.Shop.Get<ScanIntoBatch>().RunAsync(shop.Ask(), new ScanAtBatch(load, other)));
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(load)).Value.Batch!;
        Assert.Equal((2, 2), (sheet.ScannedIn, sheet.Members.Count));
        BenchShop.Must(await shop.Shop.Get<DropBatch>().RunAsync(shop.Ask(), load));

        // What the plan proposes lies nowhere yet.
        var planned = new Tap { Move = "build", Codes = [shop.Code, other] };
        load = BenchShop.Must(await shop.Shop.Get<BenchMoves>().RunAsync(shop.Ask(), planned, default)).Batch!;
        Assert.Equal(0, (await shop.Shop.Get<FindByCode>().ReadAsync(load)).Value.Batch!.ScannedIn);
    }

    private static async Task<BenchHomeSheet> HomeAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return BenchHome.Project(await OpenWork.LoadAsync(context, shop.Shop.Clock.GetUtcNow(), null, default));
    }
}
