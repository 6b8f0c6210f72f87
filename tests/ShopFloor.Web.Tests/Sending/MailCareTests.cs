using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Office.Sending;

namespace ShopFloor.Web.Tests.Sending;

/// <summary>Mails that would be for nothing are not written, and what is wrong on our side is not blamed on the customer's address.</summary>
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

    /// <summary>Notices of orders that were fetched are not read, and who writes at the Bench does not wait while nobody is to be reminded.</summary>
    [Fact]
    public async Task PickUp_NobodyToRemind_IsFoundOutWithoutTheWriteGate()
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(server.Port);
        await shop.MakeReadyAsync();
        shop.Bench.Wait(600);
        Assert.Equal(1, await shop.SendAsync<MailCarrier>());
        shop.Bench.Wait(8 * 86_400);
        Assert.Equal(1, (await shop.Bench.Shop.Get<RemindPickUps>().RunAsync()).Value);
        using var taken = await shop.Bench.Shop.Get<WriteGate>().EnterAsync(default);
        Assert.Equal("nothing-due", await RemindAsync());

        await SetAsync(shop, PieceState.HandedOver);
        shop.Bench.Shop.Reads.Clear();
        Assert.Equal("nothing-due", await RemindAsync());
        Assert.Equal(0, shop.Bench.Shop.Reads.Rows("FROM \"Outbox\""));

        async Task<string> RemindAsync() =>
            (await shop.Bench.Shop.Get<RemindPickUps>().RunAsync().WaitAsync(TimeSpan.FromMinutes(1))).Refusals[0].Code;
    }

    [Theory]
    [InlineData("")]
    [InlineData("@")]
    [InlineData("shop")]
    public async Task Send_OwnSenderIsWrong_IsTriedAgainAndGoesOutOnceItIsRight(string from)
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(server.Port);
        await shop.MakeReadyAsync();
        // As it could be saved before.
        await using (var context = await shop.Bench.Shop.ContextAsync())
        {
            var kept = await context.Settings.SingleAsync(s => s.Key == SettingKeys.Mail);
            var json = kept.Json.Replace("shop@moorlight.example", from, StringComparison.Ordinal);
            context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), kept.Key, kept.From.AddSeconds(1), json, kept.By));
            await context.SaveChangesAsync();
        }
        shop.Bench.Wait(600);
        await shop.SendAsync<MailCarrier>();
        var message = Assert.Single(await shop.OutboxAsync());
        Assert.Equal((1, null), (message.Tries, message.DeadAt));
        Assert.Contains("sender", message.Trouble, StringComparison.Ordinal);
        await shop.MailThroughAsync(server.Port);
        shop.Bench.Wait(600);
        Assert.Equal(1, await shop.SendAsync<MailCarrier>());
    }

    /// <summary>What the server says of every mail is not said of this customer's address: the mail is tried again.</summary>
    [Theory]
    [InlineData("530 5.7.0 sign in first", "250 fine", "250 taken")]
    [InlineData("250 fine", "554 5.7.1 relay access denied", "250 taken")]
    [InlineData("250 fine", "550 5.7.1 unable to relay", "250 taken")]
    [InlineData("250 fine", "250 fine", "554 daily limit exceeded")]
    public async Task Send_ServerRefusesAll_IsTriedAgainAndGoesOutLater(string sender, string recipient, string data)
    {
        await using var server = new MailStub
        {
            SenderAnswer = sender,
            RecipientAnswer = recipient,
            DataAnswer = data,
        };
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(server.Port);
        await shop.MakeReadyAsync();
        shop.Bench.Wait(600);
        await shop.SendAsync<MailCarrier>();
        var message = Assert.Single(await shop.OutboxAsync());
        Assert.Equal((1, null), (message.Tries, message.DeadAt));
        (server.SenderAnswer, server.RecipientAnswer, server.DataAnswer) = ("250 fine", "250 fine", "250 taken");
        shop.Bench.Wait(600);
        Assert.Equal(1, await shop.SendAsync<MailCarrier>());
    }

    [Theory]
    [InlineData("", false)]
    [InlineData("@", false)]
    [InlineData("shop@", false)]
    [InlineData("shop@moorlight.example", true)]
    public async Task ChangeMail_ServerWithoutAUsableSender_IsRefusedBesideTheField(string from, bool isFine)
    {
        await using var shop = await SendingShop.OpenAsync();
        var mail = new MailSettings { Host = "mail.moorlight.example", From = from };
        var done = await shop.Bench.Shop.Get<ChangeMail>().RunAsync(shop.Asked(), new MailInput(mail, null));
        Assert.Equal(isFine ? [] : [nameof(mail.From)], done.Refusals.Select(r => r.Field));
    }

    private static async Task SetAsync(SendingShop shop, PieceState state)
    {
        await using var context = await shop.Bench.Shop.ContextAsync();
        var piece = await context.Pieces.OrderBy(p => p.Code).FirstAsync();
        context.Entry(piece).Property(p => p.State).CurrentValue = state;
        await context.SaveChangesAsync();
    }
}
