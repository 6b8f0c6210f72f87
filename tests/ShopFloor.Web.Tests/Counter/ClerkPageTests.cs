using System.Net;
using System.Text.RegularExpressions;
using ShopFloor.Data;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Who repeats an order knows it again: by its day, its pieces, their look and their picture.</summary>
public sealed partial class ClerkPageTests
{
    [Fact]
    public async Task List_AnOrderWithAPicture_ShowsDayFinishAndPicture()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var sent = await CounterHost.SendAsync(
            counter.Tablet,
            $"/counter/order/{draft}/picture",
            $"/counter/order/{draft}/pictures",
            CounterHost.Picture(),
            "boat.png"
        );
        Assert.Equal(HttpStatusCode.OK, sent.Status);
        var booked = await counter.BookAsync(draft);
        using var clerk = await counter.Host.ClientAsync(WorkerRole.Bench);

        var list = WebUtility.HtmlDecode(await clerk.GetStringAsync("/clerk?q=Ada"));

        Assert.Matches($@"{booked.Number}</strong> Ada Fenwick, booked on \d", list);
        Assert.Contains("White ground", list, StringComparison.Ordinal);
        Assert.DoesNotContain("no picture", list, StringComparison.Ordinal);
        var address = Picture().Match(list).Groups["address"].Value;
        using var picture = await clerk.GetAsync($"/{address}");
        Assert.Equal(("image/webp", HttpStatusCode.OK), (picture.Content.Headers.ContentType?.MediaType, picture.StatusCode));
        using var tablet = await counter.Tablet.GetAsync($"/{address}");
        Assert.Equal(HttpStatusCode.Forbidden, tablet.StatusCode);
        using var none = await clerk.GetAsync($"/{address.Replace("/1", "/9", StringComparison.Ordinal)}");
        Assert.Equal(HttpStatusCode.NotFound, none.StatusCode);
    }

    [Fact]
    public async Task List_AnOrderWithoutAPicture_SaysSo()
    {
        await using var counter = await CounterHost.OpenAsync();
        await counter.BookAsync(await counter.BeginAsync());
        using var clerk = await counter.Host.ClientAsync(WorkerRole.Bench);
        var list = await clerk.GetStringAsync("/clerk?q=Ada");
        Assert.Contains("no picture", list, StringComparison.Ordinal);
        Assert.DoesNotContain("<image", list, StringComparison.Ordinal);
    }

    [GeneratedRegex("<image href=.(?<address>clerk/orders/[^/]+/picture/1). ", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Picture();
}
