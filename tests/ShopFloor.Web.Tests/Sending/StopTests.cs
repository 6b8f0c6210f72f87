using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Sending;

/// <summary>A program that is stopped leaves no message behind that was taken and would go out again.</summary>
public sealed class StopTests
{
    [Fact]
    public async Task Stop_WhileAMessageIsOnItsWay_MarksWhatWasTaken()
    {
        await using var shop = await TestShop.EmptyAsync();
        await using var context = await shop.ContextAsync();
        context.Outbox.Add(new OutboxMessage(Guid.CreateVersion7(), Stopping.Name, "{}", shop.Clock.GetUtcNow()));
        await context.SaveChangesAsync();
        using var stop = new CancellationTokenSource();
        Assert.Equal(1, await shop.Get<SendDue>().RunAsync(new Stopping(stop), stop.Token));
        Assert.NotNull((await context.Outbox.AsNoTracking().SingleAsync()).SentAt);
    }

    [Fact]
    public async Task Mail_LineCutAtTheFarewell_IsSentAllTheSame()
    {
        await using var server = new MailStub { HangsUpAtQuit = true };
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(server.Port);
        await shop.MakeReadyAsync();
        shop.Bench.Wait(600);
        Assert.Equal(1, await shop.SendAsync<MailCarrier>());
        Assert.NotNull(Assert.Single(await shop.OutboxAsync()).SentAt);
        Assert.Equal(0, await shop.SendAsync<MailCarrier>());
        Assert.Single(server.Mails);
    }

    /// <summary>The other side takes the message just when the program is told to stop.</summary>
    private sealed class Stopping(CancellationTokenSource stop) : ICarrier
    {
        public const string Name = "stopping";

        public string Kind => Name;

        public async Task<Carried> CarryAsync(OutboxMessage message, CancellationToken cancel)
        {
            await stop.CancelAsync();
            return new Carried(CarryEnd.Taken);
        }
    }
}
