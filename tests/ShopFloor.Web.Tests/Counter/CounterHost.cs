using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Tests.Security;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>The program with stock and recipes, a tablet signed in at its Counter, and short words for what customers do there.</summary>
internal sealed partial class CounterHost : IAsyncDisposable
{
    private sealed record Nothing;

    private CounterHost(ShopHost host, HttpClient tablet) => (Host, Tablet) = (host, tablet);

    internal ShopHost Host { get; }

    internal HttpClient Tablet { get; }

    internal static async Task<CounterHost> OpenAsync(params (string Key, string Value)[] settings)
    {
        var host = await ShopHost.StartAsync(settings: settings);
        var stocked = await host
            .Services.GetRequiredService<CommandRunner>()
            .RunAsync(
                "Stock",
                Allowed.System,
                Asked.BySystem(),
                new Nothing(),
                work => DemoStock.AddToAsync(work, new() { Name = "Test" }, new DemoHours(work.Now, TimeZoneInfo.Utc), default)
            );
        Assert.True(stocked.IsOk);
        return new CounterHost(host, await host.ClientAsync(WorkerRole.Counter));
    }

    internal T Get<T>()
        where T : notnull => Host.Services.CreateScope().ServiceProvider.GetRequiredService<T>();

    internal Task<ShopContext> ContextAsync() => Host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();

    /// <summary>Worker id of a demo sign-in.</summary>
    internal async Task<Guid> WorkerAsync(string role)
    {
        var name = DemoStart.SignIns.Single(s => s.Role == role).Name;
        await using var context = await Host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        return await context.Users.Where(u => u.UserName == name).Select(u => u.Id).SingleAsync();
    }

    /// <summary>A draft of the tablet with one own plate, all answered.</summary>
    internal async Task<Guid> BeginAsync(string text = "")
    {
        var entry = PlainEntry.Order(text) with { RightsAccepted = true };
        var worker = await WorkerAsync(WorkerRole.Counter);
        return (await Get<BeginDraft>().RunAsync(Asked.By(worker), entry, CounterStep.Check)).Value;
    }

    /// <summary>Books a draft as the page does.</summary>
    internal async Task<BookedOrder> BookAsync(Guid draft)
    {
        var worker = await WorkerAsync(WorkerRole.Counter);
        var opened = (await Get<OpenDraft>().RunAsync(worker, draft)).Value;
        var entry = opened.Kept.Incoming.Aggregate(opened.Kept.Entry, (e, p) => e.WithLine(l => l with { Picture = p.Picture }));
        var input = EntryReading.Order(entry, draft, new PrintRules(2), "en");
        var quote = await Get<QuoteOrder>().RunAsync(input);
        input = input with { ShownPriceHashes = [.. quote.Lines.Select(l => l.Price!.Hash)] };
        var booked = await Get<BookOrder>().RunAsync(Asked.By(worker, entry.BookCommand), input);
        Assert.True(booked.IsOk, string.Join("; ", booked.Refusals.Select(r => r.Text)));
        return booked.Value;
    }

    /// <summary>Sends a file to a draft as the page's script does; the form token comes from a page of the same visitor.</summary>
    internal static async Task<(HttpStatusCode Status, string Text)> SendAsync(
        HttpClient client,
        string page,
        string path,
        byte[] file,
        string name,
        Guid? upload = null
    )
    {
        using var form = new MultipartFormDataContent
        {
            { new StringContent(await TokenAsync(client, page)), "__RequestVerificationToken" },
            { new ByteArrayContent(file), Uploads.FileField, name },
        };
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = form };
        request.Headers.Add("X-Upload", (upload ?? Guid.CreateVersion7()).ToString());
        using var answer = await client.SendAsync(request);
        var body = await answer.Content.ReadAsStringAsync();
        using var json = body.StartsWith('{') ? JsonDocument.Parse(body) : null;
        var text = json is not null && json.RootElement.TryGetProperty("text", out var said) ? said.GetString() : body;
        return (answer.StatusCode, text ?? "");
    }

    /// <summary>Prints the ticket of a draft as its button does.</summary>
    internal async Task<HttpResponseMessage> PrintTicketAsync(Guid draft)
    {
        using var form = new FormUrlEncodedContent(
            new Dictionary<string, string> { ["__RequestVerificationToken"] = await TokenAsync(Tablet, "/counter") }
        );
        return await Tablet.PostAsync($"/counter/ticket/{draft}/paper", form);
    }

    internal static async Task<string> TokenAsync(HttpClient client, string page) =>
        Token().Match(await client.GetStringAsync(page)).Groups["token"].Value;

    /// <summary>A picture of one colour.</summary>
    internal static byte[] Picture(int wide = 300, int high = 200)
    {
        using var bitmap = new SKBitmap(wide, high);
        bitmap.Erase(SKColors.SteelBlue);
        using var data = bitmap.Encode(SKEncodedImageFormat.Png, 90);
        return data.ToArray();
    }

    public async ValueTask DisposeAsync()
    {
        Tablet.Dispose();
        await Host.DisposeAsync();
    }

    [GeneratedRegex("""name="__RequestVerificationToken" value="(?<token>[^"]+)""", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Token();
}
