using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Tests.Security;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Documents;

public sealed partial class PaperTests
{
    [Fact]
    public async Task Papers_EachOneThatIsOffered_IsAPdfOrSaysWhyNot()
    {
        await using var shop = await ShopHost.StartAsync(settings: ("ShopFloor:Demo", "true"));
        using var bench = await shop.ClientAsync(WorkerRole.Bench);
        var page = await bench.GetStringAsync("/papers");
        var addresses = Address().Matches(page).Select(m => m.Groups["at"].Value).Distinct().ToList();
        Assert.Contains(addresses, a => a.StartsWith("/papers/labels/", StringComparison.Ordinal));

        var pdfs = 0;
        foreach (var address in addresses)
        {
            using var answer = await bench.GetAsync(address);
            var body = await answer.Content.ReadAsByteArrayAsync();
            if (answer.StatusCode == HttpStatusCode.OK)
            {
                Assert.Equal("application/pdf", answer.Content.Headers.ContentType?.MediaType);
                Assert.True(body.AsSpan().StartsWith("%PDF-"u8), address);
                pdfs++;
            }
            else
            {
                Assert.Equal(HttpStatusCode.Conflict, answer.StatusCode);
                Assert.EndsWith(".", System.Text.Encoding.UTF8.GetString(body), StringComparison.Ordinal);
            }
        }
        Assert.True(pdfs > 2, $"{pdfs} of {addresses.Count} papers could be made.");
        foreach (var address in addresses.Take(6).Append("/papers/sheets/today").Append("/papers/cards/9"))
            Assert.Contains("<h1", await bench.GetStringAsync($"{address}/look?tiles=true"), StringComparison.Ordinal);
        await using var context = await Context(shop);
        Assert.False(await context.Audit.AnyAsync(a => a.What == PrintPaper.What));
    }

    [Fact]
    public async Task Print_Twice_KeepsItsNumberAndIsWrittenDownTwice()
    {
        await using var shop = await ShopHost.StartAsync(settings: ("ShopFloor:Demo", "true"));
        using var bench = await shop.ClientAsync(WorkerRole.Bench);
        var page = await bench.GetStringAsync("/papers");
        var labels = Address()
            .Matches(page)
            .Select(m => m.Groups["at"].Value)
            .First(a => a.StartsWith("/papers/labels/", StringComparison.Ordinal));
        var token = Token().Match(page).Groups["token"].Value;
        var command = Guid.CreateVersion7().ToString();

        Assert.Equal(HttpStatusCode.OK, await PrintAsync(bench, labels, token, command));
        Assert.Equal(HttpStatusCode.OK, await PrintAsync(bench, labels, token, command));
        Assert.Equal(HttpStatusCode.OK, await PrintAsync(bench, labels, token, Guid.CreateVersion7().ToString()));

        await using var context = await Context(shop);
        var entries = await context.Audit.Where(a => a.What == PrintPaper.What).ToListAsync();
        Assert.Equal(2, entries.Count);
        Assert.Equal("P-00001", Assert.Single(entries.Select(e => e.After).Distinct()));
        Assert.Contains("P-00001, 2 ×", WebUtility.HtmlDecode(await bench.GetStringAsync("/papers")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Print_WithoutTokenOrRight_WritesNothing()
    {
        await using var shop = await ShopHost.StartAsync(settings: ("ShopFloor:Demo", "true"));
        using var bench = await shop.ClientAsync(WorkerRole.Bench);
        using var counter = await shop.ClientAsync(WorkerRole.Counter);

        Assert.Equal(HttpStatusCode.Forbidden, await PrintAsync(bench, "/papers/day/today", "", Guid.NewGuid().ToString()));
        using var look = await counter.GetAsync("/papers/day/today");
        Assert.NotEqual(HttpStatusCode.OK, look.StatusCode);
        using var unknown = await bench.GetAsync("/papers/7/x");
        Assert.Equal(HttpStatusCode.NotFound, unknown.StatusCode);
        await using var context = await Context(shop);
        Assert.False(await context.Audit.AnyAsync(a => a.What == PrintPaper.What));
    }

    [Fact]
    public async Task Sheets_OrderWithAPicture_CarryItsBytesUntouchedOrSayThatItIsGone()
    {
        await using var shop = await ShopHost.StartAsync(settings: ("ShopFloor:Demo", "true"));
        using var bench = await shop.ClientAsync(WorkerRole.Bench);
        var files = shop.Services.GetRequiredService<PictureFolder>();
        var id = new PictureId(Guid.CreateVersion7());
        using var drawn = new SKBitmap(300, 200);
        drawn.Erase(SKColors.SteelBlue);
        using var jpeg = drawn.Encode(SKEncodedImageFormat.Jpeg, 90);
        using var door = new PictureDoor();
        var admitted = (await door.AdmitAsync(jpeg.ToArray(), "a.jpg", CancellationToken.None)).Value;
        await files.SaveAsync(id, admitted, admitted.Clean, CancellationToken.None);
        var number = await GiveAsync(shop, id);

        using var there = await bench.GetAsync($"/papers/sheets/{number}");
        files.Delete(id);
        using var gone = await bench.GetAsync($"/papers/sheets/{number}");

        Assert.Equal(HttpStatusCode.OK, there.StatusCode);
        Assert.True((await there.Content.ReadAsByteArrayAsync()).AsSpan().IndexOf(jpeg.Span) > 0);
        Assert.Equal(HttpStatusCode.Conflict, gone.StatusCode);
        Assert.Contains("picture folder", await gone.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    /// <summary>Gives the picture to all lines of an order that has pieces in work; its number.</summary>
    private static async Task<int> GiveAsync(ShopHost shop, PictureId id)
    {
        await using var context = await Context(shop);
        var open = await context.Pieces.Where(p => p.State == PieceState.Received).Select(p => p.Order).FirstAsync();
        var order = await context.Orders.SingleAsync(o => o.Id == open);
        foreach (var line in order.Lines)
            context.Entry(line).Property(l => l.Picture).CurrentValue = id;
        await context.SaveChangesAsync();
        return order.Number;
    }

    private static async Task<HttpStatusCode> PrintAsync(HttpClient client, string address, string token, string command)
    {
        using var form = new FormUrlEncodedContent(
            new Dictionary<string, string> { ["__RequestVerificationToken"] = token, ["command"] = command }
        );
        using var answer = await client.PostAsync(address, form);
        return answer.StatusCode;
    }

    private static Task<ShopContext> Context(ShopHost shop) =>
        shop.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();

    [GeneratedRegex("""action="(?<at>/papers/[^"]+)""", RegexOptions.None, 1000)]
    private static partial Regex Address();

    [GeneratedRegex("""name="__RequestVerificationToken" value="(?<token>[^"]+)""", RegexOptions.None, 1000)]
    private static partial Regex Token();
}
