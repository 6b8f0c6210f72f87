using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Localization;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Counter;
using ShopFloor.Web.Shared;
using StationKind = ShopFloor.Domain.Stations.StationKind;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>
/// Plan, caution and start go by one limit. 15 g of an unknown mix in a cubic metre (Swiss ordinance 832.312.17): 0.9 g in 60 l; 20 m³/h of fresh
/// air in 5 min (common practice, no source) take 25 g.
/// </summary>
public sealed class OvenSolventTests
{
    [Theory]
    [InlineData(null, null, 900)]
    [InlineData(0.5, null, 500)]
    [InlineData(20.0, null, 900)]
    [InlineData(null, 20.0, 25_000)]
    [InlineData(20.0, 20.0, 20_000)]
    public async Task Plan_OfAnOven_HasTheLimitThatTheBenchGoesBy(double? own, double? air, int milligrams)
    {
        await using var shop = await BenchShop.OpenAsync(1);
        var oven = await ChangeAsync(shop, o => o with { VapourLimitGrams = (decimal?)own, FreshAir = (decimal?)air });
        await using var context = await shop.Shop.ContextAsync();
        var day = DayFromShop.Make(await ShopSnapshot.ReadAsync(context, shop.Shop.Clock.GetUtcNow(), CancellationToken.None));
        Assert.Equal(milligrams, day.Stations.OfType<Oven>().Single().VapourLimitMg);
        Assert.Equal(milligrams, OvenVapour.Limit(oven).Value * 1000);
        using var file = JsonDocument.Parse(DayWriter.Write(day));
        var written = file.RootElement.GetProperty("stations").EnumerateArray().Single(s => s.GetProperty("kind").GetString() == "oven");
        Assert.Equal(milligrams / 1000m, written.GetProperty("vapour_limit_g").GetDecimal());
    }

    [Fact]
    public async Task Load_OfATrayInTheShippedOven_GoesInWithoutACaution()
    {
        await using var shop = await BenchShop.OpenAsync(24);
        await shop.WorkToAsync(StepKind.Cure);
        Assert.DoesNotContain(await CautionsAsync(shop, shop.Code), IsSolvent);
        Assert.True((await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).IsOk);
    }

    [Fact]
    public async Task Load_OverTheLimit_IsRefusedInTheWordsOfTheCautionUntilItHasFlashedOff()
    {
        await using var shop = await BenchShop.OpenAsync(12);
        await shop.WorkToAsync(StepKind.Cure);
        var pieces = await shop.PiecesAsync();
        var grams = pieces.Sum(p => p.NextAttended!.Settings.VapourGrams);
        // Half of what they bring: one half time more, 5 min (common practice, no source).
        await ChangeAsync(shop, o => o with { VapourLimitGrams = Math.Ceiling(grams * 500) / 1000 });
        var step = pieces[0].NextAttended!.Number;
        var refused = Assert.Single((await shop.StartAsync(step)).Refusals);
        Assert.Equal("oven-vapour", refused.Code);
        Assert.Equal(refused.Text, Assert.Single(await CautionsAsync(shop, shop.Code), IsSolvent));
        Assert.Contains("(the owner's own limit). 6 of 12 may go in now. After flash-off until ", refused.Text, StringComparison.Ordinal);
        Assert.Contains("More fresh air through the oven", refused.Text, StringComparison.Ordinal);
        Assert.Equal("oven-vapour", BenchShop.Code0(await BuildAsync(shop)));

        shop.Wait(300);
        Assert.DoesNotContain(await CautionsAsync(shop, shop.Code), IsSolvent);
        Assert.True((await shop.StartAsync(step)).IsOk);
    }

    [Fact]
    public async Task Load_PutTogetherBeforeTheLimitWasLowered_IsStillJudgedWhenItBegins()
    {
        await using var shop = await BenchShop.OpenAsync(12);
        await shop.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await BuildAsync(shop)).Batch!;
        await ChangeAsync(shop, o => o with { VapourLimitGrams = 0.01m });
        Assert.Contains(await CautionsAsync(shop, load), IsSolvent);
        Assert.Equal(
            "oven-vapour",
            BenchShop.Code0(await shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(load, IsHot: true)))
        );
        await ChangeAsync(shop, o => o with { VapourLimitGrams = null });
        Assert.DoesNotContain(await CautionsAsync(shop, load), IsSolvent);
        Assert.True((await shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(load, IsHot: true))).IsOk);
    }

    // 40 min cut short to none: 256 times as much, far over 0.9 g; the reason why somebody goes on says nothing about the vapour.
    [Fact]
    public async Task Load_OfPiecesJustSprayed_IsNotBegunWhateverIsDecidedAboutTheTime()
    {
        await using var shop = await FlashingAsync(2);
        var step = (await shop.PiecesAsync())[0].NextAttended!.Number;
        Assert.Equal("too-early", BenchShop.Code0(await shop.StartAsync(step)));
        var goOn = new TimeDecision(TimeChoice.GoOn, "in a hurry");
        Assert.Equal("oven-vapour", BenchShop.Code0(await shop.StartAsync(step, decision: goOn)));
        Assert.All(await shop.PiecesAsync(), p => Assert.NotEqual(WorkState.Running, p.NextAttended!.State));
    }

    [Fact]
    public async Task Load_ThatWouldHaveToFlashOffTooLong_SaysSo()
    {
        await using var shop = await BenchShop.OpenAsync(12);
        await shop.WorkToAsync(StepKind.Cure);
        await ChangeAsync(shop, o => o with { VapourLimitGrams = 0.0001m });
        var said = Assert.Single(await CautionsAsync(shop, shop.Code), IsSolvent);
        Assert.Contains("0 of 12 may go in now. All would need flash-off until ", said, StringComparison.Ordinal);
        Assert.Contains("longer than their recipe's longest", said, StringComparison.Ordinal);
        var before = CultureInfo.CurrentUICulture;
        try
        {
            CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("de");
            var texts = new ResourceManagerStringLocalizerFactory(Options.Create(new LocalizationOptions()), NullLoggerFactory.Instance);
            var german = new Spoken(new StringLocalizer<BenchTexts>(texts), new StringLocalizer<CounterTexts>(texts))[said];
            Assert.Contains("(die eigene Grenze des Betriebs). 0 von 12 dürfen jetzt hinein.", german, StringComparison.Ordinal);
            Assert.DoesNotContain("fresh air", german, StringComparison.Ordinal);
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }

    [Fact]
    public async Task Batch_MoreThanTheOvenHolds_IsRefusedWithTheReason()
    {
        await using var shop = await BenchShop.OpenAsync(40);
        await shop.WorkToAsync(StepKind.Cure);
        await ChangeAsync(shop, o => o with { VapourLimitGrams = 0.2m });
        Assert.Equal("oven-vapour", BenchShop.Code0(await BuildAsync(shop)));
        await ChangeAsync(shop, o => o with { VapourLimitGrams = null });
        Assert.Equal("no-room", BenchShop.Code0(await BuildAsync(shop)));
        Assert.True((await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number, count: 12)).IsOk);
    }

    /// <summary>Pieces whose last coat was sprayed this moment.</summary>
    internal static async Task<BenchShop> FlashingAsync(int quantity)
    {
        var shop = await BenchShop.OpenAsync(quantity);
        await shop.WorkToAsync(StepKind.Spray);
        await shop.DoAsync((await shop.PiecesAsync())[0].NextAttended!);
        shop.Wait(300);
        await shop.DoAsync((await shop.PiecesAsync())[0].NextAttended!);
        Assert.Equal(StepKind.Cure, (await shop.PiecesAsync())[0].NextAttended!.Kind);
        return shop;
    }

    private static bool IsSolvent(string caution) => caution.StartsWith("Solvent: ", StringComparison.Ordinal);

    private static Task<Result<Moved>> BuildAsync(BenchShop shop) =>
        shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code]));

    private static async Task<IReadOnlyList<string>> CautionsAsync(BenchShop shop, string code)
    {
        var found = (await shop.Shop.Get<FindByCode>().ReadAsync(code)).Value;
        return found.Batch?.Cautions ?? found.Pieces[0].Step!.Cautions;
    }

    private static async Task<OvenSettings> ChangeAsync(BenchShop shop, Func<OvenSettings, OvenSettings> change)
    {
        await using var context = await shop.Shop.ContextAsync();
        var oven = await context.Stations.FirstAsync(s => s.Kind == StationKind.Oven);
        oven.Change(oven.Name, change((OvenSettings)oven.Settings));
        await context.SaveChangesAsync();
        return (OvenSettings)oven.Settings;
    }
}
