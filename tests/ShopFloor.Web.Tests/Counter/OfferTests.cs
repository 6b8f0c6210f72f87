using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Offers;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Sending;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Sending;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>An entry that is offered in writing before it is booked: its price holds until its day, for what was offered and nothing else.</summary>
public sealed class OfferTests
{
    [Fact]
    public async Task Booking_WithinTheDays_IsAtTheOfferedPriceWhateverTheRatesAreNow()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (clerk, draft) = (await shop.WorkerAsync(WorkerRole.Bench), await BeginAsync(shop));
        var offered = (await QuoteAsync(shop, draft)).Gross;
        var made = await OfferAsync(shop, clerk, draft);
        await DearerAsync(shop);
        shop.Clock.Advance(TimeSpan.FromDays(14));

        var quote = await QuoteAsync(shop, draft);
        var today = await QuoteAsync(shop, draft, e => e with { TodaysPrice = true });

        Assert.Equal((OfferState.Counts, true, made.Number), (quote.Offer!.State, quote.Offer.Differs, quote.Offer.Offer.Number));
        Assert.Equal((offered, OfferState.SetAside), (quote.Gross, today.Offer!.State));
        Assert.True(today.Gross > offered);
        Assert.Equal(today.Gross, quote.Offer.Today);
        var booked = await BookAsync(shop, draft, quote);
        Assert.True(booked.IsOk, booked.IsOk ? "" : booked.Refusals[0].Text);
        await using var context = await shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.Id == booked.Value.Order);
        Assert.Equal(offered, order.Gross);
        Assert.Equal(quote.Lines[0].Price!.Hash, order.Lines[0].Price.Hash);
    }

    [Fact]
    public async Task Booking_AtTodaysPriceByChoice_IsNotTheOfferedOne()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (clerk, draft) = (await shop.WorkerAsync(WorkerRole.Bench), await BeginAsync(shop));
        await OfferAsync(shop, clerk, draft);
        var shown = await QuoteAsync(shop, draft);
        await DearerAsync(shop);

        var booked = await BookAsync(shop, draft, shown, e => e with { TodaysPrice = true });

        Assert.Equal("price-moved", booked.Refusals[0].Code);
    }

    [Theory]
    [InlineData("quantity", OfferState.Changed)]
    [InlineData("look", OfferState.Changed)]
    [InlineData("rush", OfferState.Changed)]
    [InlineData("text", OfferState.Counts)]
    [InlineData("phone", OfferState.Counts)]
    public async Task Offer_OfAnEntryThatIsChanged_CountsOnlyForWhatWasOffered(string what, OfferState expected)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (clerk, draft) = (await shop.WorkerAsync(WorkerRole.Bench), await BeginAsync(shop));
        await OfferAsync(shop, clerk, draft);

        var quote = await QuoteAsync(
            shop,
            draft,
            e =>
                what switch
                {
                    "quantity" => e.WithLine(l => l with { Quantity = "3" }),
                    "look" => e.WithLine(l => l with { Finish = Finish.ShowThrough }),
                    "rush" => e with { IsRush = true },
                    "text" => e.WithLine(l => l with { Text = "Moor" }),
                    _ => e with { Phone = "1234" },
                }
        );

        Assert.Equal(expected, quote.Offer!.State);
    }

    [Fact]
    public async Task Offer_AfterItsLastDay_GivesWayToTodaysPrice()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (clerk, draft) = (await shop.WorkerAsync(WorkerRole.Bench), await BeginAsync(shop));
        await OfferAsync(shop, clerk, draft);
        await DearerAsync(shop);
        shop.Clock.Advance(TimeSpan.FromDays(15));
        var quote = await QuoteAsync(shop, draft);
        Assert.Equal((OfferState.Over, quote.Offer!.Today), (quote.Offer.State, quote.Gross));
    }

    [Fact]
    public async Task Paper_InEnglishAndGerman_SaysWhatHoldsAndAsksForNoMoney()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (clerk, draft) = (await shop.WorkerAsync(WorkerRole.Bench), await BeginAsync(shop));
        var first = await OfferAsync(shop, clerk, draft);
        var paper = (await shop.Get<OfferView>().PaperAsync(clerk, draft))!.Value;
        var words = Poppler.Words(paper.Pdf).ReplaceLineEndings(" ");
        Assert.Equal(first.Number, paper.Number);
        foreach (
            var said in new[]
            {
                $"Quote {first.Number}",
                "Ada Fenwick",
                "18 March 2026",
                "coated",
                "print pressed in",
                "Prices include VAT.",
                "VAT 19 % in it",
                "if you order today",
                "held for you only once you order",
                "an offer and no invoice",
            }
        )
            Assert.Contains(said, words, StringComparison.Ordinal);
        Assert.DoesNotContain("Due", words, StringComparison.Ordinal);

        var second = await OfferAsync(shop, clerk, draft, "de");
        Assert.NotEqual(first.Number, second.Number);
        var german = Poppler.Words((await shop.Get<OfferView>().PaperAsync(clerk, draft))!.Value.Pdf).ReplaceLineEndings(" ");
        foreach (var said in new[] { $"Angebot {second.Number}", "18. März 2026", "beschichtet", "keine Rechnung", "erst gehalten" })
            Assert.Contains(said, german, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Offer_OfADeviceOfTheCounter_IsRefused()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var draft = await BeginAsync(shop);
        var device = await shop.WorkerAsync(WorkerRole.Counter);
        var refused = await shop.Get<MakeOffer>().RunAsync(Asked.By(device), new OfferWish(draft, "en"));
        Assert.Equal("no-right", refused.Refusals[0].Code);
        Assert.Null(await shop.Get<OfferView>().PaperAsync(device, draft));
    }

    [Theory]
    [InlineData("early")]
    [InlineData("name")]
    public async Task Offer_OfAnEntryThatSaysTooLittle_SaysWhatIsMissing(string missing)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var clerk = await shop.WorkerAsync(WorkerRole.Bench);
        var draft = await BeginAsync(shop, e => missing == "name" ? e with { Name = "" } : e.WithLine(l => l with { Finish = null }));
        var refused = await shop.Get<MakeOffer>().RunAsync(Asked.By(clerk), new OfferWish(draft, "en"));
        Assert.Equal($"offer-{missing}", refused.Refusals[0].Code);
    }

    [Fact]
    public async Task Mail_OfAnOffer_GoesOnceAndCarriesItsPaper()
    {
        await using var server = new MailStub();
        await using var shop = await ShopOrders.DemoAsync();
        var (clerk, owner) = (await shop.WorkerAsync(WorkerRole.Bench), await shop.WorkerAsync(WorkerRole.Owner));
        var draft = await BeginAsync(shop);
        var made = await OfferAsync(shop, clerk, draft);
        Assert.Equal("mail-none", (await shop.Get<MailOffer>().RunAsync(Asked.By(clerk), draft)).Refusals[0].Code);
        var mail = new MailSettings
        {
            Host = "127.0.0.1",
            Port = server.Port,
            Line = MailLine.Open,
            From = "shop@moorlight.example",
        };
        Assert.True((await shop.Get<ChangeMail>().RunAsync(Asked.By(owner), new MailInput(mail, null))).IsOk);

        Assert.True((await shop.Get<MailOffer>().RunAsync(Asked.By(clerk), draft)).IsOk);
        Assert.Equal("offer-sent", (await shop.Get<MailOffer>().RunAsync(Asked.By(clerk), draft)).Refusals[0].Code);
        await shop.Get<SendDue>().RunAsync(shop.Get<MailCarrier>(), default);

        var sent = server.Mails.Single(m => m.Contains("ada@shop.example", StringComparison.Ordinal));
        Assert.Contains($"Our offer {made.Number}", sent, StringComparison.Ordinal);
        Assert.Contains($"{made.Number}.pdf", sent, StringComparison.Ordinal);
        Assert.Contains("application/pdf", sent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Entry_ThatWasOffered_OutlivesTheTabletAndItsDaysUntilTheOfferIsOver()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (clerk, device) = (await shop.WorkerAsync(WorkerRole.Bench), await shop.WorkerAsync(WorkerRole.Counter));
        var draft = await BeginAsync(shop, by: device);
        await OfferAsync(shop, clerk, draft);

        Assert.True((await shop.Get<WipeDraft>().RunAsync(Asked.By(device), draft)).IsOk);
        Assert.False((await shop.Get<OpenDraft>().RunAsync(device, draft)).IsOk);
        shop.Clock.Advance(TimeSpan.FromDays(14));
        await shop.Get<ClearOldData>().RunAsync();
        var entry = Assert.Single(await shop.Get<OpenEntries>().RunAsync(), e => e.Id == draft);
        Assert.Equal(OfferState.Counts, (await QuoteAsync(shop, draft)).Offer!.State);
        Assert.Equal("Ada Fenwick", entry.Name);
        shop.Clock.Advance(TimeSpan.FromDays(2));
        await shop.Get<ClearOldData>().RunAsync();
        Assert.DoesNotContain(await shop.Get<OpenEntries>().RunAsync(), e => e.Id == draft);
    }

    private static async Task<Guid> BeginAsync(TestShop shop, Func<OrderEntry, OrderEntry>? change = null, Guid? by = null)
    {
        var entry = PlainEntry.Order("Ada");
        var worker = by ?? await shop.WorkerAsync(WorkerRole.Bench);
        return (await shop.Get<BeginDraft>().RunAsync(Asked.By(worker), change?.Invoke(entry) ?? entry, CounterStep.Check)).Value;
    }

    private static async Task<OfferMade> OfferAsync(TestShop shop, Guid clerk, Guid draft, string language = "en")
    {
        var made = await shop.Get<MakeOffer>().RunAsync(Asked.By(clerk), new OfferWish(draft, language));
        Assert.True(made.IsOk, made.IsOk ? "" : made.Refusals[0].Text);
        return made.Value;
    }

    private static async Task<OrderInput> InputAsync(TestShop shop, Guid draft, Func<OrderEntry, OrderEntry>? change)
    {
        await using var context = await shop.ContextAsync();
        var entry = KeptOrder.Of(await context.Drafts.AsNoTracking().SingleAsync(d => d.Id == draft)).Entry;
        return EntryReading.Order(change?.Invoke(entry) ?? entry, draft, new PrintRules(2), "en");
    }

    private static async Task<OrderQuote> QuoteAsync(TestShop shop, Guid draft, Func<OrderEntry, OrderEntry>? change = null) =>
        await shop.Get<QuoteOrder>().RunAsync(await InputAsync(shop, draft, change));

    private static async Task<Result<BookedOrder>> BookAsync(
        TestShop shop,
        Guid draft,
        OrderQuote shown,
        Func<OrderEntry, OrderEntry>? change = null
    )
    {
        var input = await InputAsync(shop, draft, change) with { ShownPriceHashes = [.. shown.Lines.Select(l => l.Price!.Hash)] };
        return await shop.Get<BookOrder>().RunAsync(Asked.By(await shop.WorkerAsync(WorkerRole.Counter)), input);
    }

    private static async Task DearerAsync(TestShop shop)
    {
        var now = await shop.Get<SettingsView>().LoadAsync();
        var dearer = new PricesInput(now.Rates with { LabourPerHour = new Money(90, "EUR") }, now.Rule, now.Inputs);
        Assert.True((await shop.Get<ChangePrices>().RunAsync(Asked.By(await shop.WorkerAsync(WorkerRole.Owner)), dearer)).IsOk);
    }
}
