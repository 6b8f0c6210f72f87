using System.Diagnostics;
using System.Reflection;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http.Connections;
using Microsoft.AspNetCore.SignalR.Client;
using Microsoft.AspNetCore.SignalR.Protocol;
using Microsoft.Extensions.DependencyInjection;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>
/// One circuit without a browser: opens a page, starts its circuit over a web socket, applies every batch to a <see cref="CircuitPage"/>,
/// follows navigation, and sends events to the controls it finds there. The framework's own wire format is used, made by reflection,
/// because it is internal; an upgrade of the framework may need a change here.
/// </summary>
internal sealed partial class CircuitClient : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };
    private readonly BrowserSession session;
    private readonly HubConnection hub;
    private readonly Dictionary<string, TaskCompletionSource> calls = new(StringComparer.Ordinal);
    private readonly Lock gate = new();

    // A browser does one thing at a time: it never sends a handler's number after it has said that a batch which replaced it is drawn.
    private readonly SemaphoreSlim turn = new(1);
    private TaskCompletionSource news = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private Uri where;
    private long eventTarget = 1;
    private int nextCall;
    private string? trouble;
    private volatile Awaited? awaited;

    private sealed record Awaited(byte[] Text, TaskCompletionSource<long> Seen);

    private CircuitClient(BrowserSession session, Uri where)
    {
        (this.session, this.where) = (session, where);
        var builder = new HubConnectionBuilder().WithUrl(
            new Uri(session.Site, "_blazor"),
            o =>
            {
                o.Cookies = session.Cookies;
                o.Transports = HttpTransportType.WebSockets;
            }
        );
        builder.Services.AddSingleton(_ => WireFormat());
        hub = builder.Build();
        Listen();
    }

    /// <summary>The page as it is now.</summary>
    public CircuitPage Page { get; } = new();

    /// <summary>The address the page shows.</summary>
    public Uri Where => where;

    /// <summary>Batches received.</summary>
    public int Batches { get; private set; }

    /// <summary>Bytes of all batches.</summary>
    public long Bytes { get; private set; }

    /// <summary>What went wrong; null: the circuit is well.</summary>
    public string? Trouble => trouble;

    /// <summary>The time stamp (<see cref="Stopwatch.GetTimestamp"/>) at which the next batch arrives that has the text in it.</summary>
    public Task<long> NextAsync(string text)
    {
        var next = new Awaited(
            Encoding.UTF8.GetBytes(text),
            new TaskCompletionSource<long>(TaskCreationOptions.RunContinuationsAsynchronously)
        );
        awaited = next;
        return next.Seen.Task;
    }

    /// <summary>Opens a page and waits until its circuit has rendered it.</summary>
    public static async Task<CircuitClient> OpenAsync(BrowserSession session, string path)
    {
        var (html, where) = await session.GetAsync(path);
        var markers = Marker()
            .Matches(html)
            .Select(m => m.Groups["marker"].Value)
            .Where(m => m.Contains("\"type\"", StringComparison.Ordinal));
        var adds = markers.Select((m, i) => $$"""{"type":"add","ssrComponentId":{{i + 1}},"marker":{{m}}}""").ToList();
        if (adds.Count == 0)
            throw new InputFault($"{where} has no interactive part.");
        var client = new CircuitClient(session, where);
        await client.hub.StartAsync();
        _ =
            await client.hub.InvokeAsync<string?>("StartCircuit", session.Site.ToString(), where.ToString(), "[]", "")
            ?? throw new InputFault($"{where} gave no circuit.");
        await client.hub.SendAsync(
            "UpdateRootComponents",
            $$"""{"batchId":1,"operations":[{{string.Join(',', adds)}}]}""",
            State().Match(html).Groups["state"].Value
        );
        await client.UntilAsync(p => p.Find(n => n.Attributes.GetValueOrDefault("data-interactive") == "yes") is not null);
        return client;
    }

    /// <summary>Waits until the page is as wanted; fails with the page's words when it does not come.</summary>
    public async Task UntilAsync(Func<CircuitPage, bool> wanted)
    {
        var started = Stopwatch.GetTimestamp();
        while (true)
        {
            Task next;
            lock (gate)
                next = news.Task;
            if (trouble is not null)
                throw new InvalidOperationException($"{Where}: {trouble}");
            if (wanted(Page))
                return;
            if (Stopwatch.GetElapsedTime(started) > Patience)
                throw new TimeoutException($"{Where}, '{Page.Heading}': what was waited for did not come.");
            await Task.WhenAny(next, Task.Delay(Patience));
        }
    }

    /// <summary>Presses a button or follows a link; ends when the server's handler has ended.</summary>
    public Task PressAsync(CircuitNode control) =>
        control.Handlers.ContainsKey("onclick")
            ? SendAsync(control, "click", new { type = "click", detail = 1 })
            : GoAsync(control.Attributes.GetValueOrDefault("href") ?? throw new InputFault($"'{control.Words}' cannot be pressed."));

    /// <summary>Leaves a value in a field, as when it is left or a choice is made.</summary>
    public Task EnterAsync(CircuitNode control, string value) => EnterAsync(control, (object)value);

    /// <summary>Ticks a box or takes the tick away.</summary>
    public Task TickAsync(CircuitNode control, bool on) => EnterAsync(control, (object)on);

    /// <summary>Goes to another address of the site within the circuit.</summary>
    public Task GoAsync(string address)
    {
        where = new Uri(session.Site, address);
        return hub.InvokeAsync("OnLocationChanged", where.ToString(), (string?)null, true);
    }

    public async ValueTask DisposeAsync()
    {
        await hub.DisposeAsync();
        turn.Dispose();
    }

    private Task EnterAsync(CircuitNode control, object value)
    {
        var name = control.Handlers.ContainsKey("onchange") ? "change" : "input";
        return control.Handlers.ContainsKey("on" + name)
            ? SendAsync(control, name, new { value })
            : throw new InputFault($"'{control.Attributes.GetValueOrDefault("name")}' takes no value.");
    }

    private async Task SendAsync(CircuitNode control, string name, object args)
    {
        var call = Interlocked.Increment(ref nextCall).ToString(CultureInfo.InvariantCulture);
        var done = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        lock (gate)
            calls[call] = done;
        await turn.WaitAsync();
        try
        {
            var descriptor = new
            {
                eventHandlerId = control.Handlers["on" + name],
                eventName = name,
                eventFieldInfo = (object?)null,
            };
            var sent = JsonSerializer.Serialize(new[] { descriptor, args }, Json);
            await hub.SendAsync("BeginInvokeDotNetFromJS", call, (string?)null, "DispatchEventAsync", eventTarget, sent);
        }
        finally
        {
            turn.Release();
        }
        await done.Task.WaitAsync(Patience);
    }

    private void Listen()
    {
        hub.On<int, byte[]>("JS.RenderBatch", TakeBatch);
        hub.On<int, string>("JS.AttachComponent", (_, _) => { });
        hub.On<string>("JS.EndUpdateRootComponents", _ => { });
        hub.On<string, bool, string?>("JS.EndInvokeDotNet", EndCall);
        hub.On<string>("JS.Error", e => Fail(e));
        hub.On<long, string, string?, int, long, int>(
            "JS.BeginInvokeJS",
            (call, name, args, kind, _, _) => AnswerAsync(call, name, args, kind)
        );
        hub.Closed += e =>
        {
            Fail(e?.Message ?? "the circuit is closed");
            return Task.CompletedTask;
        };
    }

    private async Task TakeBatch(int number, byte[] data)
    {
        var arrived = Stopwatch.GetTimestamp();
        (Batches, Bytes) = (Batches + 1, Bytes + data.Length);
        if (awaited is { } waits && data.AsSpan().IndexOf(waits.Text) >= 0)
        {
            awaited = null;
            waits.Seen.TrySetResult(arrived);
        }
        await turn.WaitAsync();
        try
        {
            Page.Apply(new RenderBatch(data));
            await hub.SendAsync("OnRenderCompleted", (long)number, (string?)null);
        }
        finally
        {
            turn.Release();
        }
        Tell();
    }

    private void EndCall(string number, bool isOk, string? answer)
    {
        TaskCompletionSource? call;
        lock (gate)
            calls.Remove(number, out call);
        if (isOk)
            call?.TrySetResult();
        else
            call?.TrySetException(new InvalidOperationException(answer));
    }

    // Scripts of the page are not run; those calls whose answer the server needs get the plainest one.
    private async Task AnswerAsync(long call, string name, string? args, int kind)
    {
        if (name.EndsWith("attachWebRendererInterop", StringComparison.Ordinal))
            eventTarget = DotNetObject().Match(args!) is { Success: true } m
                ? long.Parse(m.Groups["number"].Value, CultureInfo.InvariantCulture)
                : 1;
        else if (name.EndsWith("navigateTo", StringComparison.Ordinal))
            await FollowAsync(args!);
        const int scriptObject = 1;
        var result = kind == scriptObject ? $$"""{"__jsObjectId":{{call}}}""" : "null";
        if (call > 0)
            await hub.SendAsync("EndInvokeJSFromDotNet", call, true, $"[{call},true,{result}]");
    }

    // A load of the whole page ends the circuit in a browser; here only the address is kept, and the caller opens it anew.
    private async Task FollowAsync(string args)
    {
        using var parts = JsonDocument.Parse(args);
        where = new Uri(session.Site, parts.RootElement[0].GetString());
        var whole = parts.RootElement[1].TryGetProperty("forceLoad", out var force) && force.GetBoolean();
        if (!whole)
            await hub.SendAsync("OnLocationChanged", where.ToString(), (string?)null, false);
        Tell();
    }

    private void Fail(string words)
    {
        trouble = words;
        lock (gate)
        {
            foreach (var call in calls.Values)
                call.TrySetException(new InvalidOperationException(words));
            calls.Clear();
        }
        Tell();
    }

    private void Tell()
    {
        TaskCompletionSource told;
        lock (gate)
            (told, news) = (news, new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously));
        told.TrySetResult();
    }

    private static IHubProtocol WireFormat()
    {
        var type = Assembly.Load("Microsoft.AspNetCore.Components.Server").GetTypes().Single(t => t.Name == "BlazorPackHubProtocol");
        return (IHubProtocol)Activator.CreateInstance(type, nonPublic: true)!;
    }

    [GeneratedRegex(@"<!--Blazor:(?<marker>\{.*?\})-->", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Marker();

    [GeneratedRegex("<!--Blazor-Server-Component-State:(?<state>.*?)-->", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex State();

    [GeneratedRegex("\"__dotNetObject\":(?<number>\\d+)", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex DotNetObject();
}
