using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The owner's changes: checked, written down, and never over somebody else's.</summary>
public sealed class OfficeChangesTests
{
    [Fact]
    public async Task Station_TwoPeopleAtOnce_TheSecondIsToldAndNothingIsLost()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var oven = (await shop.Get<StationListView>().LoadAsync()).First(s => s.Code == "oven-1");
        StationInput Named(string name) => new(oven.Id, oven.Version, name, oven.Settings, null, true);

        Assert.True((await shop.Get<ChangeStation>().RunAsync(Asked.By(owner), Named("First"))).IsOk);
        var second = await shop.Get<ChangeStation>().RunAsync(Asked.By(owner), Named("Second"));

        Assert.Equal("changed-meanwhile", Assert.Single(second.Refusals).Code);
        await using var context = await shop.ContextAsync();
        Assert.Equal("First", (await context.Stations.SingleAsync(s => s.Code == "oven-1")).Name);
        Assert.Equal(1, await context.Audit.CountAsync(a => a.Subject == "oven-1"));
    }

    [Fact]
    public async Task Station_ImpossibleNumbers_AreNamedAtTheirFields()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var row = (await shop.Get<StationListView>().LoadAsync()).First(s => s.Code == "oven-1");
        var form = new StationForm(row) { DownHours = "soon" };
        form.Numbers["heating"] = "fast";
        Assert.Equal(["down", "heating"], form.Read(shop.Clock.GetUtcNow()).Refusals.Select(r => r.Field).Order());

        var settings = (OvenSettings)row.Settings with { HeatingPerMinute = -1, VolumeLitres = 0 };
        var changed = await shop.Get<ChangeStation>()
            .RunAsync(Asked.By(owner), new StationInput(row.Id, row.Version, "", settings, null, true));
        Assert.Equal(["heating", "name", "volume"], changed.Refusals.Select(r => r.Field).Order());
    }

    [Fact]
    public async Task Station_BrokenOneSavedForSomethingElse_StaysBrokenUntilItIsSaidToBeUsable()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        async Task<StationRow> RowAsync() => (await shop.Get<StationListView>().LoadAsync()).First(s => s.Code == "oven-1");
        async Task<StationRow> SaveAsync(Action<StationForm> type)
        {
            var form = new StationForm(await RowAsync());
            type(form);
            Assert.True((await shop.Get<ChangeStation>().RunAsync(Asked.By(owner), form.Read(shop.Clock.GetUtcNow()).Value)).IsOk);
            return await RowAsync();
        }
        var until = shop.Clock.GetUtcNow().AddHours(5);

        Assert.Equal(until, (await SaveAsync(f => f.DownHours = "5")).DownUntil);
        shop.Clock.Advance(TimeSpan.FromHours(1));
        var kept = await SaveAsync(f => f.Name = "Old oven");
        Assert.Equal(("Old oven", until), (kept.Name, kept.DownUntil));
        Assert.Null((await SaveAsync(f => f.IsUsableAgain = true)).DownUntil);
    }

    /// <summary>A room as warm as pieces shall cool to would stop every booking.</summary>
    [Fact]
    public async Task Profile_RoomAsWarmAsACoolingEnds_IsRefusedAtItsFieldWithTheRecipe()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var profile = (await shop.Get<SettingsView>().LoadAsync()).Profile;
        await using var context = await shop.ContextAsync();
        var coolest = (await context.Recipes.ToListAsync()).SelectMany(r => r.Steps).Min(s => s.CoolToCelsius)!.Value;
        async Task<Result<Done>> RoomAsync(decimal celsius) =>
            await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile with { RoomCelsius = celsius });

        var refused = Assert.Single((await RoomAsync(coolest)).Refusals);

        Assert.Equal(("room-too-warm", "RoomCelsius"), (refused.Code, refused.Field));
        Assert.Contains("“", refused.Text, StringComparison.Ordinal);
        Assert.True((await RoomAsync(coolest - 1)).IsOk);
    }

    [Theory]
    [InlineData("0")]
    [InlineData("-5")]
    public async Task Prices_RateOfNothing_IsRefusedAndTheOldOnesStay(string rate)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var before = await shop.Get<SettingsView>().LoadAsync();
        var form = new PricesForm(before);
        form.Rates["LabourPerHour"] = rate;
        var done = await shop.Get<ChangePrices>().RunAsync(Asked.By(owner), form.Read().Value);
        Assert.Equal("LabourPerHour", Assert.Single(done.Refusals).Field);
        Assert.Equal(before.Rates.LabourPerHour, (await shop.Get<SettingsView>().LoadAsync()).Rates.LabourPerHour);
    }

    [Fact]
    public async Task Prices_BenchWorker_MayNotChangeThem()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var bench = await shop.WorkerAsync(WorkerRole.Bench);
        var now = await shop.Get<SettingsView>().LoadAsync();
        var done = await shop.Get<ChangePrices>().RunAsync(Asked.By(bench), new PricesInput(now.Rates, now.Rule, now.Inputs));
        Assert.Equal("no-right", Assert.Single(done.Refusals).Code);
    }

    [Fact]
    public async Task Order_TwoPeopleAtOnce_TheSecondIsTold()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var order = (await shop.Get<OrderDetailView>().LoadAsync(3))!;
        Task<Domain.Result<Domain.Done>> Write(string note) =>
            shop.Get<ChangeOrder>().RunAsync(Asked.By(owner), new OrderChange(order.Id, order.Version, OrderAct.Note, note));
        var both = await Task.WhenAll(Write("one"), Write("two"));
        Assert.Equal("changed-meanwhile", Assert.Single(both.Single(b => !b.IsOk).Refusals).Code);
    }

    [Fact]
    public async Task Order_CalledOffWhilePiecesAreInWork_IsRefused()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var order = await FirstAsync(shop, PieceState.InWork);
        var done = await shop.Get<ChangeOrder>()
            .RunAsync(Asked.By(owner), new OrderChange(order.Id, order.Version, OrderAct.Cancel, "no longer wanted"));
        Assert.Equal("begun", Assert.Single(done.Refusals).Code);
    }

    [Fact]
    public async Task Orders_SearchedByNameNumberAndCode_AreFoundAndSignsOfPatternsMeanThemselves()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var view = shop.Get<OrderListView>();
        var order = await FirstAsync(shop, PieceState.Booked);
        Task<OrderSlice> Find(string text) => view.LoadAsync(text, OrderFilter.All, OrderSort.Newest, new OrderSpan(0, 50));
        Assert.Equal(order.Number, Assert.Single((await Find(order.Contact.Name[..5].ToUpperInvariant())).Rows).Number);
        Assert.Equal(order.Number, Assert.Single((await Find(order.Number.ToString(CultureInfo.InvariantCulture))).Rows).Number);
        Assert.Equal(order.Number, Assert.Single((await Find(order.Pieces[0].Code)).Rows).Number);
        Assert.Empty((await Find("%")).Rows);
        var all = await view.LoadAsync("", OrderFilter.All, OrderSort.Name, new OrderSpan(0, OrderListView.Most));
        var part = await view.LoadAsync("", OrderFilter.All, OrderSort.Name, new OrderSpan(5, 7));
        Assert.Equal(all.Rows.Skip(5).Take(7).Select(r => r.Number), part.Rows.Select(r => r.Number));
        Assert.Equal(
            (all.Count, 0),
            (part.Count, (await view.LoadAsync("", OrderFilter.All, OrderSort.Name, new OrderSpan(9999, 7))).Rows.Count)
        );
    }

    [Theory]
    [InlineData("weiss")]
    [InlineData("WEIß")]
    [InlineData("jürgen")]
    [InlineData("JÜRGEN w")]
    [InlineData("Juergen")]
    public async Task Orders_SearchedByANameWithLettersOfItsOwn_AreFoundHoweverItIsTyped(string typed)
    {
        await using var bench = await Bench.BenchShop.OpenAsync(1);
        await using (var context = await bench.Shop.ContextAsync())
            await context.Database.ExecuteSqlRawAsync("UPDATE \"Orders\" SET \"ContactName\" = 'Jürgen Weiß'");
        Assert.Equal(1, (await FindAsync(bench.Shop, typed)).Count);
    }

    [Fact]
    public async Task Orders_SearchedByAPartOfAPiecesCode_AreFound()
    {
        await using var bench = await Bench.BenchShop.OpenAsync(1);
        var code = (await bench.PiecesAsync())[0].Code;
        Assert.Equal(1, (await FindAsync(bench.Shop, code[..4].ToLowerInvariant())).Count);
        Assert.Equal(0, (await FindAsync(bench.Shop, "QQQQQQQQ")).Count);
    }

    private static Task<OrderSlice> FindAsync(TestShop shop, string text) =>
        shop.Get<OrderListView>().LoadAsync(text, OrderFilter.All, OrderSort.Newest, new OrderSpan(0, 50));

    private static async Task<OrderDetail> FirstAsync(TestShop shop, PieceState state)
    {
        await using var context = await shop.ContextAsync();
        var id = await context.Pieces.Where(p => p.State == state).Select(p => p.Order).FirstAsync();
        var number = await context.Orders.Where(o => o.Id == id).Select(o => o.Number).SingleAsync();
        return (await shop.Get<OrderDetailView>().LoadAsync(number))!;
    }
}
