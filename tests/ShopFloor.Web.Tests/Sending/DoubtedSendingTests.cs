using Bunit;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Office.Sending;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Sending;

/// <summary>While the clock is doubted nothing goes out: mails and the signatures of webhooks carry its time.</summary>
public sealed class DoubtedSendingTests
{
    [Fact]
    public async Task Send_ClockIsDoubted_WaitsUntilItIsConfirmedAndThePageSaysWhy()
    {
        await using var receiver = await HookStub.StartAsync();
        await using var mail = new MailStub();
        await using var sending = await SendingShop.OpenAsync();
        var shop = sending.Bench.Shop;
        Assert.True(await shop.Get<WatchClock>().RunAsync());
        await sending.MailThroughAsync(mail.Port);
        await sending.HookAsync(receiver.Url, OrderNews.Booked);
        await sending.MakeReadyAsync();
        await sending.WithLinkAsync();
        shop.Clock.AdjustTime(shop.Clock.GetUtcNow().AddDays(100));
        Assert.Equal(0, await sending.SendAsync<HookCarrier>() + await sending.SendAsync<MailCarrier>());
        Assert.Empty(receiver.Calls);
        Assert.Empty(mail.Mails);
        Assert.All(await sending.OutboxAsync(), m => Assert.Equal((null, 0), (m.SentAt, m.Tries)));

        await using var page = TestPage.Of(shop);
        var open = page.Render<SendingPage>(p => p.AddCascadingValue(TestPage.Session(sending.Owner)));
        open.WaitForElement("#waits-for-clock");
        Assert.True((await shop.Get<ConfirmClock>().RunAsync(sending.Asked())).IsOk);
        open.WaitForAssertion(() => Assert.Empty(open.FindAll("#waits-for-clock")));
        Assert.Equal(1, await sending.SendAsync<HookCarrier>());
        Assert.True(await sending.SendAsync<MailCarrier>() > 0);
    }
}
