using System.Net;
using System.Text.RegularExpressions;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>What a browser keeps of a site besides its circuits: cookies, and plain pages with forms.</summary>
internal sealed partial class BrowserSession : IDisposable
{
    public BrowserSession(Uri site)
    {
        Site = site;
        Http = new HttpClient(new SocketsHttpHandler { CookieContainer = Cookies })
        {
            BaseAddress = site,
            Timeout = TimeSpan.FromSeconds(20),
        };
    }

    /// <summary>Plain requests with the session's cookies.</summary>
    public HttpClient Http { get; }

    /// <summary>The address of the app, with a slash at the end.</summary>
    public Uri Site { get; }
    public CookieContainer Cookies { get; } = new();

    /// <summary>Signs in by the form; fails loudly when the words are wrong.</summary>
    public async Task SignInAsync(string name, string password)
    {
        var (_, where) = await SubmitAsync(
            "sign-in",
            new Dictionary<string, string>
            {
                ["_handler"] = "sign-in",
                ["Name"] = name,
                ["Password"] = password,
            }
        );
        if (where.AbsolutePath.EndsWith("/sign-in", StringComparison.Ordinal))
            throw new InputFault($"'{name}' could not sign in.");
    }

    /// <summary>The source of a page and where it was found after all redirections.</summary>
    public async Task<(string Html, Uri Where)> GetAsync(string path)
    {
        using var answer = await Http.GetAsync(path);
        return await ReadAsync(answer);
    }

    /// <summary>Opens a page and sends a form of it, with the page's own token.</summary>
    /// <param name="page">Where the form is.</param>
    /// <param name="values">What is filled in.</param>
    /// <param name="action">Where the form goes; null: to its page.</param>
    public async Task<(string Html, Uri Where)> SubmitAsync(string page, Dictionary<string, string> values, string? action = null)
    {
        var (html, _) = await GetAsync(page);
        values["__RequestVerificationToken"] = TokenOf(html);
        using var form = new FormUrlEncodedContent(values);
        using var answer = await Http.PostAsync(action ?? page, form);
        return await ReadAsync(answer);
    }

    /// <summary>The form token of a page; empty when it has none.</summary>
    public static string TokenOf(string html) => WebUtility.HtmlDecode(TokenField().Match(html).Groups["token"].Value);

    public void Dispose() => Http.Dispose();

    private static async Task<(string Html, Uri Where)> ReadAsync(HttpResponseMessage answer)
    {
        answer.EnsureSuccessStatusCode();
        return (await answer.Content.ReadAsStringAsync(), answer.RequestMessage!.RequestUri!);
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\"[^>]*value=\"(?<token>[^\"]+)\"", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex TokenField();
}
