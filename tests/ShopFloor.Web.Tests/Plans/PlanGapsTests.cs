using System.Text;
using Bunit;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Plans;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;
using ShopFloor.Web.Wall.Parts;
using ShopFloor.Web.Wall.Reading;
using Finish = ShopFloor.Domain.Recipes.Finish;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>What is booked and stands in no plan is said where somebody looks for it, with the reason.</summary>
public sealed class PlanGapsTests
{
    [Fact]
    public async Task Load_NothingHereYet_TellsTheCustomersPiecesFromBlanksThatWaitToBeLaidOut()
    {
        await using var bench = await BenchShop.OpenAsync(2);
        await bench.BookAsync(3, own: true, Finish.WhiteGround, "al");

        var gaps = await bench.Shop.Get<PlanGapsView>().LoadAsync();

        Assert.Equal([(0, 2), (3, 0)], gaps.NotHere.Select(r => (r.Own, r.Blanks)));
        Assert.Equal(gaps.NotHere, (await bench.Shop.Get<TodayView>().LoadAsync()).Gaps.NotHere);
        await using var page = TestPage.Plain();
        var said = page.Render<GapsNotice>(p => p.Add(n => n.Gaps, gaps));
        var (own, blanks) = (gaps.NotHere[1].Order, gaps.NotHere[0].Order);
        Assert.Contains("3 pieces are booked and not here yet", said.Find(".not-here").TextContent, StringComparison.Ordinal);
        Assert.NotNull(said.Find($".not-here a[href='office/orders/{own}']"));
        Assert.NotNull(said.Find($".lay-out a[href='office/orders/{blanks}']"));
        Assert.Contains("lay them out at the Bench", said.Find(".lay-out").TextContent, StringComparison.Ordinal);

        BenchShop.Must(await bench.ReceiveAsync());
        Assert.Equal([(3, 0)], (await bench.Shop.Get<PlanGapsView>().LoadAsync()).NotHere.Select(r => (r.Own, r.Blanks)));
    }

    [Fact]
    public async Task Load_NoCoatingLeft_SaysHowManyPiecesOfWhichOrdersAndWhatPromiseIsInDanger()
    {
        await using var bench = await BenchShop.OpenAsync(2);
        BenchShop.Must(await bench.ReceiveAsync());
        var other = await bench.BookAsync(1, own: true, Finish.WhiteGround, "al");
        BenchShop.Must(await bench.Shop.Get<ReceivePieces>().RunAsync(bench.Ask(), new Target(other)));
        await using (var context = await bench.Shop.ContextAsync())
        {
            var clear = await context.Coatings.SingleAsync(c => c.Name == "Clear coat");
            await context.Cans.Where(c => c.Coating == clear.Id).ExecuteDeleteAsync();
            foreach (var order in await context.Orders.ToListAsync())
                order.Promise(bench.Shop.Clock.GetUtcNow().AddDays(9));
            await context.SaveChangesAsync();
        }
        await PublishAsync(bench.Shop);

        var today = await bench.Shop.Get<TodayView>().LoadAsync();

        var cannot = Assert.Single(today.Gaps.Cannot);
        Assert.Equal(("Clear coat", 3), (cannot.Coating, cannot.Pieces));
        Assert.Equal(2, cannot.Orders.Count);
        Assert.Equal(cannot.Orders, today.InDanger.Select(p => p.Number).Order());
        Assert.All(today.InDanger, p => Assert.Equal("no coating", p.LeftOut));
        await using var page = TestPage.Plain();
        var said = page.Render<GapsNotice>(p => p.Add(n => n.Gaps, today.Gaps)).Find(".cannot-plan").TextContent;
        Assert.Contains("3 pieces cannot be planned", said, StringComparison.Ordinal);
        Assert.Contains("no Clear coat", said, StringComparison.Ordinal);
        var plan = (await bench.Shop.Get<PlanShelf>().LatestAsync())!.Plan.LeftOut;
        Assert.Single(plan.Select(l => l.Coating).Distinct());
        Assert.NotNull(plan[0].Coating);
    }

    [Fact]
    public async Task Wall_PiecesHereThatCannotBePlanned_AreCountedWithTheirReasonsAndNothingStandsThereElse()
    {
        await using var bench = await BenchShop.OpenAsync(2);
        BenchShop.Must(await bench.ReceiveAsync());
        await bench.BookAsync(3, own: true, Finish.WhiteGround, "al");
        await using (var context = await bench.Shop.ContextAsync())
        {
            var clear = await context.Coatings.SingleAsync(c => c.Name == "Clear coat");
            await context.Cans.Where(c => c.Coating == clear.Id).ExecuteDeleteAsync();
        }
        await PublishAsync(bench.Shop);
        var (contexts, plans) = (bench.Shop.Get<IDbContextFactory<ShopContext>>(), bench.Shop.Get<PlanShelf>());
        var notifier = bench.Shop.Get<Notifier>();
        using var work = new SharedWork(
            contexts,
            bench.Shop.Clock,
            plans,
            new PlanHistory(contexts, plans),
            new PlanDesk(notifier),
            notifier
        );
        await using var page = TestPage.Plain();

        var gaps = WallSheet.Of(await work.ReadAsync(), bench.Shop.Clock.GetUtcNow(), []).Gaps;

        Assert.Equal([new WallGap("", "Clear coat", 2, true), new WallGap(WallGap.NotHere, null, 3, false)], gaps);
        var line = page.Render<GapLine>(p => p.Add(l => l.Gaps, gaps)).Find("p");
        Assert.Equal("5 pieces in no plan: no Clear coat (2), not here yet (3)", line.TextContent);
        Assert.Contains("behind", line.ClassList);
        Assert.Equal("", page.Render<GapLine>(p => p.Add(l => l.Gaps, [gaps[1]])).Markup);
        Assert.Equal("2 pieces in no plan: no Clear coat", page.Render<GapLine>(p => p.Add(l => l.Gaps, [gaps[0]])).Find("p").TextContent);
        Assert.Equal("", page.Render<GapLine>(p => p.Add(l => l.Gaps, [])).Markup);
    }

    [Fact]
    public void Planner_EmptyDay_SaysNothingOfRounds()
    {
        using var page = TestPage.Plain();
        var status = new PlannerStatus(PlannerState.Improving, 0, 0, 0, 0, "");
        var said = page.Render<PlannerWord>(p => p.Add(w => w.Status, status)).Markup;
        Assert.DoesNotContain("0 of 0", said, StringComparison.Ordinal);
    }

    private static async Task PublishAsync(TestShop shop)
    {
        ShopSnapshot snapshot;
        await using (var context = await shop.ContextAsync())
            snapshot = await ShopSnapshot.ReadAsync(context, shop.Clock.GetUtcNow(), CancellationToken.None);
        var day = DayFromShop.Make(snapshot);
        var bytes = DayWriter.Write(day);
        var plan = Encoding.UTF8.GetString(PlanWriter.Write(DayPlanner.First(day, Fingerprint.Sha256(bytes))));
        var input = new PlanInput(snapshot.Now, snapshot.Journal, Encoding.UTF8.GetString(bytes), plan, "test");
        var done = await shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input);
        Assert.True(done.IsOk, string.Join(' ', done.Refusals.Select(r => r.Text)));
    }
}
