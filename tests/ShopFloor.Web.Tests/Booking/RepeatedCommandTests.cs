using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Booking;

/// <summary>A command that is sent again gives the same answer.</summary>
public sealed class RepeatedCommandTests
{
    [Fact]
    public async Task Book_SentAgain_GivesTheSameSecretThatTheDatabaseDoesNotTell()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var asked = Asked.By(await shop.WorkerAsync(WorkerRole.Counter));
        var input = await shop.ShownAsync(ShopOrders.Plates(1));
        var token = await TokenAsync(shop, asked, input);
        await using (var context = await shop.ContextAsync())
        {
            Assert.Equal(48, token.Length);
            Assert.DoesNotContain(
                token,
                (await context.Commands.SingleAsync(c => c.Id == asked.Command)).ResultJson,
                StringComparison.Ordinal
            );
            Assert.Equal(token, await TokenAsync(shop, asked, input));
            // What was written before secrets were closed is still answered.
            var booked = await shop.Get<BookOrder>().RunAsync(asked, input);
            var plain = System.Text.Json.JsonSerializer.Serialize(booked.Value, JsonForms.Default);
            await context.Commands.Where(c => c.Id == asked.Command).ExecuteUpdateAsync(s => s.SetProperty(c => c.ResultJson, plain));
        }
        Assert.Equal(token, await TokenAsync(shop, asked, input));
    }

    private static async Task<string> TokenAsync(TestShop shop, Asked asked, OrderInput input)
    {
        var booked = await shop.Get<BookOrder>().RunAsync(asked, input);
        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
        return booked.Value.StatusToken;
    }
}
