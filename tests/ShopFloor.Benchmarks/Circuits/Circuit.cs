using System.Text;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http.Connections;
using Microsoft.AspNetCore.SignalR.Client;
using Microsoft.AspNetCore.SignalR.Protocol;
using Microsoft.Extensions.DependencyInjection;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>
/// One open page without a browser: it fetches the page, opens its circuit over a web socket and acknowledges what is drawn, as a browser
/// does. It draws nothing, so what is measured is the server and the wire.
/// </summary>
internal sealed partial class Circuit : IAsyncDisposable
{
    private readonly HubConnection connection;
    private readonly TaskCompletionSource first = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private volatile Waiter? waiter;

    private Circuit(HubConnection connection)
    {
        this.connection = connection;
        connection.On<int, byte[]>("JS.RenderBatch", Drawn);
        connection.On<int, string>("JS.AttachComponent", (_, _) => { });
        connection.On<string>("JS.EndUpdateRootComponents", _ => { });
        connection.On<string>("JS.EndInvokeDotNet", _ => { });
        connection.On<byte[]>("JS.ReceiveByteArray", _ => { });
        connection.On<string>("JS.Error", text => Fault = text);
        connection.On<long, string, string, int, long, int>("JS.BeginInvokeJS", Answer);
    }

    private sealed record Waiter(string Text, TaskCompletionSource<long> Seen);

    /// <summary>What the server said when the circuit broke; null: it is well.</summary>
    public string? Fault { get; private set; }

    /// <summary>Batches drawn so far, and their bytes.</summary>
    public (int Count, long Bytes) Batches { get; private set; }

    /// <summary>Opens a page for whoever the visitor is signed in as.</summary>
    public static async Task<Circuit> OpenAsync(Visitor visitor, string path)
    {
        var page = await visitor.Http.GetStringAsync(new Uri(path, UriKind.Relative));
        var state = State().Match(page).Groups["text"].Value;
        var roots = Root().Matches(page).Select(m => m.Groups["text"].Value).Where(m => m.Contains("\"type\"", StringComparison.Ordinal));
        var adds = roots.Select((m, i) => FormattableString.Invariant($"{{\"type\":\"add\",\"ssrComponentId\":{i + 1},\"marker\":{m}}}"));
        var circuit = new Circuit(Connect(visitor));
        await circuit.connection.StartAsync();
        var url = new Uri(visitor.Http.BaseAddress!, path).ToString();
        var id = await circuit.connection.InvokeAsync<string?>("StartCircuit", visitor.Http.BaseAddress!.ToString(), url, "[]", "");
        if (id is null)
            throw new InputFault("The server opened no circuit.");
        await circuit.connection.SendAsync("UpdateRootComponents", $"{{\"batchId\":1,\"operations\":[{string.Join(",", adds)}]}}", state);
        await circuit.first.Task.WaitAsync(TimeSpan.FromSeconds(30));
        return circuit;
    }

    /// <summary>The time stamp of the next batch that has the text in it; an empty text: of the next batch.</summary>
    public Task<long> NextAsync(string text)
    {
        var seen = new TaskCompletionSource<long>(TaskCreationOptions.RunContinuationsAsynchronously);
        waiter = new Waiter(text, seen);
        return seen.Task;
    }

    public ValueTask DisposeAsync() => connection.DisposeAsync();

    private static HubConnection Connect(Visitor visitor)
    {
        // The circuits' own protocol is internal to the framework: made by its name, as nothing else speaks it.
        var protocol = System
            .Reflection.Assembly.Load("Microsoft.AspNetCore.Components.Server")
            .GetTypes()
            .First(t => t.Name == "BlazorPackHubProtocol");
        var builder = new HubConnectionBuilder().WithUrl(
            new Uri(visitor.Http.BaseAddress!, "_blazor"),
            options =>
            {
                options.Transports = HttpTransportType.WebSockets;
                options.Cookies = visitor.Cookies;
            }
        );
        builder.Services.AddSingleton(_ => (IHubProtocol)Activator.CreateInstance(protocol, nonPublic: true)!);
        var made = builder.Build();
        made.ServerTimeout = TimeSpan.FromMinutes(2);
        return made;
    }

    private void Drawn(int number, byte[] batch)
    {
        var at = System.Diagnostics.Stopwatch.GetTimestamp();
        Batches = (Batches.Count + 1, Batches.Bytes + batch.Length);
        _ = connection.SendAsync("OnRenderCompleted", (long)number, (string?)null);
        first.TrySetResult();
        if (waiter is { } waits && (waits.Text.Length == 0 || batch.AsSpan().IndexOf(Encoding.UTF8.GetBytes(waits.Text)) >= 0))
        {
            waiter = null;
            waits.Seen.TrySetResult(at);
        }
    }

    private void Answer(long call, string name, string arguments, int kind, long target, int type)
    {
        if (call > 0)
            _ = connection.SendAsync("EndInvokeJSFromDotNet", call, true, FormattableString.Invariant($"[{call},true,null]"));
    }

    [GeneratedRegex("<!--Blazor-Server-Component-State:(?<text>.*?)-->", RegexOptions.ExplicitCapture, 2000)]
    private static partial Regex State();

    [GeneratedRegex("<!--Blazor:(?<text>\\{.*?\\})-->", RegexOptions.ExplicitCapture, 2000)]
    private static partial Regex Root();
}
