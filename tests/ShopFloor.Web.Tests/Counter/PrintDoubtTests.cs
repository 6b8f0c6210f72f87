using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Office.Orders;
using ShopFloor.Web.Tests.Support;
using UglyToad.PdfPig;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Letters too small to read and pictures too coarse are told while they can be changed, and again where they are printed.</summary>
public sealed class PrintDoubtTests
{
    private static readonly string Long = string.Concat(Enumerable.Repeat("Anniversary ", 8)).Trim();

    private static LineEntry Plate(string text, int pixels) =>
        new()
        {
            IsOwn = true,
            Material = "al",
            Form = Form.Flat,
            Width = "100",
            Height = "60",
            Thickness = "1",
            Value = "20",
            HiddenAnswer = HiddenAnswer.Nothing,
            OldCoat = ShopFloor.Domain.Materials.Answer.No,
            Finish = Finish.WhiteGround,
            Text = text,
            Picture = pixels == 0 ? null : new PictureEntry(new PictureId(Guid.CreateVersion7()), pixels, pixels * 64 / 104, "p.png"),
        };

    [Fact]
    public void Of_LongTextAndFewPixels_NamesBothWithTheirNumbers()
    {
        var doubts = PrintDoubts.Of(Plate(Long, 208), LengthUnit.Millimetre, new PrintRules(2));
        Assert.InRange(Assert.Single(doubts.Small).CapMm, 1, 2);
        // 208 pixels over 100 mm and 2 mm of bleed at either side are 2 in a mm; the eye tells 8.6 apart.
        Assert.Equal(new CoarsePicture(51, 24), doubts.Coarse);
        var fine = PrintDoubts.Of(Plate("Boat club", 2080), LengthUnit.Millimetre, new PrintRules(2));
        Assert.Equal((0, null), (fine.Small.Count, fine.Coarse));
        Assert.Empty(PrintDoubts.Of(Plate(Long, 208) with { Width = "" }, LengthUnit.Millimetre, new PrintRules(2)).Small);
    }

    [Theory]
    [InlineData(CounterStep.Picture)]
    [InlineData(CounterStep.Check)]
    public async Task Counter_SmallLettersAndCoarsePicture_AreSaidWhileTypingAndAtCheckAndTheTickGoesWithAChange(CounterStep step)
    {
        await using var counter = await CounterHost.OpenAsync();
        await using var scope = counter.Host.Services.CreateAsyncScope();
        await using var browser = new BunitContext();
        browser.JSInterop.Mode = JSRuntimeMode.Loose;
        browser.Services.AddFallbackServiceProvider(scope.ServiceProvider);
        browser.SetRendererInfo(new RendererInfo("Server", isInteractive: true));
        var desk = scope.ServiceProvider.GetRequiredService<OrderDesk>();
        if (step == CounterStep.Picture)
        {
            var typing = await OpenAsync(counter, browser, step, Plate("Boat club", 0));
            Assert.Empty(typing.FindAll(".small-letters"));
            desk.Keeper!.ChangeLine(l => l with { Text = Long });
            typing.WaitForAssertion(() =>
                Assert.Contains("hard to read", typing.Find(".small-letters").TextContent, StringComparison.Ordinal)
            );
            await desk.Keeper!.FlushAsync();
            return;
        }
        var check = await OpenAsync(counter, browser, step, Plate(Long, 208));
        Assert.Contains("51 pixels per inch", check.Find(".coarse-picture").TextContent, StringComparison.Ordinal);
        Assert.Contains("width of 24 mm", check.Find(".coarse-picture").TextContent, StringComparison.Ordinal);
        Assert.NotEmpty(check.FindAll(".small-letters"));
        Assert.Empty(desk.Input(desk.Keeper!.Id, desk.Keeper.Entry).CoarseTold);
        await check.InvokeAsync(() => check.Find("#coarse").ChangeAsync(new() { Value = true }));
        Assert.Equal("0:51", desk.Keeper!.Entry.CoarseTold);
        Assert.Equal([1], desk.Input(desk.Keeper!.Id, desk.Keeper.Entry).CoarseTold);
        Assert.Empty(desk.Input(desk.Keeper!.Id, desk.Keeper.Entry.WithLine(l => l with { Width = "150" })).CoarseTold);
        await check.InvokeAsync(() => check.Find("#coarse").ChangeAsync(new() { Value = false }));
        Assert.Equal("", desk.Keeper!.Entry.CoarseTold);
        await desk.Keeper!.FlushAsync();
    }

    /// <summary>Of two coarse pictures the customer may know one: what is ticked for it says nothing of the other.</summary>
    [Fact]
    public void Told_OfOneOfTwoPictures_StandsForThatOneAlone()
    {
        var entry = new OrderEntry { Lines = [Plate(Long, 208), Plate(Long, 208)] };
        var coarse = PrintDoubts.CoarseStamps(entry, new PrintRules(2));
        Assert.Equal(["0:51", "1:51"], coarse.Select(c => c.Stamp));
        IReadOnlyList<int> Told(OrderEntry e) => EntryReading.Order(e, Guid.Empty, new PrintRules(2), "en").CoarseTold;

        var second = entry.Told(coarse[1].Stamp, on: true);
        Assert.Equal([2], Told(second));
        Assert.Equal([1, 2], Told(second.Told(coarse[0].Stamp, on: true)).Order());
        Assert.Empty(Told(second.Told(coarse[1].Stamp, on: false)));
    }

    [Fact]
    public async Task Book_CustomerWasTold_IsKeptWithTheOrder()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1, Long) with { CoarseTold = [1] });
        var agreed = (await shop.DetailAsync()).Agreements;
        Assert.Contains(agreed, a => a.IsCoarseTold(1));
        Assert.DoesNotContain(agreed, a => a.IsCoarseTold(2));
        // Orders of before have one agreement for all their lines.
        Assert.True((agreed[0] with { What = "coarse picture" }).IsCoarseTold(2));
        var line = Assert.Single(await shop.Get<ProofView>().LoadAsync(shop.Booked.Number));
        Assert.Equal(Long, Assert.Single(line.Doubts.Small).Text);
        await using var page = TestPage.Plain();
        var said = page.Render<OrderDoubts>(p =>
            p.Add(d => d.Doubts, line.Doubts with { Coarse = new CoarsePicture(51, 24) }).Add(d => d.Told, true).Add(d => d.Line, 1)
        );
        Assert.Contains(
            "51 pixels per inch. It would be sharp up to a width of 24 mm. The customer was told.",
            said.Find(".notice").TextContent,
            StringComparison.Ordinal
        );
        Assert.Contains(Long, said.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Sheet_OfSmallLetters_SaysSoBesideThePrint()
    {
        await using var bench = await BenchShop.OpenAsync(1, texts: [Long], printed: false);
        var made = await bench.Shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Sheets, "1"), "http://shop.example/");
        using var read = PdfDocument.Open(made.Value.Paper.ToBytes());
        var words = string.Join(' ', read.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.Contains("letters only 1.", words, StringComparison.Ordinal);
    }

    private static async Task<IRenderedComponent<OrderPage>> OpenAsync(
        CounterHost counter,
        BunitContext browser,
        CounterStep step,
        LineEntry line
    )
    {
        var worker = await counter.WorkerAsync(WorkerRole.Counter);
        var entry = new OrderEntry
        {
            BookCommand = Guid.CreateVersion7(),
            Name = "Ada Fenwick",
            Email = "ada@shop.example",
            ContactAgreed = true,
            Lines = [line],
        };
        var draft = (await counter.Get<BeginDraft>().RunAsync(Asked.By(worker), entry, step)).Value;
        var user = TestPage.Worker(worker);
        var page = browser.Render<OrderPage>(p =>
            p.Add(o => o.Id, draft).Add(o => o.Word, step.Word()).AddCascadingValue(TestPage.Session(user))
        );
        page.WaitForElement("#price-total");
        return page;
    }
}
