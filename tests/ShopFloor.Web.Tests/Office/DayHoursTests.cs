using Bunit;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Insight;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Hours of one single day stand in place of those of the week, on that day alone.</summary>
public sealed class DayHoursTests
{
    [Fact]
    public async Task HalfDay_ForEverybody_PlanPromisesAndInsightFollowOnThatDayAlone()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var (owner, day) = (await bench.Shop.WorkerAsync(WorkerRole.Owner), await TomorrowAsync(bench));
        var before = await SnapshotAsync(bench);
        await ChangeAsync(bench, owner, new CalendarChange(Hours: Half("", day)));

        var after = await SnapshotAsync(bench);
        foreach (var person in after.People)
            Assert.Equal(4 * 3600, SecondsOn(after, person, day));
        Assert.Equal(At(before, day.AddDays(7)), At(after, day.AddDays(7)));
        Assert.Equal(DayTimes.Utc(day, new TimeOnly(12, 0), after.Settings.Zone), At(after, day));
        bench.Shop.Clock.Advance(TimeSpan.FromDays(3));
        var hours = (await bench.Shop.Get<InsightView>().LoadAsync(null)).This.OpenHours;
        await ChangeAsync(bench, owner, new CalendarChange(Usual: after.Settings.DayHours));
        // Ada and Bo together cover 7 to 19 h.
        Assert.Equal(hours + 8, (await bench.Shop.Get<InsightView>().LoadAsync(null)).This.OpenHours);
    }

    [Fact]
    public async Task LaterStart_OfOne_LeavesTheOthersAsTheyWere()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var (owner, day) = (await bench.Shop.WorkerAsync(WorkerRole.Owner), await TomorrowAsync(bench));
        var before = await SnapshotAsync(bench);
        await ChangeAsync(bench, owner, new CalendarChange(Hours: Half("ada", day)));
        var after = await SnapshotAsync(bench);
        Assert.Equal(4 * 3600, SecondsOn(after, after.People.Single(p => p.Code == "ada"), day));
        foreach (var other in after.People.Where(p => p.Code != "ada"))
            Assert.Equal(SecondsOn(before, other, day), SecondsOn(after, other, day));

        // Whoever is away or has a closed day works no hours of that day either.
        await ChangeAsync(bench, owner, new CalendarChange(Away: new Absence("ada", day, day, "")));
        var away = await SnapshotAsync(bench);
        Assert.Equal(0, SecondsOn(away, away.People.Single(p => p.Code == "ada"), day));
    }

    [Fact]
    public async Task Hours_OnAFreeDay_BringSomebodyIn()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var (owner, day) = (await bench.Shop.WorkerAsync(WorkerRole.Owner), await TomorrowAsync(bench));
        await using (var context = await bench.Shop.ContextAsync())
        {
            foreach (var person in await context.People.ToListAsync())
                Assert.True(person.Change(person.Name, person.Can, [.. person.Shifts.Where(s => s.Day != day.DayOfWeek)], true).IsOk);
            await context.SaveChangesAsync();
        }
        var everybody = await RunAsync(bench, owner, new CalendarChange(Hours: Half("", day)));
        Assert.Equal("nobody", Assert.Single(everybody.Refusals).Code);
        await ChangeAsync(bench, owner, new CalendarChange(Hours: Half("ada", day)));
        var after = await SnapshotAsync(bench);
        Assert.Equal(4 * 3600, SecondsOn(after, after.People.Single(p => p.Code == "ada"), day));
    }

    [Fact]
    public async Task Hours_ThatCannotBe_AreRefusedAtTheirFields()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var (owner, day) = (await bench.Shop.WorkerAsync(WorkerRole.Owner), await TomorrowAsync(bench));
        async Task<string?> FieldAsync(DayHours hours) =>
            (await RunAsync(bench, owner, new CalendarChange(Hours: hours))).Refusals.Select(r => r.Field).FirstOrDefault();
        Shift Of(int from, int to) => new(day.DayOfWeek, new(from, 0), new(to, 0), new(to, 0));
        Assert.Equal("hours", await FieldAsync(new DayHours("ada", day, [], "")));
        Assert.Equal("hours", await FieldAsync(new DayHours("ada", day, [Of(12, 8)], "")));
        Assert.Equal("hours", await FieldAsync(new DayHours("ada", day, [Of(8, 12), Of(11, 15)], "")));
        Assert.Equal("hours", await FieldAsync(Half("ada", day) with { Day = day.AddDays(1) }));
        Assert.Equal("hoursWhy", await FieldAsync(Half("ada", day) with { Reason = new string('x', 61) }));
        Assert.Equal("hoursDay", await FieldAsync(Half("ada", day.AddDays(-7))));
        Assert.Equal("hoursWho", await FieldAsync(Half("nobody", day)));
        await ChangeAsync(bench, owner, new CalendarChange(Away: new Absence("ada", day, day, "")));
        Assert.Equal("hoursWho", await FieldAsync(Half("ada", day)));
        await ChangeAsync(bench, owner, new CalendarChange(new ClosedDay(day, "Fair")));
        Assert.Equal("hoursDay", await FieldAsync(Half("bo", day)));
        Assert.Empty((await bench.Shop.Get<PeopleView>().LoadAsync()).Hours);
    }

    [Fact]
    public async Task Form_HoursTyped_StandInTheListAndAreTakenOutAgain()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var (owner, day) = (await bench.Shop.WorkerAsync(WorkerRole.Owner), await TomorrowAsync(bench));
        await using var page = TestPage.Of(bench.Shop);
        var open = page.Render<PeoplePage>(p => p.AddCascadingValue(TestPage.Session(owner)));
        open.WaitForElement("#hoursDay");
        var form = open.FindComponent<DayHoursForm>();
        await form.Find("form").SubmitAsync();
        Assert.Contains("Choose the day.", form.Markup, StringComparison.Ordinal);
        await form.Find("#hoursDay").ChangeAsync(day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await form.Find("#hours").ChangeAsync("08:00");
        await form.Find("form").SubmitAsync();
        Assert.Contains("give begin and end", form.Markup, StringComparison.Ordinal);
        await form.Find("#hoursTo").ChangeAsync("12:00");
        await form.Find("#hoursOver").ChangeAsync("13:00");
        await form.Find("#hoursWhy").ChangeAsync("half day");
        await form.Find("form").SubmitAsync();
        form.WaitForAssertion(() => Assert.Contains("half day", form.Find("li").TextContent, StringComparison.Ordinal));
        var row = Assert.Single((await bench.Shop.Get<PeopleView>().LoadAsync()).Hours);
        Assert.Equal("08:00–12:00", row.Span(CultureInfo.InvariantCulture));
        Assert.Equal(new TimeOnly(13, 0), row.Overtime);
        Assert.True(row.Names.Count > 1);
        await form.Find("li button").ClickAsync();
        form.WaitForAssertion(() => Assert.Empty(form.FindAll("li")));
    }

    [Fact]
    public async Task Base_HoursOfAPlannedDayChanged_ThePublishedPlanIsNoneAnyMore()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var (owner, day) = (await bench.Shop.WorkerAsync(WorkerRole.Owner), await TomorrowAsync(bench));
        var before = await SnapshotAsync(bench);
        var planned = DayFromShop.Make(before);
        bench.Shop.Clock.Advance(TimeSpan.FromMinutes(7));
        Assert.True(PromiseBase.KnowsAll(planned, before.Now, await SnapshotAsync(bench)));
        await ChangeAsync(bench, owner, new CalendarChange(Hours: Half("ada", day)));
        Assert.False(PromiseBase.KnowsAll(planned, before.Now, await SnapshotAsync(bench)));
    }

    [Fact]
    public void Words_HoursChangedAndTakenOut_AreSaidByDay()
    {
        DayHours Of(int day, string who) => Half(who, new DateOnly(2026, 12, day));
        Assert.Equal(
            ["other hours from 23 December to 24 December", "usual hours again on 31 December"],
            ChangeWords.HoursOf([Of(24, "bo"), Of(31, "ada")], [Of(23, "ada"), Of(24, "bo"), Of(24, "ada")])
        );
    }

    private static DayHours Half(string person, DateOnly day) =>
        new(person, day, [new Shift(day.DayOfWeek, new(8, 0), new(12, 0), new(12, 0))], "half day");

    private static int SecondsOn(ShopSnapshot shop, Person person, DateOnly day)
    {
        var from = shop.Seconds(DayTimes.Utc(day, TimeOnly.MinValue, shop.Settings.Zone));
        return DayTimes.Shifts(person, shop, 14 * 86_400).Where(s => s.FromS >= from && s.ToS < from + 86_400).Sum(s => s.ToS - s.FromS);
    }

    private static DateTimeOffset? At(ShopSnapshot shop, DateOnly day) => PromiseRounding.CloseOf(day, shop.People, shop.Settings);

    private static async Task<DateOnly> TomorrowAsync(BenchShop bench) => (await bench.Shop.Get<PeopleView>().LoadAsync()).Today.AddDays(1);

    private static async Task<ShopSnapshot> SnapshotAsync(BenchShop bench)
    {
        await using var context = await bench.Shop.ContextAsync();
        return await ShopSnapshot.ReadAsync(context, bench.Shop.Clock.GetUtcNow(), default);
    }

    private static Task<Domain.Result<Domain.Done>> RunAsync(BenchShop bench, Guid owner, CalendarChange change) =>
        bench.Shop.Get<ChangeCalendar>().RunAsync(Asked.By(owner), change);

    private static async Task ChangeAsync(BenchShop bench, Guid owner, CalendarChange change)
    {
        var done = await RunAsync(bench, owner, change);
        Assert.True(done.IsOk, done.IsOk ? "" : done.Refusals[0].Text);
    }
}
