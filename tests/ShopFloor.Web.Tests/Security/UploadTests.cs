using System.Net;
using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Documents.Imaging;
using ShopFloor.Web.Live;
using ShopFloor.Web.Shared.Uploads;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Security;

public sealed class UploadTests
{
    private static readonly Guid Draft = new("0199aaaa-0000-7000-8000-000000000001");
    private static readonly Guid File = new("0199aaaa-0000-7000-8000-000000000002");

    [Fact]
    public async Task Post_AFile_IsKeptUnderItsIdAndTheDraftHears()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = await host.ClientAsync(WorkerRole.Counter);
        var heard = new List<Change>();
        using var ear = host.Services.GetRequiredService<Notifier>().Subscribe([Topic.Draft], heard.AddRange);
        using var answer = await SendAsync(client, [1, 2, 3]);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        var kept = host.Services.GetRequiredService<IncomingFiles>().Open(File);
        using var bytes = new MemoryStream();
        await using (kept.Value)
            await kept.Value.CopyToAsync(bytes);
        Assert.Equal([1, 2, 3], bytes.ToArray());
        Assert.Equal([new Change(Topic.Draft, Draft)], heard);
        host.Services.GetRequiredService<IncomingFiles>().Drop(File);
        Assert.False(host.Services.GetRequiredService<IncomingFiles>().Open(File).IsOk);
    }

    [Theory]
    [InlineData(0, 422)]
    [InlineData((1024 * 1024) + 1, 413)]
    public async Task Post_EmptyOrTooLarge_IsRefusedInWordsAndNothingIsKept(int size, int status)
    {
        await using var host = await ShopHost.StartAsync(settings: ("ShopFloor:UploadMegabytes", "1"));
        using var client = await host.ClientAsync(WorkerRole.Counter);
        using var answer = await SendAsync(client, new byte[size]);
        Assert.Equal(status, (int)answer.StatusCode);
        Assert.Contains("file", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.False(host.Services.GetRequiredService<IncomingFiles>().Open(File).IsOk);
    }

    [Fact]
    public async Task Limit_OfFilesAndOfPictures_IsTheSame()
    {
        await using var host = await ShopHost.StartAsync(settings: ("ShopFloor:UploadMegabytes", "3"));
        Assert.Equal(3 * 1024 * 1024, host.Services.GetRequiredService<IncomingFiles>().Limit);
        Assert.Equal(3 * 1024 * 1024, host.Services.GetRequiredService<PictureDoor>().Limits.MaxBytes);
    }

    /// <summary>After a lost connection the sender tries again while the first try may still hang: both end well, and the file is whole.</summary>
    [Fact]
    public async Task Take_TwiceAtOnce_BothAreTakenAndTheFileIsWhole()
    {
        await using var shop = await TestShop.EmptyAsync();
        var files = shop.Get<IncomingFiles>();
        using var hanging = new HangingStream([1, 2, 3]);
        var first = files.TakeAsync(File, hanging, default);
        using var again = new MemoryStream([1, 2, 3]);

        Assert.True((await files.TakeAsync(File, again, default)).IsOk);
        hanging.GoOn.SetResult();
        Assert.True((await first).IsOk);

        await using var kept = files.Open(File).Value;
        Assert.Equal(3, kept.Length);
        Assert.Single(Directory.GetFiles(Path.Combine(shop.Folder, "incoming")));
    }

    /// <summary>Gives its bytes, then nothing until it is told to go on.</summary>
    private sealed class HangingStream(byte[] bytes) : MemoryStream(bytes)
    {
        public TaskCompletionSource GoOn { get; } = new();

        public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
        {
            var read = await base.ReadAsync(buffer, cancellationToken);
            if (read == 0)
                await GoOn.Task;
            return read;
        }
    }

    [Fact]
    public async Task Post_WithoutFormToken_IsRefused()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = await host.ClientAsync(WorkerRole.Counter);
        using var answer = await client.PostAsync($"/uploads/{Draft}/{File}", new ByteArrayContent([1]));
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    private static async Task<HttpResponseMessage> SendAsync(HttpClient client, byte[] bytes)
    {
        var page = await client.GetStringAsync("/counter");
        var token = Regex
            .Match(
                page,
                "name=\"__RequestVerificationToken\" value=\"(?<token>[^\"]+)",
                RegexOptions.ExplicitCapture,
                TimeSpan.FromSeconds(60)
            )
            .Groups[1]
            .Value;
        using var request = new HttpRequestMessage(HttpMethod.Post, $"/uploads/{Draft}/{File}") { Content = new ByteArrayContent(bytes) };
        request.Headers.Add(UploadEndpoint.TokenHeader, token);
        return await client.SendAsync(request);
    }
}
