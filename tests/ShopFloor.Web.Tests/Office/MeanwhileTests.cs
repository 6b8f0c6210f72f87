using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Customers;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Tests.Support;
using static ShopFloor.Web.Tests.Office.MeanwhilePages;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Somebody else was first: the page reads anew, keeps what was entered, says what changed and can be saved.</summary>
public sealed class MeanwhileTests
{
    [Fact]
    public async Task Station_ChangedMeanwhile_IsReadAnewAndTheSecondSaveGoesThrough()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var page = Page(shop);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        page.Services.AddSingleton(shop.Get<StationListView>());
        page.Services.AddSingleton(shop.Get<ChangeStation>());
        page.Services.AddSingleton(shop.Get<SettingsView>());
        var open = Open<StationPage>(page, owner, ("Code", "oven-1"));
        var row = (await shop.Get<StationListView>().LoadAsync()).First(s => s.Code == "oven-1");
        var other = (OvenSettings)row.Settings with { HeatingPerMinute = 3.5m, VolumeLitres = 71 };
        Assert.True(
            (
                await shop.Get<ChangeStation>()
                    .RunAsync(Asked.By(owner), new StationInput(row.Id, row.Version, row.Name, other, null, true))
            ).IsOk
        );

        await open.Find("#heating").ChangeAsync("4.5");
        await open.Find("#name").ChangeAsync("Small oven");
        await open.Find("form").SubmitAsync();
        Assert.Contains("Somebody else changed", open.Find(".faults").TextContent, StringComparison.Ordinal);
        Assert.Equal(("4.5", "Small oven", "71"), (Value(open, "heating"), Value(open, "name"), Value(open, "volume")));
        Assert.Equal(
            [true, false],
            open.FindAll(".notice.warn li").Select(l => l.TextContent.Contains("Your entry stays", StringComparison.Ordinal))
        );
        Assert.Contains("Inner volume: now 71, before", open.Find(".notice.warn").TextContent, StringComparison.Ordinal);

        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await open.Find("form").SubmitAsync();
        Assert.Empty(open.FindAll(".faults, .notice.warn"));
        var saved = (await shop.Get<StationListView>().LoadAsync()).First(s => s.Code == "oven-1");
        Assert.Equal("Small oven", saved.Name);
        Assert.Equal((4.5m, 71m), (((OvenSettings)saved.Settings).HeatingPerMinute, ((OvenSettings)saved.Settings).VolumeLitres));
    }

    [Fact]
    public async Task StationForm_ShelvesChangedHereAndElsewhere_KeepsTheNumberOfThisForm()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var row = (await shop.Get<StationListView>().LoadAsync()).First(s => s.Code == "oven-1");
        var oven = (OvenSettings)row.Settings;
        var form = new StationForm(row);
        form.AddShelf();
        form.Numbers["shelf-0-width"] = "321";
        var taller = oven with { Shelves = [.. oven.Shelves.Select(s => s with { Clear = Length.FromMillimetres(99) })] };
        var now = row with { Settings = taller, Version = row.Version + 1, DownUntil = shop.Clock.GetUtcNow().AddHours(3) };

        var followed = form.Follow(now, shop.Clock.GetUtcNow());

        var read = followed.Read(shop.Clock.GetUtcNow()).Value;
        var shelves = ((OvenSettings)read.Settings).Shelves;
        Assert.Equal((oven.Shelves.Count + 1, 321m, 99m), (shelves.Count, shelves[0].Width.Millimetres, shelves[0].Clear.Millimetres));
        Assert.Equal((now.Version, now.DownUntil), (read.SeenVersion, read.DownUntil));
        Assert.All(followed.Meanwhile, f => Assert.False(f.IsOwn));
    }

    [Fact]
    public async Task StationForm_PapersOfAPrinter_StayWhereTheyWereEntered()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var row = (await shop.Get<StationListView>().LoadAsync()).First(s => s.Code == "printer-1");
        var printer = (PrinterSettings)row.Settings;
        var form = new StationForm(row);
        form.Printer!.Add("A5");
        var followed = form.Follow(row with { Settings = printer with { DriverMirrors = !printer.DriverMirrors } }, shop.Clock.GetUtcNow());
        Assert.Equal("A5", followed.Printer!.Papers[^1].Name);
        Assert.Equal(!printer.DriverMirrors, followed.Printer.DriverMirrors);
        Assert.False(Assert.Single(followed.Meanwhile).IsOwn);
    }

    [Fact]
    public async Task Coating_ChangedMeanwhile_IsReadAnewAndTheSecondSaveGoesThrough()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var page = Page(shop);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        page.Services.AddSingleton(shop.Get<StockView>());
        page.Services.AddSingleton(shop.Get<ChangeCoating>());
        page.Services.AddSingleton(shop.Get<PriceCoating>());
        var row = (await shop.Get<StockView>().LoadAsync()).Coatings[0];
        var open = Open<CoatingPage>(page, owner, ("Code", row.Code));
        var other = new CoatingInput(row.Id, row.Version, "Renamed", row.Settings);
        Assert.True((await shop.Get<ChangeCoating>().RunAsync(Asked.By(owner), other)).IsOk);

        await open.Find("#name").ChangeAsync("My name");
        await Form(open).SubmitAsync();
        Assert.Equal("My name", Value(open, "name"));
        Assert.Contains("now Renamed", open.Find(".notice.warn").TextContent, StringComparison.Ordinal);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await Form(open).SubmitAsync();
        Assert.Equal("My name", (await shop.Get<StockView>().LoadAsync()).Coatings.Single(c => c.Id == row.Id).Name);
    }

    [Fact]
    public async Task Coating_PriceEnteredBeside_KeepsWhatIsTypedAndCanBeSaved()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var page = Page(shop);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        page.Services.AddSingleton(shop.Get<StockView>());
        page.Services.AddSingleton(shop.Get<ChangeCoating>());
        page.Services.AddSingleton(shop.Get<PriceCoating>());
        var row = (await shop.Get<StockView>().LoadAsync()).Coatings[0];
        var open = Open<CoatingPage>(page, owner, ("Code", row.Code));
        await open.Find("#name").ChangeAsync("My name");
        // A price that is refused leaves the page alone, one that is entered changes only what is beside the form.
        await PriceForm(open).SubmitAsync();
        Assert.Equal("My name", Value(open, "name"));
        await open.Find("#price").ChangeAsync("19.50");
        await PriceForm(open).SubmitAsync();
        open.WaitForAssertion(() => Assert.Contains("19.50", open.Find("table").TextContent, StringComparison.Ordinal));
        Assert.Equal("My name", Value(open, "name"));
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await Form(open).SubmitAsync();
        open.WaitForAssertion(() => Assert.Empty(open.FindAll(".faults")));
        Assert.Equal("My name", (await shop.Get<StockView>().LoadAsync()).Coatings.Single(c => c.Id == row.Id).Name);
    }

    [Fact]
    public async Task Item_DeliveryAndPriceEnteredBeside_KeepWhatIsTypedAndCanBeSaved()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var page = Page(shop);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        page.Services.AddSingleton(shop.Get<StockDetailView>());
        page.Services.AddSingleton(shop.Get<SettingsView>());
        page.Services.AddSingleton(shop.Get<KeepItem>());
        page.Services.AddSingleton(shop.Get<PriceItem>());
        page.Services.AddSingleton(shop.Get<MoveItem>());
        var open = Open<ItemPage>(page, owner, ("Code", "plate-100x60"));
        await open.Find("#name").ChangeAsync("My plate");
        await open.Find("#amount").ChangeAsync("12");
        await open.FindAll("button").First(b => b.TextContent.Contains("Came in", StringComparison.Ordinal)).ClickAsync(new());
        open.WaitForAssertion(() => Assert.Contains("Booked:", open.Markup, StringComparison.Ordinal));
        Assert.Equal("My plate", Value(open, "name"));
        await open.Find("#price").ChangeAsync("4.20");
        await PriceForm(open).SubmitAsync();
        open.WaitForAssertion(() => Assert.Contains("4.20", open.Find("table").TextContent, StringComparison.Ordinal));
        Assert.Equal("My plate", Value(open, "name"));
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await Form(open).SubmitAsync();
        open.WaitForAssertion(() => Assert.Empty(open.FindAll(".faults")));
        Assert.Equal("My plate", (await shop.Get<StockDetailView>().ItemAsync("plate-100x60"))!.Facts.Name);
    }

    [Fact]
    public async Task Customer_ChangedMeanwhile_IsReadAnewAndTheSecondSaveGoesThrough()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var page = Page(shop);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var view = shop.Get<CustomerView>();
        page.Services.AddSingleton(view);
        page.Services.AddSingleton(shop.Get<ChangeCustomer>());
        var id = (await view.LoadAsync("", 1)).Rows[0].Id;
        var open = Open<CustomerPage>(page, owner, ("Id", id.Value));
        var other = new CustomerForm((await view.FindAsync(id.Value))!) { Phone = "030 555 01", Company = "Elsewhere" };
        Assert.True((await shop.Get<ChangeCustomer>().RunAsync(Asked.By(owner), other.Read().Value)).IsOk);

        await open.Find("#phone").ChangeAsync("030 555 02");
        await open.Find("form").SubmitAsync();
        Assert.Equal(("030 555 02", "Elsewhere"), (Value(open, "phone"), Value(open, "company")));
        Assert.Equal(2, open.FindAll(".notice.warn li").Count);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await open.Find("form").SubmitAsync();
        var saved = (await view.FindAsync(id.Value))!;
        Assert.Equal(("030 555 02", "Elsewhere"), (saved.Contact.Phone, saved.Company));
    }

    private static AngleSharp.Dom.IElement Form<T>(IRenderedComponent<T> open)
        where T : IComponent => open.FindAll("form").Single(f => f.QuerySelector("#name") is not null);

    private static AngleSharp.Dom.IElement PriceForm<T>(IRenderedComponent<T> open)
        where T : IComponent => open.FindAll("form").Single(f => f.QuerySelector("#price") is not null);
}
