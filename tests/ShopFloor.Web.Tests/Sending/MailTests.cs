using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Counter.Status;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Sending;
using ShopFloor.Web.Tests.Bench;

namespace ShopFloor.Web.Tests.Sending;

/// <summary>Mails to customers: written with the change, sent afterwards, never twice for the same thing.</summary>
public sealed class MailTests
{
    [Fact]
    public async Task Ready_LastPieceCheckedGood_IsToldOnceAfterTheWait()
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync(pieces: 2);
        await shop.MailThroughAsync(server.Port);
        await shop.MakeReadyAsync();
        Assert.Equal(0, await shop.SendAsync<MailCarrier>());
        shop.Bench.Wait(600);
        Assert.Equal(1, await shop.SendAsync<MailCarrier>());
        Assert.Equal(0, await shop.SendAsync<MailCarrier>());
        var mail = Assert.Single(server.Mails);
        var message = Assert.Single(await shop.OutboxAsync());
        Assert.Contains("somebody@shop.example", mail, StringComparison.Ordinal);
        Assert.Contains("text/plain", mail, StringComparison.Ordinal);
        Assert.Contains("text/html", mail, StringComparison.Ordinal);
        Assert.Contains($"Message-Id: <{message.Id:N}@moorlight.example>", mail, StringComparison.Ordinal);
        Assert.NotNull(message.SentAt);
    }

    [Fact]
    public async Task Ready_CheckedGoodButNotPacked_IsWrittenOnceItCanBeHandedOver()
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(server.Port);
        await shop.Bench.WorkToAsync(StepKind.Pack);
        Assert.Empty(await shop.OutboxAsync());
        await shop.MakeReadyAsync();
        shop.Bench.Wait(600);
        Assert.Equal(1, await shop.SendAsync<MailCarrier>());
    }

    /// <summary>A notice that was written while packing did not count waits for it; what is worked on again is withdrawn.</summary>
    [Fact]
    public async Task Ready_WrittenBeforeItWasPacked_WaitsForThePacking()
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(server.Port);
        await shop.MakeReadyAsync();
        await using (var context = await shop.Bench.Shop.ContextAsync())
        {
            var packing = await context.WorkItems.OrderByDescending(i => i.Number).Select(i => i.Number).FirstAsync();
            await context.WorkItems.Where(i => i.Number == packing).ExecuteUpdateAsync(i => i.SetProperty(x => x.State, WorkState.Waiting));
        }
        shop.Bench.Wait(600);
        Assert.Equal(0, await shop.SendAsync<MailCarrier>());
        Assert.Equal((null, 0), (Assert.Single(await shop.OutboxAsync()).SentAt, (await shop.OutboxAsync())[0].Tries));
    }

    [Fact]
    public void Form_TicksTakenAway_AreReadAsSuch()
    {
        var start = new MailSettings
        {
            TellReady = true,
            TellQuestion = true,
            TellWorkshop = true,
            MailOverdue = true,
        };
        var form = new MailForm(start)
        {
            TellReady = false,
            TellQuestion = false,
            TellWorkshop = false,
            MailOverdue = false,
        };
        var read = form.Read().Value.Settings;
        Assert.Equal((false, false, false, false), (read.TellReady, read.TellQuestion, read.TellWorkshop, read.MailOverdue));
    }

    [Theory]
    [InlineData("de", "ist fertig und kann abgeholt werden", "Ihr Auftrag 1 ist fertig")]
    [InlineData("de-AT", "ist fertig und kann abgeholt werden", "Ihr Auftrag 1 ist fertig")]
    [InlineData("fr", "is ready and can be picked up", "Your order 1 is ready")]
    public async Task Ready_CustomerWhoChoseALanguage_IsWrittenToInIt(string language, string words, string subject)
    {
        await using var shop = await SendingShop.OpenAsync();
        await shop.AgreedInAsync(language);
        await shop.MailThroughAsync(1);
        await shop.MakeReadyAsync();
        var mail = JsonSerializer.Deserialize<MailContent>(Assert.Single(await shop.OutboxAsync()).Json, JsonForms.Default)!;
        Assert.Equal(subject, mail.Subject);
        Assert.Contains(words, mail.Text, StringComparison.Ordinal);
        Assert.Contains("\n\n", mail.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("{", mail.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Ready_OwnersOwnGerman_GoesBeforeTheShippedOne()
    {
        await using var shop = await SendingShop.OpenAsync();
        await shop.AgreedInAsync("de");
        var own = MailLanguages.Of(new MailSettings(), "de") with
        {
            Ready = new MailText("Fertig: {order}", "Moin {name}, {name} {{order}"),
        };
        var settings = new MailSettings { InLanguage = new Dictionary<string, MailTexts> { ["de"] = own } };
        var fault = Assert.Single(settings.Check());
        Assert.Equal("deReadyText", fault.Field);
        Assert.Contains("{name}, {order}, {workshop}", fault.Text, StringComparison.Ordinal);
        own = own with { Ready = new MailText("Fertig: {order}", "Moin {name}!") };
        await shop.MailThroughAsync(1, s => s with { InLanguage = new Dictionary<string, MailTexts> { ["de"] = own } });
        await shop.MakeReadyAsync();
        var mail = JsonSerializer.Deserialize<MailContent>(Assert.Single(await shop.OutboxAsync()).Json, JsonForms.Default)!;
        Assert.Equal(("Fertig: 1", "Moin Somebody!"), (mail.Subject, mail.Text));
    }

    /// <summary>What is ready is the customer's; a test piece that came out well stays in the workshop.</summary>
    [Fact]
    public async Task Ready_OnlyTheTestPieceIsGood_IsNotTold()
    {
        await using var shop = await SendingShop.OpenAsync(own: true);
        await shop.MailThroughAsync(1);
        await shop.HookAsync("https://other.example/in", OrderNews.Ready, OrderNews.HandedOver);
        var test = await TestPieceTests.WorkTestAsync(shop.Bench);
        BenchShop.Must(await TestPieceTests.JudgeAsync(shop.Bench, test, TestOutcome.Good, ""));
        Assert.Equal("nothing-ready", await HandOverAsync());
        await shop.Bench.WorkToAsync(StepKind.Press);
        Assert.Empty(await shop.OutboxAsync());
        await shop.MakeReadyAsync();
        Assert.Equal(2, (await shop.OutboxAsync()).Count);
        Assert.Equal("", await HandOverAsync());
        Assert.Contains(await shop.OutboxAsync(), m => m.Subject.StartsWith(OrderNews.HandedOver, StringComparison.Ordinal));
        Assert.Equal(PieceState.CheckedGood, (await shop.Bench.PieceAsync(test)).State);

        async Task<string> HandOverAsync()
        {
            await using var context = await shop.Bench.Shop.ContextAsync();
            var order = context.Orders.Single();
            var done = await shop
                .Bench.Shop.Get<ChangeOrder>()
                .RunAsync(shop.Asked(), new OrderChange(order.Id, order.Version, OrderAct.HandOver, ""));
            return done.IsOk ? "" : done.Refusals[0].Code;
        }
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Ready_LastOpenPieceLostOrOrderCalledOff_IsNotTold(bool lost)
    {
        await using var shop = await SendingShop.OpenAsync(pieces: 2, own: true);
        await shop.MailThroughAsync(1);
        await shop.HookAsync("https://other.example/in", OrderNews.Ready);
        await shop.MakeReadyAsync();
        var open = (await shop.Bench.PiecesAsync()).Single(p => p.State == PieceState.Booked);
        if (lost)
        {
            BenchShop.Must(await shop.Bench.Shop.Get<ReceivePieces>().RunAsync(shop.Bench.Ask(), new Target(open.Code)));
            await SpoilAsync(shop, open.Code);
        }
        else
        {
            await using var context = await shop.Bench.Shop.ContextAsync();
            var order = context.Orders.Single();
            var off = new OrderChange(order.Id, order.Version, OrderAct.Cancel, "changed their mind");
            Assert.True((await shop.Bench.Shop.Get<ChangeOrder>().RunAsync(shop.Asked(), off)).IsOk);
        }
        Assert.Empty(await shop.OutboxAsync());
    }

    [Fact]
    public async Task Ready_MoreWasMadeSinceItWasTold_IsToldAgainAndRemindedFromThenOn()
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync(pieces: 2);
        await shop.MailThroughAsync(server.Port);
        BenchShop.Must(await shop.Bench.ReceiveAsync());
        var lost = (await shop.Bench.PiecesAsync())[1].Code;
        await SpoilAsync(shop, lost);
        await shop.MakeReadyAsync();
        await SendAsync(600);
        Assert.Single(server.Mails);
        await SendAsync(6 * 86_400);
        var made = BenchShop.Must(await shop.Bench.Shop.Get<MakeAnother>().RunAsync(shop.Bench.Ask(), new Target(lost))).Codes[0];
        BenchShop.Must(await shop.Bench.Shop.Get<ReceivePieces>().RunAsync(shop.Bench.Ask(), new Target(made)));
        await shop.Bench.WorkToAsync(StepKind.Mask, made);
        await SendAsync(600);
        Assert.Equal(2, server.Mails.Count);
        foreach (var (days, mails) in new[] { (2, 2), (5, 3) })
        {
            await SendAsync(days * 86_400);
            await shop.Bench.Shop.Get<RemindPickUps>().RunAsync();
            await SendAsync(1);
            Assert.Equal(mails, server.Mails.Count);
        }

        async Task SendAsync(double seconds)
        {
            shop.Bench.Wait(seconds);
            await shop.SendAsync<MailCarrier>();
        }
    }

    private static async Task SpoilAsync(SendingShop shop, string code)
    {
        var report = new FaultReport(new Target(code), "run", "", new TimeDecision(TimeChoice.Spoil, "fell down"));
        BenchShop.Must(await shop.Bench.Shop.Get<ReportFault>().RunAsync(shop.Bench.Ask(), report));
    }

    [Fact]
    public async Task Ready_TakenBackInTime_IsWithdrawn()
    {
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(1);
        await shop.MakeReadyAsync();
        Assert.Single(await shop.OutboxAsync());
        // Packed, then judged: two taps back.
        for (var n = 0; n < 2; n++)
            BenchShop.Must(await shop.Bench.Shop.Get<UndoLast>().RunAsync(shop.Bench.Ask(), new UndoWish(shop.Bench.Code, null)));
        Assert.NotEqual(PieceState.CheckedGood, (await shop.Bench.PiecesAsync())[0].State);
        Assert.Empty(await shop.OutboxAsync());
    }

    [Fact]
    public async Task Ready_HandedOverBeforeItWasSent_IsWithdrawn()
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(server.Port);
        await shop.MakeReadyAsync();
        BenchShop.Must(await shop.Bench.Shop.Get<HandOver>().RunAsync(shop.Bench.Ask(), new Target(shop.Bench.Code)));
        shop.Bench.Wait(600);
        await shop.SendAsync<MailCarrier>();
        Assert.Empty(server.Mails);
        Assert.Empty(await shop.OutboxAsync());
    }

    [Fact]
    public async Task Ready_NoServerSet_WritesNothingAndTheBenchGoesOn()
    {
        await using var shop = await SendingShop.OpenAsync();
        await shop.MakeReadyAsync();
        Assert.Equal(PieceState.CheckedGood, (await shop.Bench.PiecesAsync())[0].State);
        Assert.Empty(await shop.OutboxAsync());
    }

    [Fact]
    public async Task Send_ServerAway_TriesAgainLaterAndGivesUpInTheEnd()
    {
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(1);
        await shop.MakeReadyAsync();
        var last = TimeSpan.Zero;
        for (var n = 1; n <= ShopFloor.Data.Records.OutboxMessage.MostTries; n++)
        {
            shop.Bench.Wait(2 * 86_400);
            await shop.SendAsync<MailCarrier>();
            var message = Assert.Single(await shop.OutboxAsync());
            Assert.Equal(n, message.Tries);
            if (message.DeadAt is not null)
                continue;
            var pause = message.NextTryAt - shop.Bench.Shop.Clock.GetUtcNow();
            var least = TimeSpan.FromMinutes(Math.Min(1440, Math.Pow(2, n - 1)));
            Assert.InRange(pause, least, least * 1.25);
            Assert.True(pause > last || pause >= TimeSpan.FromDays(1));
            last = pause;
        }
        var dead = Assert.Single((await shop.Bench.Shop.Get<OutboxView>().LoadAsync(OutboxFilter.Resting, 1)).Rows);
        Assert.NotEqual("", dead.Trouble);
        await using var server = new MailStub();
        await shop.MailThroughAsync(server.Port);
        Assert.True((await shop.Bench.Shop.Get<HandleMessage>().RunAsync(shop.Asked(), new MessageInput(dead.Id, false))).IsOk);
        Assert.Equal(1, await shop.SendAsync<MailCarrier>());
        Assert.Contains($"{dead.Id:N}", Assert.Single(server.Mails), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Send_MailboxUnknown_RestsAtOnce()
    {
        await using var server = new MailStub { RecipientAnswer = "550 no such mailbox" };
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(server.Port);
        await shop.MakeReadyAsync();
        shop.Bench.Wait(600);
        await shop.SendAsync<MailCarrier>();
        var message = Assert.Single(await shop.OutboxAsync());
        Assert.NotNull(message.DeadAt);
        Assert.Contains("no such mailbox", message.Trouble, StringComparison.Ordinal);
    }

    [Fact]
    public async Task PickUp_StillHereAfterSevenAndFourteenDays_IsRemindedOnceEach()
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(server.Port);
        await shop.MakeReadyAsync();
        shop.Bench.Wait(600);
        await shop.SendAsync<MailCarrier>();
        var remind = shop.Bench.Shop.Get<RemindPickUps>();
        foreach (var (days, mails) in new[] { (6, 1), (1.1, 2), (1, 2), (6, 3), (20, 3) })
        {
            shop.Bench.Wait(days * 86_400);
            await remind.RunAsync();
            await remind.RunAsync();
            await shop.SendAsync<MailCarrier>();
            Assert.Equal(mails, server.Mails.Count);
        }
    }

    [Fact]
    public async Task Question_AskedAndAnswered_IsMailedToTheCustomerAndBackToTheWorkshop()
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync(pieces: 1);
        await shop.MailThroughAsync(server.Port);
        var (order, token) = await shop.WithLinkAsync();
        Assert.True((await shop.Bench.Shop.Get<AskCustomer>().RunAsync(shop.Asked(), new CustomerQuestion(order, "Matt or glossy?"))).IsOk);
        var answer = shop.Bench.Shop.Get<AnswerQuestion>();
        Assert.True((await answer.RunAsync(Guid.CreateVersion7(), token, 1, "Matt, please")).IsOk);
        Assert.False((await answer.RunAsync(Guid.CreateVersion7(), token, 1, "No, glossy")).IsOk);
        Assert.Equal(2, await shop.SendAsync<MailCarrier>());
        var mails = server.Mails.ToList();
        Assert.Contains("To: Somebody <somebody@shop.example>", mails[0], StringComparison.Ordinal);
        Assert.Contains("Matt or glossy?", mails[0], StringComparison.Ordinal);
        Assert.Contains("shop@moorlight.example", mails[1], StringComparison.Ordinal);
        Assert.Contains("Matt, please", mails[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Question_MailsSwitchedOff_WritesNone()
    {
        await using var shop = await SendingShop.OpenAsync(pieces: 1);
        await shop.MailThroughAsync(2525, m => m with { TellQuestion = false, TellWorkshop = false });
        var (order, token) = await shop.WithLinkAsync();
        Assert.True((await shop.Bench.Shop.Get<AskCustomer>().RunAsync(shop.Asked(), new CustomerQuestion(order, "Matt or glossy?"))).IsOk);
        Assert.True((await shop.Bench.Shop.Get<AnswerQuestion>().RunAsync(Guid.CreateVersion7(), token, 1, "Matt")).IsOk);
        Assert.Empty(await shop.OutboxAsync());
    }

    [Fact]
    public async Task TryMail_ServerAnswers_SaysSoAndChangesNothing()
    {
        await using var server = new MailStub();
        await using var shop = await SendingShop.OpenAsync();
        await shop.MailThroughAsync(server.Port);
        Assert.True((await shop.Bench.Shop.Get<TryMail>().RunAsync("owner@moorlight.example")).IsOk);
        Assert.Single(server.Mails);
        server.RecipientAnswer = "554 relay refused";
        var refused = await shop.Bench.Shop.Get<TryMail>().RunAsync("owner@moorlight.example");
        Assert.Contains("relay refused", refused.Refusals[0].Text, StringComparison.Ordinal);
        Assert.Empty(await shop.OutboxAsync());
    }

    [Fact]
    public async Task ChangeMail_Password_IsReadableNowhereInTheDatabase()
    {
        await using var shop = await SendingShop.OpenAsync();
        const string password = "correct horse battery";
        var input = new MailInput(
            new()
            {
                Host = "mail.moorlight.example",
                User = "shop",
                From = "shop@moorlight.example",
            },
            password
        );
        Assert.True((await shop.Bench.Shop.Get<ChangeMail>().RunAsync(shop.Asked(), input)).IsOk);
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        foreach (var file in Directory.GetFiles(shop.Bench.Shop.Folder, "shopfloor.db*"))
            Assert.DoesNotContain(
                password,
                System.Text.Encoding.Latin1.GetString(await File.ReadAllBytesAsync(file)),
                StringComparison.Ordinal
            );
    }
}
