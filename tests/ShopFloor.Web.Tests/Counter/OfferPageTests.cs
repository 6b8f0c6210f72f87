using System.Net;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Offers;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Who works here makes an offer of an entry on a page of its own, prints it and finds it again.</summary>
public sealed class OfferPageTests
{
    [Fact]
    public async Task Page_MakesTheOfferAndGivesItsPaper()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync("Ada");
        using var clerk = await counter.Host.ClientAsync(WorkerRole.Bench);
        var page = $"/clerk/offer/{draft}";
        Assert.Contains("Make the offer", await clerk.GetStringAsync(page), StringComparison.Ordinal);
        using var form = new FormUrlEncodedContent(
            new Dictionary<string, string>
            {
                ["_handler"] = "make",
                ["__RequestVerificationToken"] = await CounterHost.TokenAsync(clerk, page),
            }
        );

        using var made = await clerk.PostAsync(page, form);

        var said = WebUtility.HtmlDecode(await made.Content.ReadAsStringAsync());
        Assert.Contains("is made.", said, StringComparison.Ordinal);
        Assert.Contains("that price counts", said, StringComparison.Ordinal);
        Assert.Contains("No mail server is set", said, StringComparison.Ordinal);
        using var paper = await clerk.GetAsync($"{page}/paper?save=true");
        Assert.Equal(
            ("application/pdf", "attachment"),
            (paper.Content.Headers.ContentType?.MediaType, paper.Content.Headers.ContentDisposition?.DispositionType)
        );
        Assert.Contains("holds until", await clerk.GetStringAsync("/clerk"), StringComparison.Ordinal);
        using var tablet = await counter.Tablet.GetAsync(page);
        Assert.Equal(HttpStatusCode.Forbidden, tablet.StatusCode);
    }

    [Fact]
    public async Task Check_OfAnEntryWithAnOffer_SaysWhichPriceCounts()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync("Ada");
        var worker = await counter.WorkerAsync(WorkerRole.Bench);
        var made = await counter.Get<MakeOffer>().RunAsync(Asked.By(worker), new OfferWish(draft, "en"));
        Assert.True(made.IsOk, made.IsOk ? "" : made.Refusals[0].Text);
        var sheet = (await counter.Get<OfferView>().LoadAsync(worker, draft)).Value;
        Assert.Equal((made.Value.Number, OfferState.Counts), (sheet.Offer!.Number, sheet.Standing!.State));
        Assert.Equal(("ada@shop.example", false), (sheet.Address, sheet.HasMail));
    }
}
