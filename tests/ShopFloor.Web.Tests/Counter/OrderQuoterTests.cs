using Microsoft.Extensions.Time.Testing;
using ShopFloor.Domain;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>The price on the screen is marked as old from the change on that asks for another until that is there; nobody books an old one.</summary>
public sealed class OrderQuoterTests : IDisposable
{
    private readonly FakeTimeProvider clock = new();
    private readonly List<TaskCompletionSource<OrderQuote>> asked = [];
    private readonly DraftKeeper keeper;
    private readonly OrderQuoter quoter;

    public OrderQuoterTests()
    {
        var opened = new OpenedDraft(new KeptOrder(0, new OrderEntry(), []), CounterStep.Look, null);
        keeper = new DraftKeeper(Guid.CreateVersion7(), opened, _ => Task.FromResult(Result<int>.Ok(1)), work => work(), clock);
        quoter = new OrderQuoter(keeper, Read, Answer, work => work(), clock);
    }

    private static OrderInput Read(OrderEntry entry) =>
        new()
        {
            Contact = new(entry.Name, "", ""),
            Lines = [new LineInput { Quantity = int.Parse(entry.Line.Quantity, CultureInfo.InvariantCulture) }],
        };

    private Task<OrderQuote> Answer(OrderInput input, CancellationToken cancel)
    {
        asked.Add(new TaskCompletionSource<OrderQuote>());
        return asked[^1].Task.WaitAsync(cancel);
    }

    [Fact]
    public async Task Change_OfTheNumber_MakesThePriceOldUntilTheNewOneIsThere()
    {
        await AnsweredAsync(quoter.AskAsync(), 1);
        Assert.False(quoter.IsOld);
        keeper.ChangeLine(l => l with { Quantity = "400" });
        Assert.True(quoter.IsOld);
        Assert.Equal(1, quoter.Quote!.Net);
        clock.Advance(OrderQuoter.Pause);
        Assert.True(quoter.IsOld);
        await AnsweredAsync(HeardAsync(), 400);
        Assert.False(quoter.IsOld);
        Assert.Equal(400, quoter.Quote.Net);
    }

    [Fact]
    public async Task Change_OfAName_LeavesThePriceAsItIs()
    {
        await AnsweredAsync(quoter.AskAsync(), 1);
        keeper.Change(e => e with { Name = "Ida" });
        clock.Advance(OrderQuoter.Pause);
        Assert.False(quoter.IsOld);
        Assert.Single(asked);
    }

    [Fact]
    public async Task Answer_OvertakenByAChange_IsDropped()
    {
        var first = quoter.AskAsync();
        keeper.ChangeLine(l => l with { Quantity = "2" });
        asked[0].SetResult(Quote(1));
        await first;
        Assert.True(quoter.IsOld);
        Assert.Null(quoter.Quote);
        clock.Advance(OrderQuoter.Pause);
        await AnsweredAsync(HeardAsync(), 2);
        Assert.Equal(2, quoter.Quote!.Net);
    }

    /// <summary>"Start over" closes the entry while its price is computed, and whoever computes may not hear that in time.</summary>
    [Fact]
    public async Task Answer_AfterTheEntryWasClosed_IsDroppedAndReadsNothing()
    {
        var (isClosed, changes, held) = (false, 0, new TaskCompletionSource<OrderQuote>());
        using var closing = new OrderQuoter(
            keeper,
            entry => isClosed ? throw new InvalidOperationException("The entry is closed.") : Read(entry),
            (_, _) => held.Task,
            work => work(),
            clock
        );
        closing.Changed += (_, _) => changes++;
        var asking = closing.AskAsync();
        isClosed = true;
        closing.Dispose();
        held.SetResult(Quote(1));
        await asking;
        await closing.AskAsync();
        Assert.Null(closing.Quote);
        Assert.Equal(0, changes);
    }

    private static OrderQuote Quote(decimal net) => new([], net, net, 0, "EUR", null, 0, default);

    private Task HeardAsync()
    {
        var heard = new TaskCompletionSource();
        quoter.Changed += (_, _) => heard.TrySetResult();
        return heard.Task;
    }

    private async Task AnsweredAsync(Task asking, decimal net)
    {
        asked[^1].SetResult(Quote(net));
        await asking;
    }

    public void Dispose()
    {
        quoter.Dispose();
        keeper.Dispose();
    }
}
