using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Other ways are worked out for real: their price and day come from the same quote as the order's own.</summary>
public sealed class OtherWaysTests
{
    private static readonly OrderEntry Plate = new()
    {
        Lines =
        [
            new LineEntry
            {
                IsOwn = true,
                Material = "al",
                Form = Form.Flat,
                Width = "200",
                Height = "120",
                Thickness = "2",
                Value = "20",
                HiddenAnswer = HiddenAnswer.Nothing,
                OldCoat = ShopFloor.Domain.Materials.Answer.No,
                Finish = Finish.WhiteGround,
                Picture = new PictureEntry(new PictureId(Guid.CreateVersion7()), 2400, 1440, "p.jpg"),
            },
        ],
    };

    private static async Task<(OrderQuote Now, IReadOnlyList<(OtherWay Way, OrderQuote Quote)> Ways)> QuotesAsync(
        TestShop shop,
        OrderEntry entry
    )
    {
        var choices = await shop.Get<CounterChoicesView>().RunAsync();
        Task<OrderQuote> Quote(OrderEntry e) =>
            shop.Get<QuoteOrder>().RunAsync(EntryReading.Order(e, Guid.CreateVersion7(), choices.Print, "en"));
        var now = await Quote(entry);
        var ways = new List<(OtherWay, OrderQuote)>();
        foreach (var way in OtherWays.Of(entry, choices, now.PromisedAt is not null))
            ways.Add((way, await Quote(way.Entry)));
        return (now, ways);
    }

    [Fact]
    public async Task Of_RushOrder_ItsTurnIsCheaperAndSoIsASmallerPicture()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (now, ways) = await QuotesAsync(shop, Plate with { IsRush = true });
        var offered = ways.Select(w => OfferedWay.Compared(w.Way, now, w.Quote, true)).OfType<OfferedWay>().ToList();

        var turn = Assert.Single(offered, o => !o.Way.Entry.IsRush);
        Assert.True(turn.Cheaper > 0);
        Assert.Equal(now.Gross!.Value - turn.Cheaper, turn.Total);
        Assert.Contains(offered, o => o.Way.Entry.Line.Framing is { Fill: false, Share: < 1 });
        Assert.All(offered, o => Assert.True(o.Cheaper > 0 || o.PromisedAt < now.PromisedAt));
    }

    [Fact]
    public void Added_FirstAndInItsTurn_IsTheDifferenceThatIsShownAndNothingWhereTheDayIsTheSame()
    {
        var day = new DateTimeOffset(2026, 3, 6, 17, 0, 0, TimeSpan.Zero);
        var turn = new OrderQuote([], 25.97m, 30.90m, 19, "EUR", day, 0, day);
        var first = turn with { Net = 33.70m, Gross = 40.10m };

        Assert.Equal((9.20m, 7.73m), (new RushOffer(first, turn, true).Added, new RushOffer(first, turn, false).Added));
        Assert.True(new RushOffer(first, turn, true).IsForNothing);
        Assert.False(new RushOffer(first with { PromisedAt = day.AddDays(-1) }, turn, true).IsForNothing);
        Assert.False(new RushOffer(first, turn with { Gross = null, PromisedAt = null }, true).IsForNothing);
        Assert.Null(new RushOffer(first, null, true).Added);
    }

    /// <summary>Beside a price without tax the other ways stand without it too.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Compared_AnotherWay_CostsWhatWouldBeShown(bool withTax)
    {
        var day = new DateTimeOffset(2026, 3, 6, 17, 0, 0, TimeSpan.Zero);
        var turn = new OrderQuote([], 25.97m, 30.90m, 19, "EUR", day, 0, day);
        var offer = OfferedWay.Compared(new OtherWay("", Plate), turn with { Net = 33.70m, Gross = 40.10m }, turn, withTax)!;
        Assert.Equal(withTax ? (30.90m, 9.20m) : (25.97m, 7.73m), (offer.Total, offer.Cheaper));
    }

    /// <summary>Each card of a look says what it would cost this customer: their group's discount is in it.</summary>
    [Fact]
    public async Task FinishPrices_CustomerOfAGroup_AreTheOnesThatAreBooked()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var choices = await shop.Get<CounterChoicesView>().RunAsync();
        CustomerId customer;
        await using (var context = await shop.ContextAsync())
        {
            var known = await context.Customers.FirstAsync();
            context.Entry(known).Property(c => c.Group).CurrentValue = "club";
            customer = known.Id;
            await context.SaveChangesAsync();
        }
        var now = await shop.Get<SettingsView>().LoadAsync();
        var rule = now.Rule with { GroupDiscounts = [new GroupDiscount("club", "Boat club", 10m)] };
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        Assert.True((await shop.Get<ChangePrices>().RunAsync(Asked.By(owner), new PricesInput(now.Rates, rule, now.Inputs))).IsOk);
        var input = EntryReading.Order(Plate with { Customer = customer }, Guid.CreateVersion7(), choices.Print, "en");

        var offers = await shop.Get<FinishPrices>().RunAsync(input.Lines[0], (false, customer), [Finish.WhiteGround]);

        var quote = await shop.Get<QuoteOrder>().RunAsync(input);
        Assert.Equal(quote.Lines[0].Price!.LineTotal.Amount, offers[Finish.WhiteGround].Total);
        var stranger = await shop.Get<FinishPrices>().RunAsync(input.Lines[0], (false, null), [Finish.WhiteGround]);
        Assert.True(offers[Finish.WhiteGround].Total < stranger[Finish.WhiteGround].Total);
    }

    [Fact]
    public async Task Of_AnyOrder_EveryWayChangesOneThingOnly()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var choices = await shop.Get<CounterChoicesView>().RunAsync();
        foreach (var way in OtherWays.Of(Plate, choices))
        {
            var changed =
                (way.Entry.IsRush != Plate.IsRush ? 1 : 0)
                + (way.Entry.Line.Finish != Plate.Line.Finish ? 1 : 0)
                + (way.Entry.Line.Framing != Plate.Line.Framing ? 1 : 0);
            Assert.Equal(1, changed);
        }
    }

    /// <summary>More than the coating on the shelf: there is no day, and some of them, or another look, would have one.</summary>
    [Fact]
    public async Task Of_TooManyForTheCoating_FewerPiecesHaveADay()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var many = Plate.WithLine(l => l with { Quantity = "150", Picture = null, Text = "Moor" });
        var (now, ways) = await QuotesAsync(shop, many);
        Assert.Null(now.PromisedAt);
        var best = OtherWays.Best(ways.Select(w => OfferedWay.Compared(w.Way, now, w.Quote, true)).OfType<OfferedWay>());
        var fewer = Assert.Single(best, o => o.Way.Fewer is not null);
        Assert.InRange(fewer.Way.Fewer!.Value, 1, 149);
        Assert.Equal(fewer.Way.Fewer, EntryReading.Quantity(fewer.Way.Entry.Line));
    }

    [Fact]
    public void Placement_SmallerPicture_ComesBackTheSameFromABookedLine()
    {
        var line = Plate.Line with { Framing = Framing.Whole.Sized(0.7) };
        var on = EntryReading.Line(line, LengthUnit.Millimetre, 2).Placement;
        Assert.Equal((PictureFit.Fit, 0.7), (on.Fit, on.Share));
        Assert.Equal(line.Framing, Framing.Of(on, 2400, 1440, 204, 124));
    }
}
