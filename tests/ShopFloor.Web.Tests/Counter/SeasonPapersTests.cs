using ShopFloor.Data;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Offers;
using ShopFloor.Web.Counter.Status;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Seasons;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Near a season papers, the customer's page and other programs are told the same of an order as the Counter says.</summary>
public sealed class SeasonPapersTests
{
    [Theory]
    [InlineData("en", "Ordered today, this one is ready in time. An order after that day is not promised for it.")]
    [InlineData("de", "Für Weihnachten nehmen wir Aufträge bis")]
    public async Task Offer_NearASeason_SaysUntilWhenOrdersAreTaken(string language, string words)
    {
        await using var shop = await ShopOrders.DemoAsync();
        await SeasonAsync(shop, 20, 50);
        var clerk = await shop.WorkerAsync(WorkerRole.Bench);
        var draft = (await shop.Get<BeginDraft>().RunAsync(Asked.By(clerk), PlainEntry.Order("Ada"), CounterStep.Check)).Value;
        Assert.True((await shop.Get<MakeOffer>().RunAsync(Asked.By(clerk), new OfferWish(draft, language))).IsOk);
        var paper = await shop.Get<OfferView>().PaperAsync(clerk, draft);
        Assert.Contains(words, Poppler.Words(paper!.Value.Pdf).ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(20, 50, SeasonWord.InTime, "This one is promised in time for it.")]
    [InlineData(-1, 50, SeasonWord.Over, "We cannot promise any more that this one is in time for it.")]
    [InlineData(0, 0, SeasonWord.TooLate, "This one is not ready for Christmas")]
    public async Task Booked_NearASeason_IsSaidOnPaperOnThePageAndToPrograms(int last, int by, SeasonWord word, string words)
    {
        await using var shop = await ShopOrders.DemoAsync();
        await SeasonAsync(shop, last, by);
        var clerk = await shop.WorkerAsync(WorkerRole.Counter);
        var booked = (await shop.Get<BookOrder>().RunAsync(Asked.By(clerk), await shop.ShownAsync(ShopOrders.Plates()))).Value;

        var paper = await shop.Get<OrderLetterView>().MakeAsync(booked.Number, OrderLetterKind.Confirmation, "");
        Assert.Contains(words, Poppler.Words(paper!).ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.Equal(word, Assert.Single((await shop.Get<StatusView>().RunAsync(booked.StatusToken))!.Seasons).Word);
        var said = Assert.Single(await shop.Get<SeasonsView>().BookedAsync(booked.Number));
        Assert.Equal((word, true), (said.Word, said.IsBooked));
    }

    /// <summary>What was ordered in time stays so after the last day; what is asked for then is not promised.</summary>
    [Fact]
    public async Task Said_AfterTheLastDay_HoldsForTheDayOfTheOrder()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await SeasonAsync(shop, 5, 50);
        var clerk = await shop.WorkerAsync(WorkerRole.Counter);
        var booked = (await shop.Get<BookOrder>().RunAsync(Asked.By(clerk), await shop.ShownAsync(ShopOrders.Plates()))).Value;
        shop.Clock.Advance(TimeSpan.FromDays(10));
        var view = shop.Get<SeasonsView>();
        Assert.Equal(SeasonWord.InTime, Assert.Single(await view.BookedAsync(booked.Number)).Word);
        Assert.Equal(SeasonWord.Over, Assert.Single(await view.OfferedAsync(shop.Clock.GetUtcNow().AddDays(3))).Word);
    }

    private static async Task SeasonAsync(TestShop shop, int last, int by)
    {
        var today = (await shop.Get<SeasonsView>().LoadAsync()).Today;
        var season = new Season("Christmas", today.AddDays(last), today.AddDays(by)) { German = "Weihnachten" };
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        Assert.True((await shop.Get<ChangeSeasons>().RunAsync(Asked.By(owner), new SeasonChange(season))).IsOk);
    }
}
