using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.SignIns;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Tests.Support;
using static ShopFloor.Web.Tests.Office.MeanwhilePages;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Somebody else was first on an item, a person or a printer: the second save goes through without opening the page anew.</summary>
public sealed class MeanwhileOthersTests
{
    [Fact]
    public async Task Item_ChangedMeanwhile_IsReadAnewAndTheSecondSaveGoesThrough()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var page = Page(shop);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var view = shop.Get<StockDetailView>();
        page.Services.AddSingleton(view);
        page.Services.AddSingleton(shop.Get<SettingsView>());
        page.Services.AddSingleton(shop.Get<KeepItem>());
        page.Services.AddSingleton(shop.Get<PriceItem>());
        page.Services.AddSingleton(shop.Get<MoveItem>());
        var code = (await shop.Get<StockView>().LoadAsync()).Items[0].Code;
        var open = Open<ItemPage>(page, owner, ("Code", code));
        var other = new ItemForm(await view.ItemAsync(code), "EUR") { Name = "Renamed" };
        other.Numbers["leadDays"] = "9";
        Assert.True((await shop.Get<KeepItem>().RunAsync(Asked.By(owner), other.Read().Value)).IsOk);

        await open.Find("#name").ChangeAsync("My name");
        await Form(open).SubmitAsync();
        Assert.Equal(("My name", "9"), (Value(open, "name"), Value(open, "leadDays")));
        Assert.Contains("now Renamed", open.Find(".notice.warn").TextContent, StringComparison.Ordinal);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await Form(open).SubmitAsync();
        var saved = (await view.ItemAsync(code))!.Facts;
        Assert.Equal(("My name", 9), (saved.Name, saved.LeadDays));
    }

    [Fact]
    public async Task SignIn_TakenAwayMeanwhile_StaysTakenAwayWhenAnotherPageSavesItsName()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var page = Page(shop);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var facts = new SignInFacts("Runa", WorkerRole.Bench, "", true);
        var id = (await shop.Get<GiveSignIn>().RunAsync(Asked.By(owner), new NewSignIn("runa", facts), "seven grey herons")).Value;
        var open = Open<OneSignInPage>(page, owner, ("Id", id.ToString()));
        var away = new SignInChange(id, facts, facts with { IsActive = false }, false);
        Assert.True((await shop.Get<ChangeSignIn>().RunAsync(Asked.By(owner), away)).IsOk);

        await open.Find("#Display").ChangeAsync("Runa B");
        await open.Find("form").SubmitAsync();
        Assert.Contains("Somebody else changed", open.Find(".faults").TextContent, StringComparison.Ordinal);
        Assert.Contains("May sign in: now no, before yes", open.Find(".notice.warn").TextContent, StringComparison.Ordinal);
        Assert.Equal("Runa B", Value(open, "Display"));
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await open.Find("form").SubmitAsync();
        Assert.Empty(open.FindAll(".faults, .notice.warn"));
        var saved = (await shop.Get<SignInView>().LoadAsync()).Rows.Single(r => r.Id == id).Facts;
        Assert.Equal(facts with { Display = "Runa B", IsActive = false }, saved);
    }

    [Fact]
    public async Task Person_ChangedMeanwhile_IsReadAnewAndTheSecondSaveGoesThrough()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var page = Page(shop);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var view = shop.Get<PeopleView>();
        page.Services.AddSingleton(view);
        page.Services.AddSingleton(shop.Get<KeepPerson>());
        var row = (await view.LoadAsync()).People[0];
        var open = Open<PersonPage>(page, owner, ("Code", row.Code));
        var other = new PersonForm(row) { Name = "Renamed" };
        (other.Days[0].From, other.Days[0].To, other.Days[6].From, other.Days[6].To) = ("06:15", "12:00", "10:00", "11:00");
        other.Can[StationKind.Press] = !other.Can[StationKind.Press];
        Assert.True((await shop.Get<KeepPerson>().RunAsync(Asked.By(owner), other.Read().Value)).IsOk);

        await open.Find("#name").ChangeAsync("My name");
        await open.Find("[aria-label='Monday: from']").ChangeAsync("07:45");
        await open.Find("form").SubmitAsync();
        Assert.Contains("now Renamed", open.Find(".notice.warn").TextContent, StringComparison.Ordinal);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await open.Find("form").SubmitAsync();
        Assert.Empty(open.FindAll(".faults, .notice.warn"));
        var saved = (await view.LoadAsync()).People.Single(p => p.Code == row.Code);
        Assert.Equal("My name", saved.Name);
        Assert.Equal(!row.Can.Contains(StationKind.Press), saved.Can.Contains(StationKind.Press));
        Assert.Equal(new TimeOnly(7, 45), saved.Shifts.Where(s => s.Day == DayOfWeek.Monday).Min(s => s.From));
        Assert.Equal(new TimeOnly(10, 0), saved.Shifts.Single(s => s.Day == DayOfWeek.Sunday).From);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Calibration_ChangedMeanwhile_CanBeSavedAgainWhileThePageIsPrintedTheSame(bool isRescaled)
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var page = Page(shop);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var view = shop.Get<CalibrationView>();
        page.Services.AddSingleton(view);
        page.Services.AddSingleton(shop.Get<CalibratePrinter>());
        var open = Open<CalibratePage>(page, owner, ("Code", "printer-1"));
        var row = (await shop.Get<StationListView>().LoadAsync()).First(s => s.Code == "printer-1");
        var printer = (PrinterSettings)row.Settings;
        var other = isRescaled ? printer with { ScaleX = printer.ScaleX * 1.01m } : printer;
        var change = new StationInput(row.Id, row.Version, "Renamed", other, null, true);
        Assert.True((await shop.Get<ChangeStation>().RunAsync(Asked.By(owner), change)).IsOk);

        var should = (await view.LoadAsync("printer-1"))!.Papers[0];
        await open.Find("#across").ChangeAsync((should.AcrossMm - 1).ToString("0.0", CultureInfo.CurrentCulture));
        await open.Find("#along").ChangeAsync(should.AlongMm.ToString("0.0", CultureInfo.CurrentCulture));
        await open.Find("form").SubmitAsync();
        Assert.Equal(isRescaled, open.Markup.Contains("print it once more and measure that one", StringComparison.Ordinal));
        Assert.Equal(isRescaled, string.IsNullOrEmpty(Value(open, "across")));
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await open.Find("form").SubmitAsync();
        var saved = (await view.LoadAsync("printer-1"))!.ScaleX;
        Assert.Equal(isRescaled, saved == other.ScaleX);
    }
}
