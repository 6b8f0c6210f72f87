using System.Text.Json;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A round that is begun from a piece's page: its can and its shaking are said before, and it is ended where it was begun.</summary>
public sealed class SprayFromPieceTests
{
    [Fact]
    public async Task Spray_BeforeItBegins_SaysTheCanThatItTakesAndTheShaking()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Spray);
        var sheet = await SheetAsync(shop);
        await using var page = PageOf(shop);
        Assert.Equal(["Shaken, start spraying", "Put together"], Moves(page, sheet).Select(m => m.Word));

        var round = BenchShop.Must(await shop.StartAsync(sheet.Step!.Number)).Batch;
        string[] before = ["Can", "Shake"];
        Assert.Equal(
            (await shop.Shop.Get<FindByCode>().ReadAsync(round)).Value.Batch!.Settings.Where(s => before.Contains(s.Label)),
            sheet.Step.Settings.Where(s => before.Contains(s.Label))
        );
        Assert.Equal(2, sheet.Step.Settings.Count(s => before.Contains(s.Label)));
        Assert.DoesNotContain((await SheetAsync(shop)).Step!.Settings, s => s.Label == "Shake");
    }

    /// <summary>What laying the pieces of a round side by side saves stands on its page; of one piece there is nothing to say.</summary>
    [Theory]
    [InlineData(4, true)]
    [InlineData(1, false)]
    public async Task Round_OfSeveralPieces_SaysWhatItSaves(int pieces, bool saves)
    {
        await using var shop = await BenchShop.OpenAsync(pieces);
        await shop.WorkToAsync(StepKind.Spray);
        var round = BenchShop.Must(await shop.StartAsync((await SheetAsync(shop)).Step!.Number)).Batch;
        var settings = (await shop.Shop.Get<FindByCode>().ReadAsync(round)).Value.Batch!.Settings;
        var said = settings.Where(s => s.Label == "Laid side by side, it saves").Select(s => s.Value).ToList();
        Assert.Equal(saves ? 1 : 0, said.Count);
        if (!saves)
            return;
        var alone = settings.Single(s => s.Label == "Amount").Value.Replace(" in all", "", StringComparison.Ordinal);
        Assert.Matches(@"^[\d.]+ ml: [\d.]+ ml laid side by side, ", said[0]);
        Assert.EndsWith($", {alone} one by one", said[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Spray_Running_IsEndedWhereItWasBegun()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Spray);
        var round = BenchShop.Must(await shop.StartAsync((await SheetAsync(shop)).Step!.Number)).Batch;
        await using var page = PageOf(shop);
        var (word, tap) = Assert.Single(Moves(page, await SheetAsync(shop)));
        Assert.Equal(("All sprayed", "finishBatch", round), (word, tap.Move, tap.Code));
    }

    [Fact]
    public async Task Spray_RunningWithOthers_IsEndedOnThePageOfTheRoundOnly()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Spray);
        var other = await shop.BookAsync(1, own: true, Finish.WhiteGround, "al");
        await shop.WorkToAsync(StepKind.Spray, other);
        var built = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code, other]))).Batch!;
        var begun = await shop
            .Shop.Get<StartBatch>()
            .RunAsync(shop.Ask(), new StartBatchWish(built, Decision: new(TimeChoice.GoOn, "Busy")));
        BenchShop.Must(begun);
        await using var page = PageOf(shop);
        Assert.Empty(Moves(page, await SheetAsync(shop)));
    }

    private static List<(string Word, Tap Tap)> Moves(BunitContext page, PieceSheet sheet) =>
        [
            .. page.Render<StepActions>(p => p.Add(a => a.Sheet, sheet).Add(a => a.OnFault, () => { }).Add(a => a.OnInspect, () => { }))
                .FindAll("[data-move]")
                .Select(b => (b.TextContent.Trim(), JsonSerializer.Deserialize<Tap>(b.GetAttribute("data-move")!, JsonForms.Default)!)),
        ];

    private static async Task<PieceSheet> SheetAsync(BenchShop shop) =>
        Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces);

    private static BunitContext PageOf(BenchShop shop)
    {
        var page = TestPage.Of(shop.Shop);
        return page;
    }
}
