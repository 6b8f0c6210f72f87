using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Wall.Parts;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A tray that is worked on in two parts: both stand on Wall and Bench, each with a name of its own, and neither ends a page.</summary>
public sealed class TwoPartsTests
{
    [Fact]
    public async Task Timers_TwoWaitsOfOneWord_StandSideBySideAndCallOneByOne()
    {
        await using var shop = await PartedAsync();
        var sheet = await WallAsync(shop);
        Assert.Equal(2, sheet.Timers.Count);
        Assert.Single(sheet.Timers.Select(t => t.Key).Distinct());
        Assert.Equal(2, sheet.Timers.Select(t => t.Id).Distinct().Count());
        Assert.Equal(sheet.Calls.Count, sheet.Calls.Select(c => c.Key).Distinct().Count());
        await using var page = PageOf();
        var panel = page.Render<TimerPanel>(p => p.Add(t => t.Timers, sheet.Timers));
        // A change is what looks for the keys.
        panel.Render(p => p.Add(t => t.Timers, sheet.Timers.Reverse().ToList()));
        Assert.Equal(2, panel.FindAll(".timer-row").Count);
    }

    [Fact]
    public async Task Timers_TwoTapsWithinOneSecond_AreOneTimeFromTheFirst()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.WorkToAsync(StepKind.Wipe);
        var wipe = await NextAsync(shop);
        BenchShop.Must(await shop.FinishAsync(wipe, count: 2));
        var first = shop.Shop.Clock.GetUtcNow();
        shop.Wait(0.01);
        BenchShop.Must(await shop.FinishAsync(wipe));
        var timer = Assert.Single((await WallAsync(shop)).Timers);
        Assert.Equal(first, timer.Timer.Since);
        Assert.EndsWith("4 pieces", timer.Where, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lines_TwoCoatsOfOneCoating_SayWhichAndStandSideBySide()
    {
        await using var shop = await CoatsAsync();
        var ready = BenchHome.Project(await WorkAsync(shop)).Ready;
        Assert.Equal(["Spray matt, coat 2 of 2", "Spray matt, coat 1 of 2"], ready.Select(l => l.Word).OrderDescending());
        var order = Assert.Single((await shop.Shop.Get<FindOrder>().ReadAsync("1")).Orders);
        await using var page = PageOf();
        foreach (var lines in (IReadOnlyList<WorkLine>[])[ready, order.Pieces, [.. ready.Select(l => l with { Word = "Spray matt" })]])
        {
            Assert.Equal(2, lines.Select(l => l.Key).Distinct().Count());
            var list = page.Render<WorkList>(p => p.Add(w => w.Lines, lines));
            list.Render(p => p.Add(w => w.Lines, lines.Reverse().ToList()));
            Assert.Equal(2, list.FindAll("li").Count);
        }
    }

    [Fact]
    public async Task Card_OfOneOfTwoCoats_SaysWhichAndOneOfASingleCoatDoesNot()
    {
        await using var shop = await CoatsAsync();
        var cards = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces;
        Assert.Equal(["Spray matt, coat 1 of 2", "Spray matt, coat 2 of 2"], cards.Select(c => c.Step!.Word).Order());
        await using var plain = await BenchShop.OpenAsync(1);
        await plain.WorkToAsync(StepKind.Spray);
        Assert.DoesNotContain(
            "coat",
            (await plain.Shop.Get<FindByCode>().ReadAsync(plain.Code)).Value.Pieces[0].Step!.Word,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Page_PartWhoseLimitRuns_StandsAboveTheRestOfItsTray()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.WorkToAsync(StepKind.Wipe);
        BenchShop.Must(await shop.FinishAsync(await NextAsync(shop), count: 2));
        var cards = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces;
        Assert.Equal([StepKind.Spray, StepKind.Wipe], cards.Select(c => c.Step!.Kind));
        Assert.NotNull(cards[0].Step!.Timer?.Max);
    }

    [Theory]
    [InlineData(11, "Start 11 of 20", "Done: 11 of 20")]
    [InlineData(20, "Start", "Done")]
    [InlineData(null, "Start", "Done")]
    public async Task Button_SomeOfATray_SaysHowManyBeginAndEnd(int? count, string start, string done)
    {
        await using var shop = await BenchShop.OpenAsync(20);
        BenchShop.Must(await shop.ReceiveAsync());
        var sheet = Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces);
        await using var page = PageOf();
        var actions = page.Render<StepActions>(p => p.Add(a => a.Sheet, sheet).Add(a => a.Count, count));
        Assert.Equal([start, done], actions.FindAll("[data-move]").Select(b => b.TextContent.Trim()));
    }

    [Fact]
    public async Task Missing_TwoOfATray_TheCardSaysTwo()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        BenchShop.Must(await shop.ReceiveAsync());
        BenchShop.Must(
            await shop
                .Shop.Get<ReportFault>()
                .RunAsync(shop.Ask(), new FaultReport(new Target(shop.Code, 1, 2), "dropped", "", new TimeDecision(TimeChoice.Spoil, "")))
        );
        var lost = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces.Single(p => p.State == PieceState.Spoiled);
        Assert.Equal(2, lost.Missing);
        await using var page = PageOf();
        var actions = page.Render<StepActions>(p => p.Add(a => a.Sheet, lost));
        Assert.Contains("Order 1 asks for 2 more than it has.", actions.Markup, StringComparison.Ordinal);
        var one = page.Render<StepActions>(p => p.Add(a => a.Sheet, lost with { Missing = 1 }));
        Assert.Contains("Order 1 asks for one more than it has.", one.Markup, StringComparison.Ordinal);
    }

    /// <summary>A tray of which two wait since wiping and two since a little later.</summary>
    private static async Task<BenchShop> PartedAsync()
    {
        var shop = await BenchShop.OpenAsync(4);
        await shop.WorkToAsync(StepKind.Wipe);
        var wipe = await NextAsync(shop);
        BenchShop.Must(await shop.FinishAsync(wipe, count: 2));
        shop.Wait(20);
        BenchShop.Must(await shop.FinishAsync(wipe));
        return shop;
    }

    /// <summary>A tray of which one is up for the second coat of matt, the other for the first.</summary>
    private static async Task<BenchShop> CoatsAsync()
    {
        var shop = await BenchShop.OpenAsync(2, finish: Finish.VelvetMatt);
        await shop.WorkToAsync(StepKind.Spray);
        var spray = await NextAsync(shop);
        var round = BenchShop.Must(await shop.StartAsync(spray, count: 1)).Batch!;
        shop.Wait(40);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(round)));
        return shop;
    }

    private static async Task<int> NextAsync(BenchShop shop) => (await shop.PiecesAsync())[0].NextAttended!.Number;

    private static async Task<WallSheet> WallAsync(BenchShop shop) =>
        WallSheet.Of(new WorkNow(await WorkAsync(shop), null, new Dictionary<CanId, string>()), shop.Shop.Clock.GetUtcNow(), []);

    private static async Task<OpenWork> WorkAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await OpenWork.LoadAsync(context, shop.Shop.Clock.GetUtcNow(), null, default);
    }

    private static BunitContext PageOf()
    {
        var page = new BunitContext();
        page.Services.AddLocalization();
        page.Services.AddSingleton<Spoken>();
        page.Services.AddSingleton(TimeProvider.System);
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        return page;
    }
}
