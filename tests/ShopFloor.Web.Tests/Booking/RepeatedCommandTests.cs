using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Booking;

/// <summary>A command that is sent again gives its sender the same answer, and nobody else.</summary>
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

    [Fact]
    public async Task Run_IdOfSomebodyElsesCommand_IsRefusedWithoutItsAnswer()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (first, second) = (await shop.WorkerAsync(WorkerRole.Counter), await shop.WorkerAsync(WorkerRole.Counter));
        var command = Guid.CreateVersion7();
        Task<Result<string>> RunAsync(Guid worker) =>
            shop.Get<CommandRunner>()
                .RunAsync("Test", Allowed.Counter, Asked.By(worker, command), 1, _ => Task.FromResult(Result<string>.Ok("a secret")));
        Assert.Equal("a secret", (await RunAsync(first)).Value);
        Assert.Equal("a secret", (await RunAsync(first)).Value);
        Assert.Equal("command-reused", Assert.Single((await RunAsync(second)).Refusals).Code);
    }

    private static async Task<string> TokenAsync(TestShop shop, Asked asked, OrderInput input)
    {
        var booked = await shop.Get<BookOrder>().RunAsync(asked, input);
        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
        return booked.Value.StatusToken;
    }
}
