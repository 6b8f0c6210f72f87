using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace ShopFloor.Browser.Tests.Harness;

/// <summary>Somebody at a screen: a browser context with one page, a role, and an ear for what the browser complains of.</summary>
public sealed class Visitor : IAsyncDisposable
{
    private static readonly string[] Rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

    // Colours that change with the appearance pass through those between: until the page is drawn anew and nothing is on its way.
    private const string Drawn = """
        async () => {
          for (let n = 0; n < 2; n++) await new Promise(requestAnimationFrame);
          await Promise.allSettled(document.getAnimations().filter(a => a instanceof CSSTransition).map(a => a.finished));
        }
        """;
    private static readonly bool Pictures = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES") == "1";
    private readonly ConcurrentQueue<string> complaints = new();
    private readonly string address;
    private readonly IBrowserContext context;
    private Screen screen;
    private bool dark;

    private Visitor(IBrowserContext context, IPage page, string address, Screen screen, bool dark)
    {
        (this.context, Page, this.address, this.screen, this.dark) = (context, page, address, screen, dark);
        page.Console += (_, message) => Listen(message);
        page.PageError += (_, error) => complaints.Enqueue(error);
    }

    /// <summary>The page.</summary>
    public IPage Page { get; }

    /// <summary>Errors of scripts and refusals of the content policy so far.</summary>
    public IReadOnlyCollection<string> Complaints => complaints;

    internal static async Task<Visitor> EnterAsync(IBrowser browser, string address, Screen screen, string? role, bool dark)
    {
        var made = await browser.NewContextAsync(
            new BrowserNewContextOptions
            {
                ViewportSize = new ViewportSize { Width = screen.Width, Height = screen.Height },
                HasTouch = screen.Touch,
                ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
                ReducedMotion = ReducedMotion.Reduce,
                Locale = "en-GB",
            }
        );
        made.SetDefaultTimeout((float)Chromium.Patience.TotalMilliseconds);
        var visitor = new Visitor(made, await made.NewPageAsync(), address, screen, dark);
        if (role is not null)
            await visitor.SignInAsync(role);
        return visitor;
    }

    /// <summary>Opens a path and waits until its circuit listens, or at once when it has none.</summary>
    public async Task<IResponse?> GoAsync(string path)
    {
        var response = await Page.GotoAsync(address + path);
        await ReadyAsync();
        return response;
    }

    /// <summary>The same page as another device shows it, by daylight or in the dark, without loading it again.</summary>
    public async Task TurnToAsync(Screen to, bool dark)
    {
        (screen, this.dark) = (to, dark);
        await Page.SetViewportSizeAsync(to.Width, to.Height);
        await Page.EmulateMediaAsync(
            new PageEmulateMediaOptions { ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light, ReducedMotion = ReducedMotion.Reduce }
        );
        await Page.EvaluateAsync(Drawn);
    }

    /// <summary>Waits until clicks are heard.</summary>
    public Task ReadyAsync() => Page.WaitForSelectorAsync("[data-interactive=yes], [data-interactive=static]");

    /// <summary>Signs in as the demo's worker with that role.</summary>
    /// <param name="role">Which.</param>
    /// <param name="next">Where that leads when it is not the worker's place yet.</param>
    public async Task SignInAsync(string role, string? next = null)
    {
        var (name, password) = AppHost.SignInOf(role);
        await GoAsync("/sign-in");
        await Page.GetByLabel("Name").FillAsync(name);
        await Page.GetByLabel("Password").FillAsync(password);
        await Page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
        await (next is null ? Page.LeavesAsync("/sign-in") : Page.EndsAsync(next));
        await ReadyAsync();
    }

    /// <summary>With SHOPFLOOR_PICTURES=1 keeps a picture of the whole page in tests/screenshots, named by what it shows, device and appearance.
    /// They are for eyes, no test reads them, and drawing some hundred long pages takes minutes.</summary>
    public async Task ShootAsync(string name, bool fullPage = true)
    {
        if (!Pictures)
            return;
        var file = Path.Combine(ScreenshotFolder(), $"{name}-{screen.Name}-{(dark ? "dark" : "light")}.png");
        await Page.ScreenshotAsync(new PageScreenshotOptions { Path = file, FullPage = fullPage });
    }

    /// <summary>What axe-core finds against WCAG 2.2 A and AA, one line each.</summary>
    public Task<IReadOnlyList<string>> AxeAsync() => AxeAsync(RunOnlyOptions.Tags(Rules));

    /// <summary>What axe-core finds against the contrasts alone: all that can differ between daylight and the dark.</summary>
    public Task<IReadOnlyList<string>> ContrastAsync() => AxeAsync(RunOnlyOptions.Rules("color-contrast"));

    private async Task<IReadOnlyList<string>> AxeAsync(RunOnlyOptions only)
    {
        var found = await Page.RunAxe(new AxeRunOptions { RunOnly = only });
        return
        [
            .. found.Violations.SelectMany(v =>
                v.Nodes.Select(n => $"{v.Id}: {v.Help}: {n.Html} {string.Join(' ', n.Any.Select(a => a.Message))}")
            ),
        ];
    }

    /// <summary>Elements that can be pressed and are smaller than that many CSS pixels in either direction; links within text are left out, as WCAG 2.5.8 does.</summary>
    public async Task<IReadOnlyList<string>> SmallTargetsAsync(int least) =>
        await Page.EvaluateAsync<string[]>(
            """
            least => [...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary, [role=button]")]
              .filter(e => e.checkVisibility({ visibilityProperty: true }) && !e.closest(".only-heard, .skip"))
              .filter(e => !(e.tagName === "A" && e.closest("p, td, li, .hint")))
              .map(e => [e, (e.closest("label") ?? e).getBoundingClientRect()])
              .filter(([, box]) => box.width > 0 && (box.width < least || box.height < least))
              .map(([e, box]) => `${Math.round(box.width)}x${Math.round(box.height)} ${e.outerHTML.slice(0, 140)}`)
            """,
            least
        );

    /// <summary>How many CSS pixels the page is wider than the screen.</summary>
    public Task<int> OverflowAsync() =>
        Page.EvaluateAsync<int>("Math.max(0, document.documentElement.scrollWidth - document.documentElement.clientWidth)");

    public async ValueTask DisposeAsync() => await context.DisposeAsync();

    private void Listen(IConsoleMessage message)
    {
        // Answers such as 404 are what some tests ask for; the browser words them as errors of loading.
        if (message.Type == "error" && !message.Text.StartsWith("Failed to load resource", StringComparison.Ordinal))
            complaints.Enqueue(message.Text);
    }

    private static string ScreenshotFolder([CallerFilePath] string here = "")
    {
        var tests = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", ".."));
        return Directory.CreateDirectory(Path.Combine(tests, "screenshots")).FullName;
    }
}
