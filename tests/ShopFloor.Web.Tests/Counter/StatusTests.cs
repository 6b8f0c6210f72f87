using System.Net;
using AngleSharp.Html.Parser;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Clerk;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Security;
using UglyToad.PdfPig;

namespace ShopFloor.Web.Tests.Counter;

public sealed class StatusTests
{
    [Fact]
    public async Task Book_TheSameDraftTwice_IsOneOrder()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var first = await counter.BookAsync(draft);
        Assert.Equal(first.Order, (await counter.BookAsync(draft)).Order);
        Assert.Single(await OrdersAsync(counter));
    }

    [Fact]
    public async Task Status_WithItsSecret_ShowsProgressAndNothingPersonal()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        using var anyone = counter.Host.Client();
        using var page = await anyone.GetAsync($"/status/{booked.StatusToken}");
        var text = await page.Content.ReadAsStringAsync();
        Assert.Contains($"Order {booked.Number}", text, StringComparison.Ordinal);
        Assert.Contains("booked, not with us yet", text, StringComparison.Ordinal);
        foreach (var personal in (string[])["Fenwick", "ada@shop.example"])
            Assert.DoesNotContain(personal, text, StringComparison.OrdinalIgnoreCase);
        // Three letters may stand in any random value of the page's source: they are looked for in what is read.
        Assert.DoesNotContain("Ada", new HtmlParser().ParseDocument(text).Body!.TextContent, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("data-interactive=\"static\"", text, StringComparison.Ordinal);
        Assert.True(page.Headers.CacheControl?.NoStore);
        Assert.Equal("no-referrer", string.Join("", page.Headers.GetValues("Referrer-Policy")));
        Assert.StartsWith("noindex", string.Join("", page.Headers.GetValues("X-Robots-Tag")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Status_Guessing_IsAnsweredWithWaitingAfterSomeMisses()
    {
        await using var counter = await CounterHost.OpenAsync();
        using var stranger = counter.Host.Client();
        for (var i = 0; i < Misses.Most; i++)
            Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync($"/status/{i:d48}")).StatusCode);
        Assert.Equal(HttpStatusCode.TooManyRequests, (await stranger.GetAsync($"/status/{99:d48}")).StatusCode);
        counter.Host.Clock.Advance(TimeSpan.FromMinutes(2));
        Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync($"/status/{99:d48}")).StatusCode);
    }

    [Fact]
    public async Task Question_Answered_StaysAnsweredAndTheOfficeReadsIt()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        var owner = Asked.By(await counter.WorkerAsync(WorkerRole.Owner));
        Assert.True((await counter.Get<AskCustomer>().RunAsync(owner, new CustomerQuestion(booked.Number, "Matt or glossy?"))).IsOk);
        using var customer = counter.Host.Client();
        var page = $"/status/{booked.StatusToken}";
        Assert.Contains("Matt or glossy?", await customer.GetStringAsync(page), StringComparison.Ordinal);
        var form = await CounterHost.TokenAsync(customer, page);

        Assert.EndsWith("fault=answer-words", await AnswerAsync(customer, page, form, " "), StringComparison.Ordinal);
        Assert.EndsWith("said=true", await AnswerAsync(customer, page, form, "Matt, please"), StringComparison.Ordinal);
        Assert.EndsWith("fault=question-closed", await AnswerAsync(customer, page, form, "No, glossy"), StringComparison.Ordinal);

        var question = Assert.Single((await counter.Get<QuestionView>().LoadAsync(booked.Number)).Questions);
        Assert.Equal("Matt, please", question.Answer);
    }

    [Fact]
    public async Task Papers_OfTheOrder_OpenWithItsSecretOnly()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        var other = await counter.BookAsync(await counter.BeginAsync());
        var id = Guid.CreateVersion7();
        await using (var context = await ContextAsync(counter))
        {
            var order = new DocumentFor(booked.Order, "Ada Fenwick");
            context.Documents.Add(
                new IssuedDocument(id, "invoice", "2026-1", order, DateTimeOffset.UnixEpoch, "{}", (10, "EUR"))
                {
                    Pdf = "%PDF-x"u8.ToArray(),
                }
            );
            await context.SaveChangesAsync();
        }
        using var customer = counter.Host.Client();

        Assert.Contains($"papers/{id:D}", await customer.GetStringAsync($"/status/{booked.StatusToken}"), StringComparison.Ordinal);
        using var mine = await customer.GetAsync($"/status/{booked.StatusToken}/papers/{id}");
        using var theirs = await customer.GetAsync($"/status/{other.StatusToken}/papers/{id}");

        Assert.Equal("application/pdf", mine.Content.Headers.ContentType?.MediaType);
        Assert.True(mine.Headers.CacheControl?.NoStore);
        Assert.Equal(HttpStatusCode.NotFound, theirs.StatusCode);
    }

    [Fact]
    public async Task Pages_ForCustomers_CarryTheWorkshopsNameAndTheStatusPageItsPhone()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        var owner = await counter.WorkerAsync(WorkerRole.Owner);
        var profile = new WorkshopProfile
        {
            Name = "Moorlight Workshop",
            Country = "DE",
            Phone = "+49 (0)30 1234",
        };
        Assert.True((await counter.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile)).IsOk);
        await using (var context = await ContextAsync(counter))
        {
            var order = new DocumentFor(booked.Order, "Ada Fenwick");
            context.Documents.Add(
                new IssuedDocument(Guid.CreateVersion7(), "deposit invoice", "D1", order, DateTimeOffset.UnixEpoch, "{}", (10, "EUR"))
            );
            await context.SaveChangesAsync();
        }
        using var customer = counter.Host.Client();
        var read = new HtmlParser();
        var status = read.ParseDocument(await customer.GetStringAsync($"/status/{booked.StatusToken}"));
        var start = read.ParseDocument(await counter.Tablet.GetStringAsync("/counter"));
        Assert.Equal("Moorlight Workshop", status.QuerySelector(".mark span")?.TextContent);
        Assert.Equal("Moorlight Workshop", start.QuerySelector(".mark span")?.TextContent);
        Assert.Equal("tel:+490301234", status.QuerySelector("footer a")?.GetAttribute("href"));
        Assert.Contains("Deposit invoice D1", status.Body!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Ticket_AsAPaper_HasTheNumberAndTheCodeOfItsPage()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        using var early = await counter.PrintTicketAsync(draft);
        var booked = await counter.BookAsync(draft);
        using var answer = await counter.PrintTicketAsync(draft);
        using var again = await counter.PrintTicketAsync(draft);
        var pdf = await answer.Content.ReadAsByteArrayAsync();

        using var read = PdfDocument.Open(pdf);
        var words = string.Join(' ', read.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.Equal(HttpStatusCode.NotFound, early.StatusCode);
        Assert.Contains($"Order {booked.Number}", words, StringComparison.Ordinal);
        Assert.Contains("Aluminium", words, StringComparison.Ordinal);
        Assert.DoesNotContain("Fenwick", words, StringComparison.Ordinal);
        var journal = (await counter.Get<PrintedList>().ReadAsync(1)).Lines;
        Assert.Equal([true, false], journal.Select(l => l.IsAgain));
        Assert.All(journal, l => Assert.Equal($"Ticket {booked.Number}", l.Name));
        Assert.All(journal, l => Assert.NotEmpty(l.By));
    }

    [Fact]
    public async Task Ticket_AfterDone_IsGoneForTheDevice()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var booked = await counter.BookAsync(draft);
        Assert.Contains(
            $"Your order has number {booked.Number}",
            await counter.Tablet.GetStringAsync($"/counter/ticket/{draft}"),
            StringComparison.Ordinal
        );
        await counter.Get<WipeDraft>().RunAsync(Asked.By(await counter.WorkerAsync(WorkerRole.Counter)), draft);
        Assert.DoesNotContain("<svg xmlns", await counter.Tablet.GetStringAsync($"/counter/ticket/{draft}"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Repeat_AnEarlierOrder_TakesEverythingButWhatWasAgreedTo()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        var clerk = await counter.WorkerAsync(WorkerRole.Bench);
        var draft = await counter.Get<RepeatOrder>().RunAsync(clerk, booked.Order);
        var opened = (await counter.Get<OpenDraft>().RunAsync(clerk, draft.Value)).Value;
        var entry = opened.Kept.Entry;
        Assert.Equal("Ada Fenwick", entry.Name);
        Assert.NotNull(entry.Customer);
        Assert.False(entry.RiskAccepted || entry.RightsAccepted || entry.ContactAgreed);
        Assert.Equal(CounterStep.Check, opened.Step);
        Assert.Equal(
            "no-right",
            (await counter.Get<RepeatOrder>().RunAsync(await counter.WorkerAsync(WorkerRole.Counter), booked.Order)).Refusals[0].Code
        );
    }

    /// <summary>Nobody may be ordered for whose data is gone: such an order could never be put right.</summary>
    [Fact]
    public async Task Repeat_OfACustomerWhoWasErased_AsksWhoItIsFor()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        await using (var context = await ContextAsync(counter))
        {
            var order = (await context.Orders.FindAsync(booked.Order))!;
            (await context.Customers.FindAsync(order.Customer))!.Erase(counter.Host.Clock.GetUtcNow());
            order.Erase();
            await context.SaveChangesAsync();
        }
        var clerk = await counter.WorkerAsync(WorkerRole.Bench);

        var draft = await counter.Get<RepeatOrder>().RunAsync(clerk, booked.Order);

        var entry = (await counter.Get<OpenDraft>().RunAsync(clerk, draft.Value)).Value.Kept.Entry;
        Assert.Equal((null, "", "", ""), (entry.Customer, entry.Name, entry.Email, entry.Phone));
        Assert.Equal(CounterStep.You, OrderWalk.Farthest(entry, new DateOnly(2026, 1, 1)));
        var erased = Assert.Single(await OrdersAsync(counter)).Customer;
        var input = EntryReading.Order(entry with { Customer = erased, RiskAccepted = true }, draft.Value, new PrintRules(2), "en");
        var again = await counter.Get<BookOrder>().RunAsync(Asked.By(clerk), input);
        Assert.Contains(again.Refusals, r => r.Code == "customer-missing");
    }

    [Fact]
    public async Task Search_FromADeviceOfTheCounter_FindsNobody()
    {
        await using var counter = await CounterHost.OpenAsync();
        await counter.BookAsync(await counter.BeginAsync());
        var search = counter.Get<CustomerSearch>();
        Assert.Empty(await search.RunAsync(await counter.WorkerAsync(WorkerRole.Counter), "ada"));
        Assert.Single(await search.RunAsync(await counter.WorkerAsync(WorkerRole.Bench), "ada"));
        using var list = await counter.Tablet.GetAsync("/clerk?q=Ada");
        Assert.Equal(HttpStatusCode.Forbidden, list.StatusCode);
        Assert.DoesNotContain("Fenwick", await list.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    /// <summary>Sends an answer; where that leads.</summary>
    private static async Task<string> AnswerAsync(HttpClient client, string page, string form, string words)
    {
        using var content = new FormUrlEncodedContent(
            new Dictionary<string, string>
            {
                ["__RequestVerificationToken"] = form,
                ["command"] = Guid.CreateVersion7().ToString(),
                ["number"] = "1",
                ["words"] = words,
            }
        );
        using var answer = await client.PostAsync($"{page}/answer", content);
        return answer.Headers.Location?.ToString() ?? "";
    }

    private static Task<ShopContext> ContextAsync(CounterHost counter) =>
        counter.Host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();

    private static async Task<IReadOnlyList<Order>> OrdersAsync(CounterHost counter)
    {
        await using var context = await ContextAsync(counter);
        return await context.Orders.AsNoTracking().ToListAsync();
    }
}
