using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Documents;

/// <summary>What printing does beside making a file.</summary>
public sealed class PrintTests
{
    private const string Host = "http://shop.example/";

    [Fact]
    public async Task Sheets_PrintedWhole_TheOrderIsPrintedAndTheJournalSaysWhoAndWhen()
    {
        await using var bench = await BenchShop.OpenAsync(2, texts: ["Ada"], printed: false);
        var shop = bench.Shop;
        var order = await OrderAsync(shop);
        Assert.Null(order.PrintedAt);
        var made = (await shop.Get<PaperView>().MakeAsync(Wish(order), Host)).Value;

        var printed = await PrintAsync(bench, made);
        var again = await PrintAsync(bench, made);

        Assert.Equal((printed.Value.Number, 2), (again.Value.Number, again.Value.Times));
        Assert.Equal(shop.Clock.GetUtcNow(), (await OrderAsync(shop)).PrintedAt);
        var journal = (await shop.Get<PrintedList>().ReadAsync(1)).Lines;
        Assert.Equal([true, false], journal.Select(l => l.IsAgain));
        Assert.All(journal, l => Assert.Equal((printed.Value.Number, $"Sheets {order.Number}"), (l.Number, l.Name)));
        Assert.All(journal, l => Assert.NotEmpty(l.By));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Sheets_PrintedInTwoParts_TheOrderIsPrintedWithTheSecondUnlessItsTextsWereChanged(bool changed)
    {
        await using var bench = await BenchShop.OpenAsync(2, texts: ["Ada"], printed: false);
        var shop = bench.Shop;
        var order = await OrderAsync(shop);
        var made = (await shop.Get<PaperView>().MakeAsync(Wish(order), Host)).Value;
        var codes = Assert.Single(made.Orders).Codes;
        Assert.Equal((await bench.PiecesAsync()).Select(p => p.Code).Order(StringComparer.Ordinal), codes);
        Task<Domain.Result<Printed>> PartAsync(string session, string code) =>
            shop.Get<PrintPaper>()
                .RunAsync(
                    Asked.By(bench.Worker),
                    new PaperPrint(new PaperWish(PaperKind.Sheets, session), [])
                    {
                        Orders = [new PrintedOrder(order.Id.Value, IsWhole: false) { Codes = [code] }],
                    }
                );

        Assert.True((await PartAsync("S-1", codes[0])).IsOk);
        Assert.True((await PartAsync("S-1", codes[0])).IsOk);
        Assert.Null((await OrderAsync(shop)).PrintedAt);
        if (changed)
        {
            await using var context = await shop.ContextAsync();
            Assert.True((await context.Orders.SingleAsync()).Reword(1, ["Bea"], []).IsOk);
            await context.SaveChangesAsync();
        }
        Assert.True((await PartAsync("S-2", codes[1])).IsOk);

        Assert.Equal(changed ? (DateTimeOffset?)null : shop.Clock.GetUtcNow(), (await OrderAsync(shop)).PrintedAt);
    }

    [Fact]
    public async Task Sheets_ProofStillOpen_CanBeLookedAtButNotPrinted()
    {
        await using var bench = await BenchShop.OpenAsync(2, texts: ["Ada"]);
        await using (var context = await bench.Shop.ContextAsync())
        {
            (await context.Orders.SingleAsync()).AskForProof();
            await context.SaveChangesAsync();
        }
        var made = (await bench.Shop.Get<PaperView>().MakeAsync(Wish(await OrderAsync(bench.Shop)), Host)).Value;

        var printed = await PrintAsync(bench, made);

        Assert.Contains("proof", made.NotYet, StringComparison.Ordinal);
        Assert.Equal("proof-open", Assert.Single(printed.Refusals).Code);
        Assert.Empty((await bench.Shop.Get<PrintedList>().ReadAsync(1)).Lines);
    }

    [Theory]
    [InlineData("2026-02-30")]
    [InlineData("99")]
    public async Task Sheets_OfNothing_SayWhy(string subject)
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var made = await bench.Shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Sheets, subject), Host);
        Assert.Equal("paper-nothing", Assert.Single(made.Refusals).Code);
    }

    [Fact]
    public async Task Sheets_PieceWithoutPictureAndText_IsNamed()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shown = await bench.Shop.Get<PaperPreview>().LoadAsync(Wish(await OrderAsync(bench.Shop)), Host);
        Assert.Equal("transfer-without-picture", Assert.Single(shown.Made.Refusals).Code);
        Assert.Equal(["", "A4", "A3", "roll 432"], shown.Choices.Select(c => c.Value));
    }

    [Theory]
    [InlineData("A4", 595.3)]
    [InlineData("Letter", 612)]
    public async Task Letters_PaperOfTheWorkshop_IsWhatQuotesAreSetOn(string paper, double points)
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var profile = (await shop.Get<SettingsView>().LoadAsync()).Profile with { Name = "Moorlight", Country = "DE", LettersOn = paper };
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile)).IsOk);

        var pdf = await shop.Get<OrderLetterView>().MakeAsync((await OrderAsync(shop)).Number, OrderLetterKind.Quote, "");

        using var read = UglyToad.PdfPig.PdfDocument.Open(pdf!);
        Assert.Equal(points, read.GetPage(1).Width, 0.1);
        // The sender's country stands in words, as a customer's does.
        Assert.Contains(read.GetPage(1).GetWords(), w => w.Text == "Germany");
        Assert.Equal("LettersOn", Assert.Single((profile with { LettersOn = "B7" }).Check()).Field);
    }

    [Fact]
    public async Task Letter_PrintedAgain_KeepsItsNumberInTheJournal()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        var print = bench.Shop.Get<PrintLetter>();
        var first = await print.RunAsync(Asked.By(owner), new LetterWish(1, OrderLetterKind.Quote));
        var again = await print.RunAsync(Asked.By(owner), new LetterWish(1, OrderLetterKind.Quote));
        var other = await print.RunAsync(Asked.By(owner), new LetterWish(1, OrderLetterKind.Delivery));

        Assert.Equal(first.Value with { Times = 2 }, again.Value);
        Assert.NotEqual(first.Value.Number, other.Value.Number);
        var journal = (await bench.Shop.Get<PrintedList>().ReadAsync(1)).Lines;
        Assert.Equal(["Delivery 1", "Quote 1", "Quote 1"], journal.Select(l => l.Name).Order());
    }

    private static PaperWish Wish(Order order) => new(PaperKind.Sheets, order.Number.ToString(CultureInfo.InvariantCulture));

    private static async Task<Order> OrderAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        return await context.Orders.SingleAsync();
    }

    private static Task<Domain.Result<Printed>> PrintAsync(BenchShop bench, MadePaper made) =>
        bench.Shop.Get<PrintPaper>().RunAsync(Asked.By(bench.Worker), new PaperPrint(made.Wish, made.Transfers) { Orders = made.Orders });
}
