using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Steps;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Recipes;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Booking;

/// <summary>What is entered at the Counter becomes an order whole, or not at all.</summary>
public sealed class BookOrderTests
{
    [Fact]
    public async Task Book_WholeOrder_GivesNumberedPiecesWithStepsOfTheirOwnAndAPromise()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Counter);
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(worker), await shop.ShownAsync(ShopOrders.Plates(3)));

        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
        await using var context = await shop.ContextAsync();
        var pieces = await context.Pieces.Where(p => p.Order == booked.Value.Order).ToListAsync();
        Assert.Equal([1, 2, 3], pieces.Select(p => p.Number).Order());
        Assert.Single(pieces.Select(p => p.Tray).Distinct());
        Assert.NotNull(pieces[0].Tray);
        Assert.All(pieces, p => Assert.True(p.Items.Count > 8));
        Assert.True(booked.Value.PromisedAt > shop.Clock.GetUtcNow());
    }

    [Fact]
    public async Task Book_SeveralLines_AreReadAgainInTheOrderTheyWereEntered()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Counter);
        var line = ShopOrders.Plates().Lines[0];
        var six = ShopOrders.Plates() with { Lines = [.. Enumerable.Range(1, 6).Select(count => line with { Quantity = count })] };

        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(worker), await shop.ShownAsync(six));

        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
        await using var context = await shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().FirstAsync(o => o.Id == booked.Value.Order);
        Assert.Equal([1, 2, 3, 4, 5, 6], order.Lines.Select(l => l.Quantity));
        Assert.Equal([1, 2, 3, 4, 5, 6], order.AllLines.Select(l => l.Number));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Book_TheAgreedParts_SumToThePriceAsShown(bool withTax)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var profile = (await shop.Get<SettingsView>().LoadAsync()).Profile;
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile with { PricesIncludeTax = withTax })).IsOk);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(owner), await shop.ShownAsync(ShopOrders.Plates(3)));
        await using var context = await shop.ContextAsync();
        var price = (await context.Orders.AsNoTracking().FirstAsync(o => o.Id == booked.Value.Order)).Lines[0].Price;
        Assert.Equal((withTax, withTax ? price.Gross : price.Net), (price.WithTax, price.Parts.Sum(p => p.Amount)));
        Assert.Equal(withTax, price.Parts.Any(p => p.Code == "tax"));
    }

    [Fact]
    public async Task Book_APictureThatIsNoLongerKept_IsRefusedBesideIt()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var plates = ShopOrders.Plates(1);
        var gone = new Domain.PictureId(Guid.CreateVersion7());
        var order = plates with { RightsAccepted = true, Lines = [plates.Lines[0] with { Picture = gone }] };
        var asked = Asked.By(await shop.WorkerAsync(WorkerRole.Counter));
        var refusal = Assert.Single((await shop.Get<BookOrder>().RunAsync(asked, await shop.ShownAsync(order))).Refusals);
        Assert.Equal(("picture-gone", "lines.0.picture"), (refusal.Code, refusal.Field));
    }

    [Fact]
    public async Task Early_APieceThatNoFinishTakes_IsRefusedBeforeItsSizeIsKnownWithTheReason()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var early = shop.Get<EarlyVerdict>();
        var plate = new PieceDescription
        {
            Material = "al",
            IsOwn = true,
            Hidden = HiddenParts.None,
        };
        Assert.Null(await early.RunAsync(plate));
        Assert.NotEmpty((await early.RunAsync(plate with { Form = Form.Cylinder }))!.Reasons);
        var hollow = await early.RunAsync(
            plate with
            {
                Hidden = HiddenParts.None with { SealedHollow = ShopFloor.Domain.Materials.Answer.Yes },
            }
        );
        Assert.Contains("A closed hollow bursts in the oven.", hollow!.Reasons);
    }

    [Fact]
    public async Task Quote_AfterALargeOrderThatIsNotHereYet_IsPromisedBehindIt()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Counter);
        var order = Lettered(40);
        var before = await shop.Get<QuoteOrder>().RunAsync(order);
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(worker), await shop.ShownAsync(order));
        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);

        var after = await shop.Get<QuoteOrder>().RunAsync(order);

        Assert.True(after.PromisedAt > before.PromisedAt, $"{before.PromisedAt:u} and again {after.PromisedAt:u}");
    }

    /// <summary>Plates with nothing to bring, to approve or to order: they can be begun and printed at once. No stock is kept of their size.</summary>
    private static OrderInput Lettered(int count)
    {
        var line = ShopOrders.Plates(count).Lines[0];
        var piece = line.Piece with { Width = Length.FromMillimetres(101) };
        return ShopOrders.Plates(count) with { Lines = [line with { Piece = piece, Texts = ["Moorlight"] }] };
    }

    /// <summary>A picture that is still to come, or to be approved of, takes the day that the plan allows for it once the order is booked.</summary>
    [Fact]
    public async Task Quote_PictureStillToCome_IsPromisedADayLater()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var now = (await shop.Get<QuoteOrder>().RunAsync(Lettered(1))).PromisedAt!.Value;
        var later = (await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(1, own: true))).PromisedAt!.Value;
        Assert.True(later >= shop.Clock.GetUtcNow().AddDays(1) && later > now, $"{now:u} and {later:u}");
    }

    /// <summary>Nothing is promised for the day on which the test of its material has yet to be made.</summary>
    [Fact]
    public async Task Quote_TestPieceFirst_IsPromisedADayLater()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var order = Lettered(1);
        var unknown = order with { Lines = [order.Lines[0] with { Piece = order.Lines[0].Piece with { Material = "unknown" } }] };
        var quote = await shop.Get<QuoteOrder>().RunAsync(unknown);
        Assert.Equal(Verdict.TestPiece, Assert.Single(quote.Lines).Verdict);
        Assert.True(quote.PromisedAt >= shop.Clock.GetUtcNow().AddDays(1), $"{quote.PromisedAt:u}");
    }

    [Fact]
    public async Task Book_TwoLargeOrdersAtOnce_PromisesTheSecondBehindTheFirst()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Counter);
        var order = await shop.ShownAsync(Lettered(40));
        var quoted = (await shop.Get<QuoteOrder>().RunAsync(order)).PromisedAt;

        // Both compute their promise from the same state before either is booked.
        var both = await Task.WhenAll(
            shop.Get<BookOrder>().RunAsync(Asked.By(worker), order),
            shop.Get<BookOrder>().RunAsync(Asked.By(worker), order)
        );

        Assert.All(both, b => Assert.True(b.IsOk, b.Refusals.FirstOrDefault()?.Text));
        var (first, second) = (both.MinBy(b => b.Value.Number).Value, both.MaxBy(b => b.Value.Number).Value);
        Assert.Equal(quoted, first.PromisedAt);
        Assert.True(second.PromisedAt > first.PromisedAt, $"{first.PromisedAt:u} and {second.PromisedAt:u}");
    }

    [Fact]
    public async Task Quote_SeveralWays_AnswersEachAsIfItWereAlone()
    {
        await using var shop = await ShopOrders.DemoAsync();
        OrderInput[] ways =
        [
            ShopOrders.Plates(12, own: true),
            ShopOrders.Plates(40, own: true) with
            {
                IsRush = true,
            },
            ShopOrders.Plates(40, own: true),
        ];
        var together = await shop.Get<QuoteOrder>().RunAsync(ways);
        shop.Clock.Advance(TimeSpan.FromMinutes(2));
        foreach (var (way, quote) in ways.Zip(together))
            Assert.Equal(((await shop.Get<QuoteOrder>().RunAsync(way)).PromisedAt, true), (quote.PromisedAt, quote.PromisedAt is not null));
    }

    [Fact]
    public async Task Book_RushThatMakesOthersLate_IsForTheWorkshopsPeople()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (customer, clerk) = (await shop.WorkerAsync(WorkerRole.Counter), await shop.WorkerAsync(WorkerRole.Bench));
        for (var large = 0; large < 2; large++)
            Assert.True((await shop.Get<BookOrder>().RunAsync(Asked.By(customer), await shop.ShownAsync(Lettered(24)))).IsOk);
        var rush = await shop.ShownAsync(Lettered(24) with { IsRush = true });
        var (first, turn) = (
            await shop.Get<QuoteOrder>().RunAsync(rush),
            await shop.Get<QuoteOrder>().RunAsync(rush with { IsRush = false })
        );
        Assert.NotEmpty(first.Pushes);
        Assert.All(first.Pushes, p => Assert.True(p.Pieces > 0 && p.Late is null or { Ticks: > 0 }));
        Assert.True(turn is { Pushes.Count: 0 } && turn.PromisedAt > first.PromisedAt && turn.Gross < first.Gross);

        var refused = Assert.Single((await shop.Get<BookOrder>().RunAsync(Asked.By(customer), rush)).Refusals);
        Assert.Equal(("rush-pushes", "rush"), (refused.Code, refused.Field));
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(clerk), rush);
        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
    }

    [Fact]
    public async Task Book_OwnPiece_IsItselfFromTheStart()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Counter);
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(worker), await shop.ShownAsync(ShopOrders.Plates(2, own: true)));
        await using var context = await shop.ContextAsync();
        Assert.All(await context.Pieces.Where(p => p.Order == booked.Value.Order).ToListAsync(), p => Assert.Null(p.Tray));
    }

    [Fact]
    public async Task Book_SentTwiceWithTheSameId_BooksOnceAndAnswersTheSame()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Counter);
        var order = await shop.ShownAsync(ShopOrders.Plates());
        var command = Guid.CreateVersion7();
        var both = await Task.WhenAll(
            shop.Get<BookOrder>().RunAsync(Asked.By(worker, command), order),
            shop.Get<BookOrder>().RunAsync(Asked.By(worker, command), order)
        );
        Assert.Equal(both[0].Value.Order, both[1].Value.Order);
        await using var context = await shop.ContextAsync();
        Assert.Equal(1, (await context.Orders.ToListAsync()).Count(o => o.Contact.Name == "Ida Sandberg"));
    }

    [Fact]
    public async Task Book_PriceChangedSinceShown_IsRefusedAndTheBookedOnesKeepTheirs()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (counter, owner) = (await shop.WorkerAsync(WorkerRole.Counter), await shop.WorkerAsync(WorkerRole.Owner));
        var shown = await shop.ShownAsync(ShopOrders.Plates());
        var before = await shop.Get<BookOrder>().RunAsync(Asked.By(counter), shown);
        var now = await shop.Get<SettingsView>().LoadAsync();
        var dearer = new PricesInput(now.Rates with { LabourPerHour = new Money(90, "EUR") }, now.Rule, now.Inputs);
        Assert.True((await shop.Get<ChangePrices>().RunAsync(Asked.By(owner), dearer)).IsOk);

        var after = await shop.Get<BookOrder>().RunAsync(Asked.By(counter), shown);

        Assert.Equal("price-moved", Assert.Single(after.Refusals).Code);
        await using var context = await shop.ContextAsync();
        var kept = await context.Orders.SingleAsync(o => o.Id == before.Value.Order);
        Assert.Equal(shown.ShownPriceHashes, kept.Lines.Select(l => l.Price.Hash));
        Assert.Equal(1, (await context.Orders.ToListAsync()).Count(o => o.Contact.Name == "Ida Sandberg"));
    }

    /// <summary>The button said a day: a later one is looked at first, an earlier one is no loss.</summary>
    [Fact]
    public async Task Book_DayLaterThanShown_IsRefusedUntilItIsLookedAt()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var counter = await shop.WorkerAsync(WorkerRole.Counter);
        var order = await shop.ShownAsync(ShopOrders.Plates());
        var zone = (await shop.Get<SettingsView>().LoadAsync()).Zone;
        var promised = (await shop.Get<QuoteOrder>().RunAsync(order)).PromisedAt!.Value;
        var day = DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(promised, zone).DateTime);

        var late = await shop.Get<BookOrder>().RunAsync(Asked.By(counter), order with { ShownDay = day.AddDays(-1) });
        Assert.Equal("day-moved", Assert.Single(late.Refusals).Code);

        Assert.True((await shop.Get<BookOrder>().RunAsync(Asked.By(counter), order with { ShownDay = day })).IsOk);
    }

    [Fact]
    public async Task Book_RecipeChangedLater_LeavesThePiecesStepsAsTheyWere()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var (counter, owner) = (await shop.WorkerAsync(WorkerRole.Counter), await shop.WorkerAsync(WorkerRole.Owner));
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(counter), await shop.ShownAsync(ShopOrders.Plates(1)));
        var recipe = (await shop.Get<RecipeListView>().LoadAsync()).First(r => r.Name == "White ground");
        var longer = recipe.Steps.Select(s => s with { LengthSeconds = s.LengthSeconds > 0 ? s.LengthSeconds + 60 : 0 }).ToList();
        Assert.True((await shop.Get<ChangeRecipe>().RunAsync(Asked.By(owner), new RecipeInput(recipe.Id, longer))).IsOk);

        await using var context = await shop.ContextAsync();
        var piece = await context.Pieces.SingleAsync(p => p.Order == booked.Value.Order);
        Assert.Equal(120, piece.Items.OrderBy(i => i.Number).First().Settings.LengthSeconds);
    }

    public static TheoryData<string, OrderInput, string> Faults
    {
        get
        {
            var order = ShopOrders.Plates();
            LineInput Line(Func<LineInput, LineInput> change) => change(order.Lines[0]);
            OrderInput With(LineInput line) => order with { Lines = [line] };
            return new TheoryData<string, OrderInput, string>
            {
                { "no lines", order with { Lines = [] }, "lines" },
                { "no name", order with { Contact = new Contact("", "a@b.example", "") }, "name" },
                { "no way to reach", order with { Contact = new Contact("Ida", "", "") }, "email" },
                { "a long name", order with { Contact = new Contact(new string('x', 100_000), "a@b.example", "") }, "name" },
                { "a day gone by", order with { Wanted = new DateOnly(2026, 3, 3) }, "wanted" },
                { "contact not agreed", order with { ContactAgreed = false }, "contactAgreed" },
                { "risk not accepted", ShopOrders.Plates(1, own: true) with { RiskAccepted = false }, "risk" },
                { "none of it", With(Line(l => l with { Quantity = 0 })), "lines.0.quantity" },
                { "minus one", With(Line(l => l with { Quantity = -1 })), "lines.0.quantity" },
                {
                    "nine metres",
                    With(Line(l => l with { Piece = l.Piece with { Width = Length.FromMillimetres(9000) } })),
                    "lines.0.width"
                },
                { "no thickness", With(Line(l => l with { Piece = l.Piece with { Thickness = Length.Zero } })), "lines.0.thickness" },
                { "too much text", With(Line(l => l with { Texts = [new string('x', 100_000)] })), "lines.0.texts" },
                { "glass finish on metal", With(Line(l => l with { Finish = Domain.Recipes.Finish.BehindGlass })), "lines.0.finish" },
                { "soft material", With(Line(l => l with { Piece = l.Piece with { Material = "pvc" } })), "lines.0.material" },
            };
        }
    }

    [Theory]
    [MemberData(nameof(Faults))]
    public async Task Book_Faulty_NamesTheFieldAndSavesNothing(string what, OrderInput order, string field)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Counter);
        await using var context = await shop.ContextAsync();
        var (orders, customers, entries) = (
            await context.Orders.CountAsync(),
            await context.Customers.CountAsync(),
            await context.Journal.CountAsync()
        );

        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(worker), order);

        Assert.Contains(booked.Refusals, r => r.Field == field);
        Assert.All(booked.Refusals, r => Assert.False(string.IsNullOrWhiteSpace(r.Text), what));
        Assert.Equal(
            (orders, customers, entries),
            (await context.Orders.CountAsync(), await context.Customers.CountAsync(), await context.Journal.CountAsync())
        );
    }

    [Fact]
    public async Task Book_ByNobody_IsRefused()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var order = await shop.ShownAsync(ShopOrders.Plates());
        foreach (var asked in new[] { default, Asked.ByLink(Guid.CreateVersion7()), Asked.By(Guid.CreateVersion7()) })
            Assert.Equal("no-right", Assert.Single((await shop.Get<BookOrder>().RunAsync(asked, order)).Refusals).Code);
    }
}
