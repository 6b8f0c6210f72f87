using System.Security.Claims;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Tests.Support;

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

        open.Find("#name").Change("My name");
        await Form(open).SubmitAsync();
        Assert.Equal(("My name", "9"), (Value(open, "name"), Value(open, "leadDays")));
        Assert.Contains("now Renamed", open.Find(".notice.warn").TextContent, StringComparison.Ordinal);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await Form(open).SubmitAsync();
        var saved = (await view.ItemAsync(code))!.Facts;
        Assert.Equal(("My name", 9), (saved.Name, saved.LeadDays));
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

        open.Find("#name").Change("My name");
        open.Find("[aria-label='Monday: from']").Change("07:45");
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
        open.Find("#across").Change((should.AcrossMm - 1).ToString("0.0", CultureInfo.CurrentCulture));
        open.Find("#along").Change(should.AlongMm.ToString("0.0", CultureInfo.CurrentCulture));
        await open.Find("form").SubmitAsync();
        Assert.Equal(isRescaled, open.Markup.Contains("print it once more and measure that one", StringComparison.Ordinal));
        Assert.Equal(isRescaled, string.IsNullOrEmpty(Value(open, "across")));
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await open.Find("form").SubmitAsync();
        var saved = (await view.LoadAsync("printer-1"))!.ScaleX;
        Assert.Equal(isRescaled, saved == other.ScaleX);
    }

    private static BunitContext Page(TestShop shop)
    {
        var page = new BunitContext();
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        page.Services.AddLocalization();
        page.Services.AddSingleton<TimeProvider>(shop.Clock);
        return page;
    }

    private static IRenderedComponent<T> Open<T>(BunitContext page, Guid owner, (string Name, object Value) with)
        where T : IComponent
    {
        var who = new ClaimsPrincipal(new ClaimsIdentity([new Claim(ClaimTypes.NameIdentifier, owner.ToString())], "test"));
        var open = page.Render<T>(p =>
        {
            p.TryAdd(with.Name, with.Value);
            p.AddCascadingValue(Task.FromResult(new AuthenticationState(who)));
        });
        open.WaitForElement("form");
        return open;
    }

    private static AngleSharp.Dom.IElement Form<T>(IRenderedComponent<T> open)
        where T : IComponent => open.FindAll("form").Single(f => f.QuerySelector("#name") is not null);

    private static string? Value<T>(IRenderedComponent<T> open, string field)
        where T : IComponent => open.Find($"#{field}").GetAttribute("value");
}
