using System.Net;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>What the server said to a tap.</summary>
internal sealed record TapAnswer(bool Ok, string Text);

/// <summary>Somebody signed in, who opens pages and taps at the Bench by plain HTTP.</summary>
internal sealed partial class Visitor : IDisposable
{
    private string token = "";

    private Visitor(Uri address)
    {
        Cookies = new CookieContainer();
        Http = new HttpClient(new HttpClientHandler { CookieContainer = Cookies })
        {
            BaseAddress = address,
            Timeout = TimeSpan.FromSeconds(20),
        };
    }

    public HttpClient Http { get; }

    public CookieContainer Cookies { get; }

    /// <summary>Signs in with one of the demo's names and opens the Bench.</summary>
    public static async Task<Visitor> EnterAsync(Uri address, string name)
    {
        var visitor = new Visitor(address);
        var page = await visitor.Http.GetStringAsync(new Uri("sign-in", UriKind.Relative));
        using var form = new FormUrlEncodedContent(
            new Dictionary<string, string>
            {
                ["_handler"] = "sign-in",
                ["__RequestVerificationToken"] = Token().Match(page).Groups["text"].Value,
                ["Name"] = name,
                ["Password"] = $"moorlight {name}",
            }
        );
        using var answer = await visitor.Http.PostAsync(new Uri("sign-in", UriKind.Relative), form);
        await visitor.OpenBenchAsync();
        return visitor;
    }

    /// <summary>Opens the Bench anew, for a fresh form token; the answer is how long the page took.</summary>
    public async Task<TimeSpan> OpenBenchAsync()
    {
        var began = System.Diagnostics.Stopwatch.GetTimestamp();
        var page = await Http.GetStringAsync(new Uri("bench", UriKind.Relative));
        var took = System.Diagnostics.Stopwatch.GetElapsedTime(began);
        token = Token().Match(page).Groups["text"].Value;
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

    public void Dispose() => Http.Dispose();

    [GeneratedRegex("name=\"__RequestVerificationToken\"[^>]*value=\"(?<text>[^\"]+)\"", RegexOptions.ExplicitCapture, 2000)]
    private static partial Regex Token();
}
