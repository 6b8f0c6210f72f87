using System.Net;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Counter;
using ShopFloor.Web.Counter.Status;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Somebody at the Counter asks where their order is: number and name together, and no word to who guesses.</summary>
public sealed class WhereTests
{
    [Theory]
    [InlineData("Fenwick")]
    [InlineData(" fenwick ")]
    [InlineData("Ada Fenwick")]
    [InlineData("ADA@shop.example")]
    public async Task Ask_NumberWithNameOrMail_ShowsHowFarItIsAndNoMore(string who)
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        var (status, text) = await AskAsync(counter, $"{booked.Number}", who);
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains($"Order {booked.Number}", text, StringComparison.Ordinal);
        Assert.Contains("booked, not begun yet", text, StringComparison.Ordinal);
        foreach (var personal in (string[])["Fenwick", "ada@shop.example", "EUR", "papers/", booked.StatusToken])
            Assert.DoesNotContain(personal, text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Ask_AnyWrongPair_IsAnsweredAlikeAndGuessingWaits()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        (string Number, string Who)[] wrong =
        [
            ($"{booked.Number}", "Ada"),
            ($"{booked.Number}", ""),
            ("99999", "Fenwick"),
            ("x", "Fenwick"),
        ];
        foreach (var (number, who) in wrong)
        {
            var (status, text) = await AskAsync(counter, number, who);
            Assert.Equal(HttpStatusCode.OK, status);
            Assert.Contains("No order with this number and name", text, StringComparison.Ordinal);
            Assert.DoesNotContain("not begun yet", text, StringComparison.Ordinal);
        }
        for (var i = wrong.Length; i < CounterSetUp.MostWhereMisses; i++)
            await AskAsync(counter, "1", "nobody");
        Assert.Equal(HttpStatusCode.TooManyRequests, (await AskAsync(counter, $"{booked.Number}", "Fenwick")).Status);
        counter.Host.Clock.Advance(TimeSpan.FromMinutes(2));
        Assert.Contains("not begun yet", (await AskAsync(counter, $"{booked.Number}", "Fenwick")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Ask_OrderThatWasErased_IsNoOrder()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        await using (var context = await counter.ContextAsync())
        {
            (await context.Orders.FindAsync(booked.Order))!.Erase();
            await context.SaveChangesAsync();
        }
        Assert.Contains("No order with", (await AskAsync(counter, $"{booked.Number}", "Erased")).Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Jürgen Weiß", "weiss", true)]
    [InlineData("José García", "garcia", true)]
    [InlineData("Anna van der Berg", "van der berg", true)]
    [InlineData("Sandberg, Ida", "Sandberg", true)]
    [InlineData("Ida Sandberg", "berg", false)]
    [InlineData("Ida Sandberg", "Ida", false)]
    [InlineData("Ida Sandberg", " ", false)]
    public void IsOf_FamilyName_HoweverItIsTyped(string name, string said, bool expected) =>
        Assert.Equal(expected, WhereView.IsOf(new Contact(name, "", ""), said));

    internal static async Task<(HttpStatusCode Status, string Text)> AskAsync(CounterHost counter, string number, string who)
    {
        using var form = new FormUrlEncodedContent(
            new Dictionary<string, string>
            {
                ["__RequestVerificationToken"] = await CounterHost.TokenAsync(counter.Tablet, "/counter/where"),
                ["_handler"] = "where",
                ["Number"] = number,
                ["Who"] = who,
            }
        );
        using var answer = await counter.Tablet.PostAsync("/counter/where", form);
        Assert.True(answer.Headers.CacheControl?.NoStore);
        var page = new AngleSharp.Html.Parser.HtmlParser().ParseDocument(await answer.Content.ReadAsStringAsync());
        return (answer.StatusCode, page.QuerySelector("main")!.InnerHtml);
    }
}
