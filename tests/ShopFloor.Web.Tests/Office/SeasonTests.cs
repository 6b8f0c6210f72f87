using Bunit;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Start;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Seasons;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The owner names a season and its two days; what cannot be is refused at its field.</summary>
public sealed class SeasonTests
{
    [Fact]
    public async Task Enter_DayOnWhichTheShopIsClosed_IsRefusedWithTheReason()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var today = (await shop.Get<SeasonsView>().LoadAsync()).Today;
        var close = new CalendarChange(new ClosedDay(today.AddDays(20), "Fair"));
        Assert.True((await shop.Get<ChangeCalendar>().RunAsync(Asked.By(owner), close)).IsOk);
        var refusal = Assert.Single((await KeepAsync(shop, owner, Named("Spring", today, 10, 20))).Refusals);
        Assert.Equal("HandOverBy", refusal.Field);
        Assert.Contains("Fair", refusal.Text, StringComparison.Ordinal);
        Assert.True((await KeepAsync(shop, owner, Named("Spring", today, 10, 19))).IsOk);
    }

    [Fact]
    public async Task Enter_SameNameAgain_ReplacesItAndWhatIsOverGoes()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var today = (await shop.Get<SeasonsView>().LoadAsync()).Today;
        Assert.True((await KeepAsync(shop, owner, Named("Christmas", today, 5, 20))).IsOk);
        Assert.True((await KeepAsync(shop, owner, Named(" christmas ", today, 7, 21))).IsOk);
        Assert.Equal(today.AddDays(7), Assert.Single((await shop.Get<SeasonsView>().LoadAsync()).All).LastDay);
        Assert.Equal(
            "no-right",
            Assert.Single((await KeepAsync(shop, await shop.WorkerAsync(WorkerRole.Bench), Named("x", today, 1, 2))).Refusals).Code
        );
        shop.Clock.Advance(TimeSpan.FromDays(22));
        Assert.Empty((await shop.Get<SeasonsView>().LoadAsync()).All);
    }

    [Fact]
    public async Task Page_DaysTyped_StandInTheListAreChangedAndTakenOut()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var today = (await shop.Get<SeasonsView>().LoadAsync()).Today;
        await using var page = TestPage.Of(shop);
        var open = page.Render<SeasonsPage>(p => p.AddCascadingValue(TestPage.Session(owner)));
        open.WaitForElement("#LastDay");
        await open.Find("#Name").ChangeAsync("Christmas");
        await open.Find("#German").ChangeAsync("Weihnachten");
        await open.Find("form").SubmitAsync();
        Assert.Contains("Choose the day.", open.Markup, StringComparison.Ordinal);
        await open.Find("#LastDay").ChangeAsync(Typed(today.AddDays(21)));
        await open.Find("#HandOverBy").ChangeAsync(Typed(today.AddDays(20)));
        await open.Find("form").SubmitAsync();
        open.WaitForAssertion(() =>
            Assert.Contains("cannot be taken after", open.Find("#LastDay-fault").TextContent, StringComparison.Ordinal)
        );
        await open.Find("#LastDay").ChangeAsync(Typed(today.AddDays(10)));
        await open.Find("form").SubmitAsync();
        open.WaitForAssertion(() => Assert.Contains("Christmas (Weihnachten)", open.Find("tbody").TextContent, StringComparison.Ordinal));
        await open.Find("button[aria-label='Change Christmas']").ClickAsync();
        Assert.Equal(Typed(today.AddDays(10)), open.Find("#LastDay").GetAttribute("value"));
        await open.Find("button[aria-label='Take out Christmas']").ClickAsync();
        open.WaitForAssertion(() => Assert.Contains("No season is entered.", open.Markup, StringComparison.Ordinal));
    }

    [Fact]
    public async Task FirstPageOfTheCounter_NearASeason_SaysUntilWhenAndThenUntilWhenItWas()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var today = (await shop.Get<SeasonsView>().LoadAsync()).Today;
        Assert.True((await KeepAsync(shop, owner, Named("Christmas", today, 57, 70))).IsOk);
        async Task<string> SaidAsync()
        {
            await using var page = TestPage.Of(shop);
            return page.Render<SeasonLines>().Markup;
        }
        Assert.DoesNotContain("Christmas", await SaidAsync(), StringComparison.Ordinal);
        shop.Clock.Advance(TimeSpan.FromDays(1));
        Assert.Contains("For Christmas we take orders until", await SaidAsync(), StringComparison.Ordinal);
        shop.Clock.Advance(TimeSpan.FromDays(57));
        Assert.Contains("We took orders for Christmas until", await SaidAsync(), StringComparison.Ordinal);
        shop.Clock.Advance(TimeSpan.FromDays(13));
        Assert.DoesNotContain("Christmas", await SaidAsync(), StringComparison.Ordinal);
    }

    private static string Typed(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static Season Named(string name, DateOnly today, int last, int by) => new(name, today.AddDays(last), today.AddDays(by));

    private static Task<Result<Done>> KeepAsync(TestShop shop, Guid owner, Season season) =>
        shop.Get<ChangeSeasons>().RunAsync(Asked.By(owner), new SeasonChange(season));
}
