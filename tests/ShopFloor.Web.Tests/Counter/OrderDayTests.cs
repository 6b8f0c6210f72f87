using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>What a customer reads first about an order: the day while it is waited for, and no day that is past once it can be fetched.</summary>
public sealed class OrderDayTests
{
    [Theory]
    [InlineData(PieceState.InWork, WorkState.Ready, "Ready by", "Ready to be picked up")]
    [InlineData(PieceState.CheckedGood, WorkState.Ready, "Ready by", "Ready to be picked up")]
    [InlineData(PieceState.CheckedGood, WorkState.Done, "Ready to be picked up", "Ready by")]
    [InlineData(PieceState.HandedOver, WorkState.Done, "handed over", "Ready by")]
    public async Task Day_OfAnOrder_IsSaidOnlyWhileItIsWaitedFor(PieceState state, WorkState steps, string said, string not)
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        await using (var context = await counter.ContextAsync())
        {
            await context.WorkItems.ExecuteUpdateAsync(w => w.SetProperty(i => i.State, steps));
            await context.Pieces.ExecuteUpdateAsync(w => w.SetProperty(p => p.State, state));
        }
        using var customer = counter.Host.Client();

        var page = await customer.GetStringAsync($"/status/{booked.StatusToken}");
        var asked = (await WhereTests.AskAsync(counter, $"{booked.Number}", "Fenwick")).Text;

        foreach (var text in (string[])[page, asked])
        {
            Assert.Contains(said, text, StringComparison.Ordinal);
            Assert.DoesNotContain(not, text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Day_ThatIsPastWhileTheOrderIsInWork_IsNotPromisedAnyMore()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        var past = counter.Host.Clock.GetUtcNow().AddHours(-1);
        await using (var context = await counter.ContextAsync())
        {
            await context.Pieces.ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.InWork));
            await context.Orders.ExecuteUpdateAsync(o => o.SetProperty(x => x.PromisedAt, past));
        }
        using var customer = counter.Host.Client();

        var page = await customer.GetStringAsync($"/status/{booked.StatusToken}");

        Assert.Contains("It was to be ready by", page, StringComparison.Ordinal);
        Assert.Contains("takes longer", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Ready by", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", true)]
    [InlineData("For Ada", false)]
    public async Task Line_WithoutPictureOrText_SaysThatThePictureIsStillToCome(string text, bool waits)
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync(text));
        using var customer = counter.Host.Client();

        var page = await customer.GetStringAsync($"/status/{booked.StatusToken}");

        Assert.Equal(waits, page.Contains("We are still waiting for your picture.", StringComparison.Ordinal));
    }
}
