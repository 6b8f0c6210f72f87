using System.Net;
using ShopFloor.Data;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Security;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Addresses that somebody made up lead to a page of the program, never to a fault.</summary>
public sealed class LanguageLinkTests
{
    [Theory]
    [InlineData("/counter/booked?x=1", "/counter/booked?x=1")]
    [InlineData("/\t/evil.example", "/counter")]
    [InlineData("/\r\nX:1", "/counter")]
    [InlineData("//evil.example", "/counter")]
    [InlineData("/\\evil.example", "/counter")]
    [InlineData("https://evil.example", "/counter")]
    [InlineData("", "/counter")]
    public async Task Language_WhereverItIsToLead_StaysHere(string to, string wanted)
    {
        await using var host = await ShopHost.StartAsync();
        using var tablet = await host.ClientAsync(WorkerRole.Counter);
        using var answer = await tablet.GetAsync($"/counter/language/de-DE?to={Uri.EscapeDataString(to)}");
        Assert.Equal((HttpStatusCode.Redirect, wanted), (answer.StatusCode, answer.Headers.Location?.OriginalString));
    }

    [Theory]
    [InlineData("9999-12")]
    [InlineData("0001-01")]
    public async Task Books_OfTheFirstOrLastMonthThereIs_AreThoseOfAnother(string month)
    {
        Assert.Equal(new DateOnly(2026, 3, 1), Period.ReadMonth(month, new DateOnly(2026, 3, 4)));
        await using var host = await ShopHost.StartAsync();
        using var owner = await host.ClientAsync(WorkerRole.Owner);
        foreach (var ending in new[] { "zip", "pdf" })
        {
            using var answer = await owner.GetAsync($"/office/books/{month}.{ending}");
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }
    }
}
