using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>The shop becomes a day, the day a plan, and only a sound plan of the present is published.</summary>
public sealed class PublishPlanTests
{
    [Fact]
    public async Task Snapshot_OfTheDemoShop_IsADayThatIsReadBackAndPlannedWithoutABrokenRule()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (_, day, plan) = await PlanAsync(shop);
        Assert.NotEmpty(day.Pieces);
        Assert.NotEmpty(day.Running.Tasks);
        var bytes = DayWriter.Write(day);
        Assert.True(DayReader.Read(bytes, "day").IsOk);
        Assert.Empty(PlanChecker.Check(day, plan, Fingerprint.Sha256(bytes)));
        Assert.Empty(plan.LeftOut);
    }

    [Fact]
    public async Task Publish_SoundPlan_IsTheNextVersionAndIsReadBack()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var done = await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), await InputAsync(shop));
        Assert.Equal(1, done.Value);
        await using var context = await shop.ContextAsync();
        Assert.Equal(1, await context.Plans.CountAsync());
    }

    [Fact]
    public async Task Publish_SomethingMovedMeanwhile_IsRefusedAsStale()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Counter);
        var input = await InputAsync(shop);
        Assert.True((await shop.Get<BookOrder>().RunAsync(Asked.By(worker), await shop.ShownAsync(ShopOrders.Plates(1)))).IsOk);
        Assert.Equal("plan-stale", Assert.Single((await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input)).Refusals).Code);
    }

    [Fact]
    public async Task Publish_PlanThatBreaksARule_IsRefusedWithItsNameAndTheLastStays()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (snapshot, day, plan) = await PlanAsync(shop);
        var first = plan.Tasks.First(t => t.Kind == "clean" && t.StartS >= 0);
        var broken = plan with { Tasks = [.. plan.Tasks.Where(t => !ReferenceEquals(t, first))] };
        var refused = await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), Input(snapshot, day, broken));
        Assert.Equal("plan-broken", Assert.Single(refused.Refusals).Code);
        Assert.Contains("step-missing", refused.Refusals[0].Text, StringComparison.Ordinal);
        await using var context = await shop.ContextAsync();
        Assert.Equal(0, await context.Plans.CountAsync());
    }

    [Fact]
    public async Task Publish_PieceLeftOnTheRackOverItsLongestRest_PlansTheOthersAllTheSame()
    {
        await using var shop = await ShopOrders.DemoAsync();
        shop.Clock.Advance(TimeSpan.FromHours(5));
        var (snapshot, day, plan) = await PlanAsync(shop);
        var left = day.Running.Tasks.Where(t => t.Kind == TaskKinds.Rest).Select(t => (t.Piece, t.StartS, Most: MostRest(day, t)));
        Assert.Contains(left, r => r.StartS + r.Most < 0);
        Assert.Contains(PlanChecker.Check(day, plan), f => f.Rule == "rest-too-long");
        Assert.True((await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), Input(snapshot, day, plan))).IsOk);
    }

    /// <summary>A plan that leaves a running load in for hours passed as a fact, although somebody could have stayed for it.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Publish_RunningLoadThatIsTakenOutTooLate_IsAFactOnlyWhereNobodyIsThere(bool stays)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (snapshot, day, _) = await PlanAsync(shop);
        var dwell = day.Running.Tasks.First(t => t.Kind == TaskKinds.Dwell);
        var load = day.Running.Batches.First(b => b.Id == dwell.Batch);
        var most = load.Places.Min(p => day.Pieces.First(x => x.Id == p.Piece).Route[p.Step - 1].MaxS)!.Value;
        var due = dwell.StartS + most;
        Assert.True(due > 0);
        List<Shift> late = [new Shift(due + 7_200, 86_400, 86_400)];
        day = day with { Published = null, People = [.. day.People.Select(p => p with { Shifts = late })] };
        var plan = DayPlanner.First(day, Fingerprint.Sha256(DayWriter.Write(day)));
        Assert.Contains(PlanChecker.Check(day, plan), f => f.Rule == "dwell-outside");
        if (stays)
        {
            List<Shift> normal = [new Shift(0, 1, due + 3_600), .. late];
            day = day with { People = [.. day.People.Select(p => p with { Shifts = normal })] };
            plan = plan with { DaySha256 = Fingerprint.Sha256(DayWriter.Write(day)) };
        }
        var done = await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), Input(snapshot, day, plan));
        Assert.Equal(!stays, done.IsOk);
    }

    private static int? MostRest(Day day, PlanTask rest) => day.Pieces.First(p => p.Id == rest.Piece).Route[rest.Step!.Value - 1].MaxS;

    [Fact]
    public async Task Publish_ByAWorker_IsNobodysRight()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var refused = await shop.Get<PublishPlan>().RunAsync(Asked.By(owner), await InputAsync(shop));
        Assert.Equal("no-right", Assert.Single(refused.Refusals).Code);
    }

    [Fact]
    public async Task Shifts_OverTheEndOfSummerTime_AreAsLongAsTheClockOnTheWallSays()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (snapshot, _, _) = await PlanAsync(shop);
        // 25 October 2026, 03:00 becomes 02:00 in this zone: the day has 25 hours.
        var zone = snapshot.Settings.Zone;
        var open = DayTimes.Utc(new DateOnly(2026, 10, 25), new TimeOnly(0, 0), zone);
        var close = DayTimes.Utc(new DateOnly(2026, 10, 26), new TimeOnly(0, 0), zone);
        Assert.Equal(TimeSpan.FromHours(25), close - open);
        // 29 March 2026, 02:30 does not exist: it counts as the moment the clock skips to.
        var skipped = DayTimes.Utc(new DateOnly(2026, 3, 29), new TimeOnly(2, 30), zone);
        Assert.Equal(DayTimes.Utc(new DateOnly(2026, 3, 29), new TimeOnly(3, 0), zone), skipped);
    }

    private static async Task<PlanInput> InputAsync(TestShop shop)
    {
        var (snapshot, day, plan) = await PlanAsync(shop);
        return Input(snapshot, day, plan);
    }

    private static PlanInput Input(ShopSnapshot snapshot, Day day, Plan plan) =>
        new(
            snapshot.Now,
            snapshot.Journal,
            Encoding.UTF8.GetString(DayWriter.Write(day)),
            Encoding.UTF8.GetString(PlanWriter.Write(plan)),
            "test"
        );

    private static async Task<(ShopSnapshot Snapshot, Day Day, Plan Plan)> PlanAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), CancellationToken.None);
        var day = DayFromShop.Make(snapshot);
        return (snapshot, day, DayPlanner.First(day, Fingerprint.Sha256(DayWriter.Write(day))));
    }
}
