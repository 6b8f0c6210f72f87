using System.Net;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Api;

namespace ShopFloor.Web.Tests.Api;

/// <summary>The calendar of promises, read back by a library that reads RFC 5545.</summary>
public sealed class CalendarTests(ApiShop shop) : IClassFixture<ApiShop>
{
    [Fact]
    public async Task Feed_OfALink_HasEveryPromiseInShopTimeAndNoName()
    {
        var link = await shop.KeyAsync(ApiScopes.Calendar);
        using var client = shop.Host.Client();
        using var answer = await client.GetAsync($"/calendar/{link.Secret}.ics");
        var text = await answer.Content.ReadAsStringAsync();
        Assert.Equal("text/calendar", answer.Content.Headers.ContentType?.MediaType);
        Assert.Contains("REFRESH-INTERVAL;VALUE=DURATION:PT1H", text, StringComparison.Ordinal);
        // RFC 5545, 3.6.5: a zone must say at least one rule.
        var zone = Assert.Single(Ical.Net.Calendar.Load(text)!.TimeZones);
        Assert.Equal(["DAYLIGHT", "STANDARD"], zone.TimeZoneInfos.Select(i => i.Name).Distinct().Order());
        var events = Ical.Net.Calendar.Load(text)!.Events;
        await using var context = await shop.ContextAsync();
        var since = shop.Host.Services.GetRequiredService<TimeProvider>().GetUtcNow().AddDays(-30);
        var all = await context.Orders.AsNoTracking().ToListAsync();
        var orders = all.Where(o => o.PromisedAt >= since).ToList();
        Assert.Equal(orders.Count, events.Count);
        Assert.InRange(orders.Count, 1, all.Count - 1);
        foreach (var order in orders)
        {
            var entry = events.Single(e => e.Uid == $"{order.Id.Value:N}@shopfloor");
            Assert.Equal(order.PromisedAt.UtcDateTime, entry.End!.AsUtc);
            Assert.Equal("Europe/Berlin", entry.End.TzId);
            Assert.Equal(order.Version, entry.Sequence);
            Assert.DoesNotContain(order.Contact.Name, text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Feed_AskedAgain_HasTheSameTagUntilSomethingChanges()
    {
        var link = await shop.KeyAsync(ApiScopes.Calendar);
        using var client = shop.Host.Client();
        using var first = await client.GetAsync($"/calendar/{link.Secret}.ics");
        using var request = new HttpRequestMessage(HttpMethod.Get, $"/calendar/{link.Secret}.ics");
        request.Headers.IfNoneMatch.Add(first.Headers.ETag!);
        using var again = await client.SendAsync(request);
        Assert.Equal(HttpStatusCode.NotModified, again.StatusCode);
    }

    [Fact]
    public async Task Feed_NoLinkOrTakenAwayOrAKeyForPrograms_IsNotFound()
    {
        using var client = shop.Host.Client();
        var link = await shop.KeyAsync(ApiScopes.Calendar);
        await shop.RevokeAsync(link.Id);
        var key = await shop.KeyAsync(ApiScopes.PlanOut);
        foreach (var secret in new[] { "sfk_guess", link.Secret, key.Secret })
            Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/calendar/{secret}.ics")).StatusCode);
        using var caller = shop.Caller((await shop.KeyAsync(ApiScopes.Calendar)).Secret!);
        Assert.Equal(HttpStatusCode.Unauthorized, (await caller.GetAsync("/api/v1/plan")).StatusCode);
    }
}
