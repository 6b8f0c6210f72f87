using System.Globalization;
using System.Text;
using Bunit;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Plans;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>What happens in the shop stands beside the plan that was made because of it, in the workshop's words.</summary>
public sealed class PlanHistoryTests
{
    [Fact]
    public async Task Last_FirstPlanEver_HasNothingToBeComparedWith()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await PublishAsync(shop);
        Assert.Empty(await shop.Get<PlanHistory>().LastAsync(20));
    }

    [Fact]
    public async Task Last_BetterPlanOfTheSameMoment_IsToldWithTheOneItImproves()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await PublishAsync(shop);
        shop.Clock.Advance(TimeSpan.FromMinutes(5));
        await PublishAsync(shop);
        await PublishAsync(shop);
        var story = Assert.Single(await shop.Get<PlanHistory>().LastAsync(20));
        Assert.Equal(3, story.Number);
    }

    [Fact]
    public async Task Last_PieceSpoiledOvenDownAndShiftChanged_EachIsSaidWithItsName()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await PublishAsync(shop);
        shop.Clock.Advance(TimeSpan.FromMinutes(3));
        var (spoiled, held) = await ThingsHappenAsync(shop);
        await PublishAsync(shop);
        var story = Assert.Single(await shop.Get<PlanHistory>().LastAsync(20));
        Assert.Contains(story.Because, b => b.EndsWith($"{spoiled} spoiled", StringComparison.Ordinal));
        Assert.Contains(story.Because, b => b.EndsWith($"{held} put aside", StringComparison.Ordinal));
        Assert.Contains("Convection oven cannot be used", story.Because);
        Assert.Contains("Bo: shift changed", story.Because);
        Assert.Contains(story.Changed, c => c.Contains("later", StringComparison.Ordinal));
        Assert.Equal(story.Because.Take(2), story.Short.Take(2));
        Assert.Equal(story, await shop.Get<PlanHistory>().LatestAsync(2));
    }

    /// <summary>A load that was stopped is no rework of anybody.</summary>
    [Fact]
    public async Task Last_LoadStopped_SaysThatItsPiecesHaveAStepToBeDoneAgain()
    {
        await using var bench = await BenchShop.OpenAsync(2);
        await bench.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await bench.StartAsync((await bench.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        await PublishAsync(bench.Shop);
        bench.Wait(60);
        BenchShop.Must(await bench.Shop.Get<StopBatch>().RunAsync(bench.Ask(), new StopBatchWish(load, "Power cut")));
        await PublishAsync(bench.Shop);
        var because = (await bench.Shop.Get<PlanHistory>().LastAsync(20))[0].Because;
        Assert.Contains(because, b => b.EndsWith("2 pieces to be done again", StringComparison.Ordinal));
        Assert.DoesNotContain(because, b => b.Contains("rework", StringComparison.Ordinal));
    }

    [Fact]
    public async Task StandingPlan_QuietHour_HoldsUntilSomethingHappensOrItIsOld()
    {
        await using var shop = await ShopOrders.DemoAsync();
        Assert.False(await HoldsAsync(shop));
        await PublishAsync(shop);
        Assert.True(await HoldsAsync(shop));
        // The first of what was to be begun is overdue after some minutes.
        shop.Clock.Advance(TimeSpan.FromMinutes(15));
        Assert.False(await HoldsAsync(shop));
        await PublishAsync(shop);
        Assert.True(await HoldsAsync(shop));
        await ThingsHappenAsync(shop);
        Assert.False(await HoldsAsync(shop));
    }

    /// <summary>What was read moves no piece, but the load comes out later.</summary>
    [Fact]
    public async Task StandingPlan_LoadFoundTooCold_HoldsNoMoreUntilItIsPlannedAnew()
    {
        await using var bench = await BenchShop.OpenAsync(2);
        await bench.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await bench.StartAsync((await bench.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        await PublishAsync(bench.Shop);
        Assert.True(await HoldsAsync(bench.Shop));
        BenchShop.Must(await bench.Shop.Get<KeepReading>().RunAsync(bench.Ask(), new ReadingWish(load, 60)));
        Assert.False(await HoldsAsync(bench.Shop));
        await PublishAsync(bench.Shop);
        Assert.True(await HoldsAsync(bench.Shop));
    }

    [Fact]
    public async Task Rush_OrderThatIsNotBegun_SaysWhenAndWhomAndChangesNothing()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var context = await shop.ContextAsync();
        var waiting = await context.Pieces.Where(p => p.State == PieceState.Received).OrderBy(p => p.Code).FirstAsync();
        var number = await context.Orders.Where(o => o.Id == waiting.Order).Select(o => o.Number).FirstAsync();
        var effect = await shop.Get<RushView>().ForAsync(number);
        Assert.NotNull(effect);
        Assert.True(effect.Ready <= effect.ReadyNow, $"{effect.Ready} {effect.ReadyNow}");
        Assert.DoesNotContain(effect.Pushes, p => p.Number == number.ToString(CultureInfo.InvariantCulture));
        Assert.Equal(0, await context.Plans.CountAsync());
        Assert.Null(await shop.Get<RushView>().ForAsync(99_999));
    }

    [Fact]
    public async Task Last_DaysClosed_AreTheCauseAndNotEverybodysShifts()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        await PublishAsync(shop);
        shop.Clock.Advance(TimeSpan.FromMinutes(3));
        var first = DateOnly.FromDateTime(shop.Clock.GetUtcNow().UtcDateTime).AddDays(1);
        var close = new CalendarChange(new ClosedDay(first, "Fair"), first.AddDays(1));
        Assert.True((await shop.Get<ChangeCalendar>().RunAsync(Asked.By(owner), close)).IsOk);
        await PublishAsync(shop);

        var because = Assert.Single(await shop.Get<PlanHistory>().LastAsync(20)).Because;

        static string Day(DateOnly day) => day.ToString("d MMMM", CultureInfo.InvariantCulture);
        Assert.Contains($"closed from {Day(first)} to {Day(first.AddDays(1))}", because);
        Assert.DoesNotContain(because, b => b.Contains("shift changed", StringComparison.Ordinal));
    }

    [Fact]
    public void Calendar_DaysClosedAndOpened_AreSaidAsSpans()
    {
        DateOnly[] before = [new(2026, 11, 30), new(2026, 12, 24)];
        DateOnly[] now = [new(2026, 12, 24), new(2026, 12, 31), new(2027, 1, 1), new(2027, 1, 6)];
        Assert.Equal(
            ["closed from 31 December to 1 January", "closed on 6 January", "open again on 30 November"],
            ChangeWords.CalendarOf(before, now)
        );
    }

    [Fact]
    public async Task Panel_VersionsThatMovedNothing_AreFoldedIntoOne()
    {
        await using var shop = await ShopOrders.DemoAsync();
        for (var i = 0; i < 3; i++)
        {
            await PublishAsync(shop);
            shop.Clock.Advance(TimeSpan.FromMinutes(1));
        }
        var still = (await shop.Get<PlanHistory>().LastAsync(20)).Count(s => s.Changed.Count == 0);
        Assert.True(still > 0);
        await using var page = TestPage.Of(shop);
        var panel = page.Render<HistoryPanel>(p => p.Add(h => h.Zone, TimeZoneInfo.Utc));
        panel.WaitForElement("details.still");
        Assert.Equal(still, panel.FindAll("details.still li").Count);
        Assert.False(panel.Find("details.still").HasAttribute("open"));
        Assert.Equal(2 - still, panel.FindAll("details:not(.still)").Count);
    }

    private static async Task<bool> HoldsAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), CancellationToken.None);
        return StandingPlan.Holds(snapshot, DayFromShop.Make(snapshot));
    }

    private static async Task<(string Spoiled, string Held)> ThingsHappenAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var now = shop.Clock.GetUtcNow();
        var waiting = await context.Pieces.Where(p => p.State == PieceState.Received).OrderBy(p => p.Code).ToListAsync();
        foreach (
            var (piece, happened) in new[]
            {
                (waiting[0], waiting[0].Spoil("Fell down.", now)),
                (waiting[1], waiting[1].Hold("Asked.", now)),
            }
        )
        {
            piece.Apply(happened.Value);
            context.Journal.Add(
                new ShopFloor.Data.Records.JournalEntry(
                    new EntryId(Guid.CreateVersion7()),
                    piece.Id,
                    happened.Value,
                    "test",
                    Guid.CreateVersion7()
                )
            );
        }
        (await context.Stations.FirstAsync(s => s.Code == "oven-1")).TakeDown(now.AddHours(6));
        var bo = await context.People.FirstAsync(p => p.Code == "bo");
        Assert.True(bo.Change(bo.Name, bo.Can, [.. bo.Shifts.Where(s => s.Day != DayOfWeek.Wednesday)], true).IsOk);
        await context.SaveChangesAsync();
        return (waiting[0].Code, waiting[1].Code);
    }

    private static async Task PublishAsync(TestShop shop)
    {
        ShopSnapshot snapshot;
        await using (var context = await shop.ContextAsync())
            snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), CancellationToken.None);
        var day = DayFromShop.Make(snapshot);
        var bytes = DayWriter.Write(day);
        var plan = DayPlanner.First(day, Fingerprint.Sha256(bytes));
        var input = new PlanInput(
            snapshot.Now,
            snapshot.Journal,
            Encoding.UTF8.GetString(bytes),
            Encoding.UTF8.GetString(PlanWriter.Write(plan)),
            "test"
        );
        var done = await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input);
        Assert.True(done.IsOk, done.IsOk ? "" : done.Refusals[0].Text);
    }
}
