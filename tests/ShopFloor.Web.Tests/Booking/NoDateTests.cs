using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Booking;

/// <summary>What cannot be promised is refused with what is missing, and only when no day that can be looked ahead would do.</summary>
public sealed class NoDateTests
{
    [Fact]
    public async Task Book_MoreThanTheCansHold_NamesTheCoatingAndHowMuchIsMissing()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var counter = await shop.WorkerAsync(WorkerRole.Counter);
        var book = shop.Get<BookOrder>();
        Assert.True((await book.RunAsync(Asked.By(counter), await shop.ShownAsync(ShopOrders.Plates(80)))).IsOk);

        var refused = (await book.RunAsync(Asked.By(counter), await shop.ShownAsync(ShopOrders.Plates(80)))).Refusals;
        Assert.Equal(["wanted", "lines.0"], refused.Select(r => r.Field));
        Assert.Matches("^Too little clear is left once the other pieces are coated: [0-9]+ ml are missing\\.$", refused[1].Text);

        // So much more in a can, and there is a day.
        var missing = int.Parse(refused[1].Text.Split(' ')[^4], CultureInfo.InvariantCulture);
        await ClearAsync(shop, 903.634m + missing + 10);
        Assert.NotNull((await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(80))).PromisedAt);
    }

    [Fact]
    public async Task Quote_WhileEveryPressIsBrokenForWeeks_PromisesADayAfterwards()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var usable = shop.Clock.GetUtcNow().AddDays(30);
        await using (var context = await shop.ContextAsync())
        {
            foreach (var press in (await context.Stations.ToListAsync()).Where(s => s.Kind == StationKind.Press))
                press.TakeDown(usable);
            await context.SaveChangesAsync();
        }
        var quote = await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates());
        Assert.True(quote.PromisedAt > usable, $"{quote.PromisedAt}, {string.Join(' ', quote.LeftOut.Values)}");
    }

    /// <summary>Leaving one large plate out would be enough for twelve small ones; but it is promised.</summary>
    [Fact]
    public async Task Quote_WhereAnotherOrdersCoatingWouldDo_DoesNotTakeIt()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var counter = await shop.WorkerAsync(WorkerRole.Counter);
        var large = ShopOrders.Plates(1, own: true);
        large = large with { Lines = [large.Lines[0] with { Piece = Sized(large.Lines[0].Piece, 250, 200) }] };
        Assert.True((await shop.Get<BookOrder>().RunAsync(Asked.By(counter), await shop.ShownAsync(large))).IsOk);
        await ClearAsync(shop, 230);
        var quote = await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(12, own: true));
        Assert.Null(quote.PromisedAt);
        Assert.Equal("no coating", Assert.Single(quote.LeftOut).Value.Reason);
    }

    /// <summary>All the clear there is, in one can.</summary>
    private static async Task ClearAsync(TestShop shop, decimal ml)
    {
        await using (var context = await shop.ContextAsync())
        {
            var clear = (await context.Coatings.ToListAsync()).Single(c => c.Code == "clear").Id;
            var cans = await context.Cans.Where(c => c.Coating == clear).OrderByDescending(c => c.UseBy).ToListAsync();
            foreach (var (i, can) in cans.Index())
                await context.Cans.Where(c => c.Id == can.Id).ExecuteUpdateAsync(c => c.SetProperty(x => x.LeftMl, i == 0 ? ml : 0));
        }
        shop.Get<PromiseDay>().Forget();
    }

    private static PieceDescription Sized(PieceDescription piece, int width, int height) =>
        piece with
        {
            Width = Length.FromMillimetres(width),
            Height = Length.FromMillimetres(height),
        };
}
