using System.Net;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Clerk;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Tests.Security;

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
        foreach (var personal in (string[])["Ada", "Fenwick", "ada@shop.example"])
            Assert.DoesNotContain(personal, text, StringComparison.OrdinalIgnoreCase);
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
    public async Task Proof_ApprovedByTheCustomer_IsApprovedOnceAndByFormOnly()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var sent = await CounterHost.SendAsync(
            counter.Tablet,
            "/counter",
            $"/counter/order/{draft}/pictures",
            CounterHost.Picture(),
            "a.png"
        );
        Assert.Equal(HttpStatusCode.OK, sent.Status);
        var booked = await counter.BookAsync(draft);
        Assert.Equal(ProofState.Waiting, Assert.Single(await OrdersAsync(counter)).Proof);
        using var customer = counter.Host.Client();
        using var looked = await customer.GetAsync($"/status/{booked.StatusToken}/picture/1");
        Assert.Equal("image/webp", looked.Content.Headers.ContentType?.MediaType);
        Assert.Equal(ProofState.Waiting, Assert.Single(await OrdersAsync(counter)).Proof);
        var command = Guid.CreateVersion7().ToString();
        var form = await CounterHost.TokenAsync(customer, $"/status/{booked.StatusToken}");
        for (var i = 0; i < 2; i++)
        {
            using var answer = await JudgeAsync(customer, booked.StatusToken, form, command, "true", "");
            Assert.EndsWith("said=true", answer.Headers.Location?.ToString(), StringComparison.Ordinal);
        }
        Assert.Equal(ProofState.Approved, Assert.Single(await OrdersAsync(counter)).Proof);
    }

    [Fact]
    public async Task Proof_AChangeWithoutWords_IsRefusedAndNothingChanges()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        await CounterHost.SendAsync(counter.Tablet, "/counter", $"/counter/order/{draft}/pictures", CounterHost.Picture(), "a.png");
        var booked = await counter.BookAsync(draft);
        using var customer = counter.Host.Client();
        var form = await CounterHost.TokenAsync(customer, $"/status/{booked.StatusToken}");
        using var answer = await JudgeAsync(customer, booked.StatusToken, form, Guid.CreateVersion7().ToString(), "false", "  ");
        Assert.EndsWith("fault=words-missing", answer.Headers.Location?.ToString(), StringComparison.Ordinal);
        Assert.Equal(ProofState.Waiting, Assert.Single(await OrdersAsync(counter)).Proof);
    }

    [Fact]
    public async Task Ticket_AfterDone_IsGoneForTheDevice()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var booked = await counter.BookAsync(draft);
        Assert.Contains(
            $"Your order is {booked.Number}",
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

    private static async Task<HttpResponseMessage> JudgeAsync(
        HttpClient client,
        string token,
        string form,
        string command,
        string approved,
        string words
    )
    {
        using var content = new FormUrlEncodedContent(
            new Dictionary<string, string>
            {
                ["__RequestVerificationToken"] = form,
                ["command"] = command,
                ["approved"] = approved,
                ["words"] = words,
            }
        );
        return await client.PostAsync($"/status/{token}/proof", content);
    }

    private static async Task<IReadOnlyList<Order>> OrdersAsync(CounterHost counter)
    {
        await using var context = await counter.Host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        return await context.Orders.AsNoTracking().ToListAsync();
    }
}
