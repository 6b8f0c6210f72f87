using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Spray mist and a hot oven in the same air are never together without somebody deciding so, whichever came first.</summary>
public sealed class SharedAirTests
{
    private static readonly TimeDecision GoOn = new(TimeChoice.GoOn, "judged by eye");

    [Theory]
    [InlineData(StepKind.Cure, StepKind.Spray)]
    [InlineData(StepKind.Spray, StepKind.Cure)]
    public async Task Start_TheOtherRunsInTheSameAir_IsAskedAbout(StepKind first, StepKind second)
    {
        await using var shop = await OpenAsync(["oven-1"]);
        var (later, number) = await AtAsync(shop, shop.Code, second);
        await RunAsync(shop, first);
        var asked = await BeginAsync(shop, later, number);
        var hot = Assert.Single(asked.Refusals, r => r.Code == "oven-hot");
        Assert.Contains("spray mist can catch fire", hot.Text, StringComparison.Ordinal);
        BenchShop.Must(await BeginAsync(shop, later, number, GoOn));
    }

    [Theory]
    [InlineData(StepKind.Cure, StepKind.Spray)]
    [InlineData(StepKind.Spray, StepKind.Cure)]
    public async Task Start_TheOtherRunsInOtherAir_IsNotAskedAbout(StepKind first, StepKind second)
    {
        await using var shop = await OpenAsync([]);
        var (later, number) = await AtAsync(shop, shop.Code, second);
        await RunAsync(shop, first);
        Assert.DoesNotContain((await BeginAsync(shop, later, number)).Refusals, r => r.Code == "oven-hot");
    }

    [Fact]
    public async Task Spray_TheLoadIsOutButTheOvenIsStillHot_IsAskedAboutUntilItHasCooled()
    {
        await using var shop = await OpenAsync(["oven-1"]);
        var (later, number) = await AtAsync(shop, shop.Code, StepKind.Spray);
        await RunAsync(shop, StepKind.Cure);
        await using var context = await shop.Shop.ContextAsync();
        var load = await context.Batches.AsNoTracking().SingleAsync(b => b.State == BatchState.Running);
        shop.Wait(load.Settings.MinSeconds);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load.Code)));
        shop.Wait(60);
        var oven = (OvenSettings)(await context.Stations.SingleAsync(s => s.Code == "oven-1")).Settings;
        var hot = Assert.Single((await BeginAsync(shop, later, number)).Refusals, r => r.Code == "oven-hot");
        var has = load.Settings.Celsius!.Value - oven.CoolingPerMinute;
        Assert.Contains(
            string.Create(CultureInfo.InvariantCulture, $"still holds about {has:0} °C from {load.Code}"),
            hot.Text,
            StringComparison.Ordinal
        );
        shop.Wait((double)((has - oven.HotAboveCelsius) / oven.CoolingPerMinute * 60) + 1);
        Assert.DoesNotContain((await BeginAsync(shop, later, number)).Refusals, r => r.Code == "oven-hot");
    }

    private static async Task<BenchShop> OpenAsync(IReadOnlyList<string> ovens)
    {
        var shop = await BenchShop.OpenAsync(1);
        await using var context = await shop.Shop.ContextAsync();
        var booth = await context.Stations.SingleAsync(s => s.Kind == StationKind.Booth);
        Assert.True(booth.Change(booth.Name, new BoothSettings(ovens)).IsOk);
        await context.SaveChangesAsync();
        return shop;
    }

    private static async Task RunAsync(BenchShop shop, StepKind kind)
    {
        var (code, number) = await AtAsync(shop, await shop.BookAsync(1, false, Finish.WhiteGround, "al"), kind);
        BenchShop.Must(await BeginAsync(shop, code, number));
    }

    private static async Task<(string Code, int Number)> AtAsync(BenchShop shop, string code, StepKind kind)
    {
        if ((await shop.PieceAsync(code)).State == PieceState.Booked)
            BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(code)));
        await shop.WorkToAsync(kind, code);
        return (code, (await shop.PieceAsync(code)).NextAttended!.Number);
    }

    private static Task<Result<Moved>> BeginAsync(BenchShop shop, string code, int number, TimeDecision? decision = null) =>
        shop.Shop.Get<StartStep>().RunAsync(shop.Ask(), new StartWish(new Target(code, number), Decision: decision, IsHot: true));
}
