using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>What customers choose at the Counter has its name in their language.</summary>
public sealed class BlankNameTests
{
    [Fact]
    public async Task Names_OfTheDemosBlanks_AreGermanAtAGermanCounter()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var blanks = (await shop.Get<CounterChoicesView>().RunAsync()).Blanks;
        Assert.Equal("Aluminiumscheibe 70", In("de", blanks.Single(b => b.Code == "disc-70")));
        Assert.All(blanks, b => Assert.NotEqual(b.Name, In("de", b)));
        Assert.All(blanks, b => Assert.Equal(b.Name, In("en", b)));
    }

    [Fact]
    public async Task Save_OwnersBlankWithAGermanName_IsShownAndTheBlankStaysWhatItIs()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var before = (await shop.Get<CounterChoicesView>().RunAsync()).Blanks.Single(b => b.Code == "disc-70");
        await SaveAsync(shop, " Schildscheibe 70 ");
        var named = (await shop.Get<CounterChoicesView>().RunAsync()).Blanks.Single(b => b.Code == "disc-70");
        Assert.Equal(("Schildscheibe 70", before.Piece), (In("de", named), named.Piece));

        await SaveAsync(shop, "");
        var without = (await shop.Get<CounterChoicesView>().RunAsync()).Blanks.Single(b => b.Code == "disc-70");
        Assert.Equal((before.Name, before.Piece), (In("de", without), without.Piece));
    }

    [Fact]
    public async Task Save_TooLongAName_IsRefusedAtItsField()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var item = (await shop.Get<StockDetailView>().ItemAsync("disc-70"))!;
        var input = new ItemForm(item, "EUR") { German = new string('x', 81) }
            .Read()
            .Value;
        var done = await shop.Get<KeepItem>().RunAsync(Asked.By(await shop.WorkerAsync(ShopFloor.Data.WorkerRole.Owner)), input);
        Assert.Equal("name-de", Assert.Single(done.Refusals).Field);
    }

    private static async Task SaveAsync(TestShop shop, string german)
    {
        var item = (await shop.Get<StockDetailView>().ItemAsync("disc-70"))!;
        var input = new ItemForm(item, "EUR") { German = german }
            .Read()
            .Value;
        var done = await shop.Get<KeepItem>().RunAsync(Asked.By(await shop.WorkerAsync(ShopFloor.Data.WorkerRole.Owner)), input);
        Assert.True(done.IsOk);
    }

    private static string In(string language, BlankChoice blank)
    {
        var kept = CultureInfo.CurrentUICulture;
        try
        {
            CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo(language);
            return blank.Shown;
        }
        finally
        {
            CultureInfo.CurrentUICulture = kept;
        }
    }
}
