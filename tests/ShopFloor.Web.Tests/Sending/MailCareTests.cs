using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Sending;

namespace ShopFloor.Web.Tests.Sending;

/// <summary>Mails that would be for nothing are not written.</summary>
public sealed class MailCareTests
{
    [Fact]
    public async Task PickUp_OnePieceIsBackInWork_WritesNothing()
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync(pieces: 2);
        await shop.MailThroughAsync(server.Port);
        await shop.MakeReadyAsync();
        shop.Bench.Wait(600);
        Assert.Equal(1, await shop.SendAsync<MailCarrier>());
        await SetAsync(shop, PieceState.Reworking);
        shop.Bench.Wait(8 * 86_400);
        Assert.Equal("nothing-due", (await shop.Bench.Shop.Get<RemindPickUps>().RunAsync()).Refusals[0].Code);
        await SetAsync(shop, PieceState.CheckedGood);
        Assert.Equal(1, (await shop.Bench.Shop.Get<RemindPickUps>().RunAsync()).Value);
    }

    private static async Task SetAsync(SendingShop shop, PieceState state)
    {
        await using var context = await shop.Bench.Shop.ContextAsync();
        var piece = await context.Pieces.OrderBy(p => p.Code).FirstAsync();
        context.Entry(piece).Property(p => p.State).CurrentValue = state;
        await context.SaveChangesAsync();
    }
}
