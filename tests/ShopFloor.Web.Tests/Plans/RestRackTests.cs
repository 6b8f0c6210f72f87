using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Tests.Support;
using StationKind = ShopFloor.Domain.Stations.StationKind;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>What rests lies on a rack that has room for it, stays there, and keeps no plan from being published.</summary>
public sealed class RestRackTests
{
    [Fact]
    public async Task Rests_MoreThanTheFirstRackHolds_LieOnTheSecond()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await AddRackAsync(shop);
        await ForOneAsync(shop);
        var made = await PlanAsync(shop);
        var rests = Rests(made.Day);
        Assert.Equal(["rack-1", "rack-2"], rests.Values.Distinct().Order());
        Assert.DoesNotContain(PlanChecker.Check(made.Day, made.Plan), f => f.Rule == "rack-full");
        Assert.True((await PublishAsync(shop, made)).IsOk);
    }

    [Fact]
    public async Task Rests_OnceSaidToLieOnARack_StayThereWhenAnotherHasRoom()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var usual = await SettingsAsync(shop);
        await AddRackAsync(shop);
        await ForOneAsync(shop);
        var first = await PlanAsync(shop);
        Assert.True((await PublishAsync(shop, first)).IsOk);
        await ChangeAsync(shop, usual);
        Assert.Equal(Rests(first.Day), Rests((await PlanAsync(shop)).Day));
    }

    [Fact]
    public async Task Publish_RackThatIsTooFullAlready_PlansAllTheSame()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await ForOneAsync(shop);
        var made = await PlanAsync(shop);
        Assert.Contains(PlanChecker.Check(made.Day, made.Plan), f => f.Rule == "rack-full");
        var done = await PublishAsync(shop, made);
        Assert.True(done.IsOk, string.Join(' ', done.Refusals.Select(r => r.Text)));
    }

    /// <summary>What a plan itself lays on a full rack is no fact.</summary>
    [Fact]
    public async Task Publish_RackThatThePlanMakesTooFull_IsRefused()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var made = await PlanAsync(shop);
        var day = made.Day with { Stations = [.. made.Day.Stations.Select(s => s is Rack r ? r with { AreaUm2 = 1_000_000 } : s)] };
        var plan = made.Plan with { DaySha256 = Fingerprint.Sha256(DayWriter.Write(day)) };
        var refused = await PublishAsync(shop, (made.Shop, day, plan));
        Assert.Contains("rack-full", Assert.Single(refused.Refusals).Text, StringComparison.Ordinal);
    }

    private static Dictionary<string, string> Rests(Day day) =>
        day.Running.Tasks.Where(t => t.Kind == TaskKinds.Rest).ToDictionary(t => t.Piece!, t => t.Station);

    /// <summary>The first rack as large as the largest of the pieces that rest.</summary>
    private static async Task ForOneAsync(TestShop shop)
    {
        var day = (await PlanAsync(shop)).Day;
        var rests = Rests(day);
        Assert.True(rests.Count > 1, $"Only {rests.Count} rest.");
        var largest = day.Pieces.Where(p => rests.ContainsKey(p.Id)).MaxBy(p => (long)p.WidthUm * p.DepthUm)!;
        Length Side(int micrometres) => Length.FromMillimetres((micrometres / 1_000m) + 10);
        await ChangeAsync(shop, new RackSettings(Side(largest.WidthUm), Side(largest.DepthUm), 1, Length.FromMillimetres(10)));
    }

    private static async Task<RackSettings> SettingsAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        return (RackSettings)(await context.Stations.SingleAsync(s => s.Code == "rack-1")).Settings;
    }

    private static async Task ChangeAsync(TestShop shop, RackSettings settings)
    {
        await using var context = await shop.ContextAsync();
        var rack = await context.Stations.SingleAsync(s => s.Code == "rack-1");
        Assert.True(rack.Change(rack.Name, settings).IsOk);
        await context.SaveChangesAsync();
    }

    private static async Task AddRackAsync(TestShop shop)
    {
        var settings = await SettingsAsync(shop);
        await using var context = await shop.ContextAsync();
        context.Stations.Add(new(new StationId(Guid.CreateVersion7()), StationKind.Rack, "rack-2", "Second rack", settings));
        await context.SaveChangesAsync();
    }

    private static Task<Result<int>> PublishAsync(TestShop shop, (ShopSnapshot Shop, Day Day, Plan Plan) made) =>
        shop.Get<PublishPlan>()
            .RunAsync(
                Asked.BySystem(),
                new PlanInput(
                    made.Shop.Now,
                    made.Shop.Journal,
                    Encoding.UTF8.GetString(DayWriter.Write(made.Day)),
                    Encoding.UTF8.GetString(PlanWriter.Write(made.Plan)),
                    "test"
                )
            );

    private static async Task<(ShopSnapshot Shop, Day Day, Plan Plan)> PlanAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), CancellationToken.None);
        var day = DayFromShop.Make(snapshot);
        return (snapshot, day, DayPlanner.First(day, Fingerprint.Sha256(DayWriter.Write(day))));
    }
}
