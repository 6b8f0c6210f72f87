using System.Text;
using System.Text.Json;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>What the server said to a tap.</summary>
internal sealed record TapAnswer(bool Ok, string Text);

/// <summary>Somebody signed in, who opens the Bench and taps there by plain HTTP.</summary>
internal sealed class Visitor : IDisposable
{
    private string token = "";

    private Visitor(Uri address) => Session = new BrowserSession(address);

    /// <summary>What this visitor's browser keeps; circuits are opened with it.</summary>
    public BrowserSession Session { get; }

    public HttpClient Http => Session.Http;

    /// <summary>Signs in with one of the demo's names and opens the Bench.</summary>
    public static async Task<Visitor> EnterAsync(Uri address, string name)
    {
        var visitor = new Visitor(address);
        await visitor.Session.SignInAsync(name, $"moorlight {name}");
        await visitor.OpenBenchAsync();
        return visitor;
    }

    /// <summary>Opens the Bench anew, for a fresh form token; the answer is how long the page took.</summary>
    public async Task<TimeSpan> OpenBenchAsync()
    {
        var began = System.Diagnostics.Stopwatch.GetTimestamp();
        var (page, _) = await Session.GetAsync("bench");
        var took = System.Diagnostics.Stopwatch.GetElapsedTime(began);
        token = BrowserSession.TokenOf(page);
        return token.Length > 0 ? took : throw new InputFault("The Bench did not open: is the demo workshop there?");
    }

    /// <summary>Sends a tap under its id.</summary>
    public async Task<TapAnswer> TapAsync(Guid command, object fields)
    {
        var node = JsonSerializer.SerializeToNode(fields)!.AsObject();
        node["command"] = command;
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri("bench/moves", UriKind.Relative));
        request.Content = new StringContent(node.ToJsonString(), Encoding.UTF8, "application/json");
        request.Headers.Add("RequestVerificationToken", token);
        using var answer = await Http.SendAsync(request);
        answer.EnsureSuccessStatusCode();
        using var said = JsonDocument.Parse(await answer.Content.ReadAsStringAsync());
        return new TapAnswer(said.RootElement.GetProperty("ok").GetBoolean(), said.RootElement.GetProperty("text").GetString() ?? "");
    }

    public void Dispose() => Session.Dispose();
}
