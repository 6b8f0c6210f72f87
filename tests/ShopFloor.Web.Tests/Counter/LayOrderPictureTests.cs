using Bunit;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Clerk;
using ShopFloor.Web.Tests.Architecture;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>A picture that came after booking is laid on the piece as one is laid in an entry.</summary>
public sealed class LayOrderPictureTests
{
    [Fact]
    public async Task Page_FillsTheSideAndKeepsIt_WaitsForApprovalAgain()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1, own: true, printed: false);
        var (shop, order) = (bench.Shop, await PicturedAsync(bench.Shop));
        await using var page = TestPage.Of(shop);
        var place = page.Render<PlacePage>(p =>
            p.Add(o => o.Id, order.Id.Value).Add(o => o.Line, 1).AddCascadingValue(TestPage.Session(bench.Worker))
        );
        place.WaitForAssertion(() => Assert.Contains("Fill the side", place.Markup, StringComparison.Ordinal));

        await Button(place, "Fill the side").ClickAsync(new());
        await Button(place, "Turn").ClickAsync(new());
        await place.Find("#lay").ClickAsync(new());

        await using var context = await shop.ContextAsync();
        var now = await context.Orders.AsNoTracking().SingleAsync();
        Assert.Equal((PictureFit.Fill, QuarterTurn.Right), (now.Lines[0].Placement.Fit, now.Lines[0].Placement.Turn));
        Assert.Equal((ProofState.Waiting, order.Gross), (now.Proof, now.Gross));
    }

    [Fact]
    public void Entry_LaysItsPicture_WithTheSameTools() =>
        Assert.Contains("<LayPicture ", Tree.Text("src/ShopFloor.Web/Counter/Steps/PlacePicture.razor"), StringComparison.Ordinal);

    [Fact]
    public async Task View_OnceItIsPrinted_SaysThatItIsTooLate()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1, own: true, printed: false);
        var order = await PicturedAsync(bench.Shop);
        Assert.True((await bench.Shop.Get<PlaceView>().LoadAsync(order.Id, 1)).IsOk);
        await using (var context = await bench.Shop.ContextAsync())
        {
            Assert.True((await context.Orders.SingleAsync()).Printed(bench.Shop.Clock.GetUtcNow()).IsOk);
            await context.SaveChangesAsync();
        }
        Assert.Equal("printed", (await bench.Shop.Get<PlaceView>().LoadAsync(order.Id, 1)).Refusals[0].Code);
        var laid = new LaidAnew(order.Id, 1, order.Lines[0].Picture!.Value, PictureOnFace.Whole);
        Assert.Equal("printed", (await bench.Shop.Get<LayOrderPicture>().RunAsync(Asked.By(bench.Worker), laid)).Refusals[0].Code);
    }

    private static AngleSharp.Dom.IElement Button(IRenderedComponent<PlacePage> page, string words) =>
        page.FindAll("button").First(b => b.TextContent.Contains(words, StringComparison.Ordinal));

    /// <summary>The booked order with a picture that was brought later and approved: it lies whole.</summary>
    private static async Task<Order> PicturedAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        var (order, picture) = (await context.Orders.SingleAsync(), new PictureId(Guid.CreateVersion7()));
        context.Pictures.Add(new KeptPicture(picture, "png", 400, 1200, 1, "00", "dog.png", shop.Clock.GetUtcNow()));
        Assert.True(order.Illustrate(1, picture, new Agreement("picture rights", "1", "en", shop.Clock.GetUtcNow(), "owner")).IsOk);
        Assert.True(order.ApproveProof("").IsOk);
        await context.SaveChangesAsync();
        return order;
    }
}
