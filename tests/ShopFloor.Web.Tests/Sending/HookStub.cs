using System.Collections.Concurrent;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace ShopFloor.Web.Tests.Sending;

/// <summary>What a webhook's receiver got.</summary>
internal sealed record HookCall(string Id, string Timestamp, string Signature, string Body);

/// <summary>A receiver of webhooks for one test.</summary>
internal sealed class HookStub : IAsyncDisposable
{
    private readonly WebApplication app;

    private HookStub(WebApplication app) => this.app = app;

    public ConcurrentQueue<HookCall> Calls { get; } = [];

    /// <summary>What it answers.</summary>
    public int Status { get; set; } = 200;

    public string Url => app.Urls.First() + "/hook";

    public static async Task<HookStub> StartAsync()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var stub = new HookStub(builder.Build());
        stub.app.MapPost("/hook", stub.TakeAsync);
        await stub.app.StartAsync();
        return stub;
    }

    public ValueTask DisposeAsync() => app.DisposeAsync();

    private async Task TakeAsync(HttpContext http)
    {
        using var reader = new StreamReader(http.Request.Body);
        string Header(string name) => http.Request.Headers[name].ToString();
        Calls.Enqueue(
            new HookCall(Header("webhook-id"), Header("webhook-timestamp"), Header("webhook-signature"), await reader.ReadToEndAsync())
        );
        http.Response.StatusCode = Status;
        if (Status is >= 300 and < 400)
            http.Response.Headers.Location = Url + "/elsewhere";
    }
}
