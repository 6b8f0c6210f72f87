using System.Net;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Counter.Steps;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Support;
using UglyToad.PdfPig;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Of a list of texts all are proved: on a paper, in the placing tool, on the customer's own page. With one text all stays as it was.</summary>
public sealed class ProofPaperTests
{
    private const string Longest = "Bartholomew of the Northern Lighthouse Society";
    private static readonly string[] Listed = ["Ann", Longest, "Cy", "Ελένη"];

    [Fact]
    public async Task Paper_OfALineWithAList_HasEveryTextForCustomerAndOffice()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await BookAsync(counter, Listed);
        using var customer = counter.Host.Client();
        using var office = await counter.Host.ClientAsync(WorkerRole.Owner);
        using var own = await customer.GetAsync($"/status/{booked.StatusToken}/proof.pdf");
        using var theirs = await office.GetAsync($"/office/orders/{booked.Number}/proof.pdf");
        using var stranger = await customer.GetAsync($"/office/orders/{booked.Number}/proof.pdf");

        Assert.True(own.Headers.CacheControl?.NoStore);
        Assert.NotEqual("application/pdf", stranger.Content.Headers.ContentType?.MediaType);
        foreach (var answer in (HttpResponseMessage[])[own, theirs])
        {
            var words = Words(await answer.Content.ReadAsByteArrayAsync());
            Assert.Contains($"Proof of order {booked.Number}", words, StringComparison.Ordinal);
            Assert.Contains(Longest, words, StringComparison.Ordinal);
            // On the face, below it, in the list.
            Assert.Equal(3, words.Split(' ').Count(w => w == "Ann"));
            Assert.Equal(3, words.Split(' ').Count(w => w == "Ελένη"));
        }
    }

    [Fact]
    public async Task Paper_OfALineWithOneText_IsNoneAndThePageIsAsBefore()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await BookAsync(counter, "Ann");
        using var customer = counter.Host.Client();
        using var office = await counter.Host.ClientAsync(WorkerRole.Owner);

        Assert.Equal(HttpStatusCode.NotFound, (await customer.GetAsync($"/status/{booked.StatusToken}/proof.pdf")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await office.GetAsync($"/office/orders/{booked.Number}/proof.pdf")).StatusCode);
        var page = await PageAsync(customer, $"/status/{booked.StatusToken}");
        Assert.Equal("Ann", page.QuerySelector(".face-text")!.TextContent.Trim());
        Assert.Empty(page.QuerySelectorAll(".piece-turn, .status-texts, a[href*='proof.pdf']"));
    }

    [Fact]
    public async Task Status_ListOfTexts_OpensOnTheWorstAndShowsEachByALink()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await BookAsync(counter, Listed);
        using var customer = counter.Host.Client();
        var page = await PageAsync(customer, $"/status/{booked.StatusToken}");
        Assert.Equal(Longest, page.QuerySelector(".face-text")!.TextContent.Trim());
        Assert.Equal(4, page.QuerySelectorAll(".status-texts li").Length);
        var links = page.QuerySelectorAll(".status-texts a").Select(a => a.GetAttribute("href")!).ToList();
        for (var i = 0; i < Listed.Length; i++)
        {
            var shown = await PageAsync(customer, "/" + links[i]);
            Assert.Equal(Listed[i], shown.QuerySelector(".face-text")!.TextContent.Trim());
            Assert.Contains($"{i + 1} of 4", shown.QuerySelector(".piece-turn")!.TextContent, StringComparison.Ordinal);
        }
        var odd = await PageAsync(customer, $"/status/{booked.StatusToken}?line=x&piece=99");
        Assert.Equal(Longest, odd.QuerySelector(".face-text")!.TextContent.Trim());
    }

    [Fact]
    public async Task Place_ListOfTexts_OpensOnTheWorstAndTurnsToTheOthers()
    {
        await using var page = TestPage.Plain();
        var line = LineOf(Listed) with { Picture = new PictureEntry(new(Guid.CreateVersion7()), 300, 200, "p.png") };
        var tool = page.Render<LayPicture>(p => Fill(p, line));
        Assert.Equal(Longest, tool.Find(".face-text").TextContent.Trim());
        Assert.Contains("2 of 4", tool.Find(".piece-turn [role=status]").TextContent, StringComparison.Ordinal);

        await tool.FindAll(".piece-turn button")[0].ClickAsync(new());
        tool.WaitForAssertion(() => Assert.Equal("Ann", tool.Find(".face-text").TextContent.Trim()));
        // The picture was moved meanwhile: the piece that is looked at stays.
        tool.Render(p => Fill(p, line with { Framing = line.Framing.Turned() }));
        Assert.Equal("Ann", tool.Find(".face-text").TextContent.Trim());

        tool.Render(p => Fill(p, line with { List = "", Text = "Ann" }));
        Assert.Empty(tool.FindAll(".piece-turn"));
        Assert.Equal("Ann", tool.Find(".face-text").TextContent.Trim());
    }

    [Fact]
    public async Task Office_ListOfTexts_TurnsToEachAndMarksIt()
    {
        await using var page = TestPage.Plain();
        var long2 = string.Join(' ', Enumerable.Repeat("Anniversary", 14));
        var shown = page.Render<ProofFigure>(p =>
            p.Add(f => f.Order, 7).Add(f => f.Line, new ProofLine(1, LineOf("Ann", long2), default, "#ffffff", new PrintRules(2)))
        );
        Assert.Equal(long2, shown.Find(".face-text").TextContent.Trim());
        Assert.Contains("does not fit", shown.Find(".piece-turn").TextContent, StringComparison.Ordinal);
        await shown.FindAll(".piece-turn button")[0].ClickAsync(new());
        shown.WaitForAssertion(() => Assert.Equal("Ann", shown.Find(".face-text").TextContent.Trim()));
    }

    private static void Fill(ComponentParameterCollectionBuilder<LayPicture> p, LineEntry line) =>
        p.Add(l => l.Line, line)
            .Add(l => l.Unit, LengthUnit.Millimetre)
            .Add(l => l.Rules, new PrintRules(2))
            .Add(l => l.Address, _ => "")
            .Add(l => l.OnLay, EventCallback.Factory.Create<Framing>(new object(), _ => { }));

    private static LineEntry LineOf(params string[] texts) =>
        PlainEntry.Plate("") with
        {
            Text = texts.Length == 1 ? texts[0] : "",
            List = texts.Length > 1 ? string.Join('\n', texts) : "",
        };

    private static async Task<BookedOrder> BookAsync(CounterHost counter, params string[] texts)
    {
        var entry = PlainEntry.Order("") with { RightsAccepted = true, Lines = [LineOf(texts)] };
        var worker = await counter.WorkerAsync(WorkerRole.Counter);
        return await counter.BookAsync((await counter.Get<BeginDraft>().RunAsync(Asked.By(worker), entry, CounterStep.Check)).Value);
    }

    private static async Task<IHtmlDocument> PageAsync(HttpClient client, string path) =>
        new HtmlParser().ParseDocument(await client.GetStringAsync(path));

    private static string Words(byte[] pdf)
    {
        using var read = PdfDocument.Open(pdf);
        return string.Join(' ', read.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
    }
}
