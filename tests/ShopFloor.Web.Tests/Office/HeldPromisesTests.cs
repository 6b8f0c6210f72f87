using System.Text;
using Bunit;
using ShopFloor.Data;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Who changes hours is told which promises no longer hold, as soon as a plan knows the hours.</summary>
public sealed class HeldPromisesTests
{
    [Fact]
    public async Task DaysClosed_ThePlanBeforeSaysNothingAndTheNextOneWhatBreaks()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        await PublishAsync(shop);
        var before = await shop.Get<HeldPromisesView>().LoadAsync();
        Assert.True(before.IsPlanned);
        Assert.True(before.Kept > 0);
        await using var page = TestPage.Of(shop);
        var open = page.Render<PeoplePage>(p => p.AddCascadingValue(TestPage.Session(owner)));
        open.WaitForElement("#closedFrom");
        Assert.Empty(open.FindAll("#held-promises"));

        var today = (await shop.Get<PeopleView>().LoadAsync()).Today;
        var form = open.FindComponent<ClosedForm>();
        await form.Find("#closedFrom").ChangeAsync(today.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await form.Find("#closedTo").ChangeAsync(today.AddDays(50).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await form.Find("#closedWhy").ChangeAsync("Flood");
        await form.Find("form").SubmitAsync();
        open.WaitForAssertion(() => Assert.Contains("being made anew", open.Find("#held-promises").TextContent, StringComparison.Ordinal));
        Assert.False((await shop.Get<HeldPromisesView>().LoadAsync()).IsPlanned);

        await PublishAsync(shop);
        var after = await shop.Get<HeldPromisesView>().LoadAsync();
        var fresh = after.Broken.Select(p => p.Number).Except(before.Broken.Select(p => p.Number)).ToList();
        Assert.NotEmpty(fresh);
        await open.FindComponent<HeldPromisesNotice>().InvokeAsync(() => open.FindComponent<HeldPromisesNotice>().Instance.LoadAsync());
        open.FindComponent<HeldPromisesNotice>().Render();
        open.WaitForAssertion(() => Assert.Contains("no longer hold", open.Find("#held-promises").TextContent, StringComparison.Ordinal));
        Assert.NotNull(open.Find($"#held-promises a[href='office/orders/{fresh[0]}']"));
        var sheet = await shop.Get<TodayView>().LoadAsync();
        var shown = sheet.Late.Concat(sheet.Promises.Where(p => p.IsInDanger)).Concat(sheet.InDanger).Select(p => p.Number);
        Assert.Equal(shown.Order(), after.Broken.Select(p => p.Number).Order());
    }

    [Fact]
    public async Task LongerDay_BreaksNoFurtherPromise()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        await PublishAsync(shop);
        var before = (await shop.Get<HeldPromisesView>().LoadAsync()).Broken;
        var day = (await shop.Get<PeopleView>().LoadAsync()).Today.AddDays(6);
        var hours = new Domain.Stations.DayHours(
            "",
            day,
            [new Domain.Stations.Shift(day.DayOfWeek, new(6, 0), new(22, 0), new(22, 0))],
            ""
        );
        Assert.True((await shop.Get<ChangeCalendar>().RunAsync(Asked.By(owner), new CalendarChange(Hours: hours))).IsOk);
        Assert.False((await shop.Get<HeldPromisesView>().LoadAsync()).IsPlanned);
        await PublishAsync(shop);
        var after = await shop.Get<HeldPromisesView>().LoadAsync();
        Assert.True(after.IsPlanned);
        Assert.Empty(after.Broken.Select(p => p.Number).Except(before.Select(p => p.Number)));
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
