using Bunit;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>A new item is entered with how many of it are there: without that nothing can be booked on it.</summary>
public sealed class NewItemTests
{
    [Theory]
    [InlineData("40", 40)]
    [InlineData("", 0)]
    public async Task Page_NewItem_BooksWhatIsThereAsItsFirstCount(string there, int booked)
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var browser = TestPage.Of(shop);
        var session = TestPage.Session(await shop.WorkerAsync(WorkerRole.Owner));
        var page = browser.Render<ItemPage>(p => p.Add(i => i.Code, "new").AddCascadingValue(session));
        page.WaitForElement("#there");
        foreach (var (field, text) in new[] { ("code", "tag-50"), ("name", "Tag"), ("width", "50"), ("height", "30"), ("thickness", "1") })
            await page.Find($"#{field}").ChangeAsync(text);
        await page.Find("#there").ChangeAsync(there);
        await page.Find("form").SubmitAsync();

        await using var context = await shop.ContextAsync();
        page.WaitForAssertion(() => Assert.True(context.StockItems.AsNoTracking().Any(i => i.Code == "tag-50"), page.Markup));
        Assert.Equal(booked, (await context.StockItems.AsNoTracking().SingleAsync(i => i.Code == "tag-50")).OnHand);
        var moves = await context.StockMoves.AsNoTracking().Where(m => m.Item == "tag-50").ToListAsync();
        Assert.Equal(booked, moves.Sum(m => m.Amount));
        Assert.All(moves, m => Assert.Equal((StockReason.Correction, "first count"), (m.Reason, m.Note)));
    }

    [Fact]
    public async Task Save_FewerThanNone_IsRefusedAtItsField()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var form = new ItemForm(null, "EUR")
        {
            Code = "tag-50",
            Name = "Tag",
            Kind = StockItem.Tape,
            There = "-3",
        };
        var asked = Web.Commands.Asked.By(await shop.WorkerAsync(WorkerRole.Owner));
        Assert.Equal("there", Assert.Single((await shop.Get<KeepItem>().RunAsync(asked, form.Read().Value)).Refusals).Field);
    }
}
