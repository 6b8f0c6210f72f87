using System.Text.Json;
using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain;
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

/// <summary>A load or a session whose station is cold by its rates begins only once somebody says that it is hot.</summary>
public sealed class ColdStationTests
{
    [Theory]
    [InlineData(StepKind.Cure, true)]
    [InlineData(StepKind.Cure, false)]
    [InlineData(StepKind.Press, false)]
    public async Task Begin_AtAColdStation_IsAskedAndBeginsAtTheWord(StepKind kind, bool asBatch)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(kind);
        var begin = await BeginnerAsync(shop, asBatch);
        var asked = await begin(false);
        var question = Assert.Single(asked.Refusals);
        Assert.Equal("cold", question.Code);
        Assert.Contains("Is it really hot?", question.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(await shop.PiecesAsync(), p => p.NextAttended!.State == WorkState.Running);

        var begun = BenchShop.Must(await begin(true));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(BatchState.Running, (await context.Batches.SingleAsync(b => b.Code == begun.Batch)).State);
    }

    [Theory]
    [InlineData(10, "ok")]
    [InlineData(60, "cold")]
    public async Task Begin_AfterALoadOfTheSameHeat_IsAskedOnceItMayHaveBeenSwitchedOff(int minutes, string code)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var cure = (await shop.PiecesAsync())[0].NextAttended!;
        var load = BenchShop.Must(await shop.StartAsync(cure.Number, count: 1)).Batch!;
        shop.Wait(cure.Settings.MinSeconds);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load)));
        shop.Wait(minutes * 60);
        var wish = new StartWish(new Target(shop.Code, cure.Number));
        Assert.Equal(code, BenchShop.Code0(await shop.Shop.Get<StartStep>().RunAsync(shop.Ask(), wish)));
    }

    [Fact]
    public async Task Question_IsAnsweredWithOneTapThatCountsFromThen()
    {
        await using var page = PageOf();
        var outcome = new MoveOutcomeArgs
        {
            Tap = JsonSerializer.Serialize(
                new Tap
                {
                    Move = "startBatch",
                    Code = "L-1",
                    OnlyScanned = true,
                    TappedAt = 5,
                },
                JsonForms.Default
            ),
            Refusals = [new("cold", "Cold.")],
        };
        Assert.True(outcome.IsToDecide);
        var waited = false;
        var card = page.Render<BatchCard>(p =>
            p.Add(c => c.Sheet, Sheet).Add(c => c.ToDecide, outcome).Add(c => c.OnWait, () => waited = true)
        );
        var hot = Assert.Single(card.FindAll("[data-move]"));
        Assert.Equal("It is hot", hot.TextContent.Trim());
        var sent = JsonSerializer.Deserialize<Tap>(hot.GetAttribute("data-move")!, JsonForms.Default)!;
        Assert.Equal(("startBatch", "L-1", true, true, null), (sent.Move, sent.Code, sent.OnlyScanned, sent.IsHot, sent.TappedAt));
        await card.FindAll("button").Single(b => b.TextContent.Trim() == "Not yet").ClickAsync();
        Assert.True(waited);
    }

    [Theory]
    [InlineData(true, "nothing was in it yet")]
    [InlineData(false, "its last use")]
    public async Task Card_SaysFromWhatTheWarmingIsComputed(bool first, string words)
    {
        await using var page = PageOf();
        var sheet = Sheet with { State = BatchState.Building, WarmAt = DateTimeOffset.UnixEpoch, IsFirstUse = first };
        Assert.Contains(
            words,
            page.Render<BatchCard>(p => p.Add(c => c.Sheet, sheet)).Find(".warm-at").TextContent,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Sheet_OfAnOvenThatWasNeverUsed_SaysSo()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code]))).Batch;
        Assert.True((await shop.Shop.Get<FindByCode>().ReadAsync(load)).Value.Batch!.IsFirstUse);
    }

    private static BatchSheet Sheet => new() { Code = "L-1", Kind = BatchKind.OvenLoad };

    private static async Task<Func<bool, Task<Result<Moved>>>> BeginnerAsync(BenchShop shop, bool asBatch)
    {
        var step = (await shop.PiecesAsync())[0].NextAttended!.Number;
        if (!asBatch)
            return hot => shop.Shop.Get<StartStep>().RunAsync(shop.Ask(), new StartWish(new Target(shop.Code, step), IsHot: hot));
        var load = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code]))).Batch!;
        return hot => shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(load, IsHot: hot));
    }

    private static BunitContext PageOf()
    {
        var page = TestPage.Plain();
        return page;
    }
}
