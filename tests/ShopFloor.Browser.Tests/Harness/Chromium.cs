using Microsoft.Playwright;

namespace ShopFloor.Browser.Tests.Harness;

/// <summary>One Chromium for all tests; each test gets contexts (cookie jars) of its own.</summary>
public sealed class Chromium : IAsyncLifetime
{
    /// <summary>How long a test waits for what must come. It costs time only where the test fails; a short one fails on a busy machine.</summary>
    internal static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private const string Path = "/usr/bin/chromium";
    private IPlaywright? playwright;

    /// <summary>The running browser.</summary>
    public IBrowser Browser { get; private set; } = null!;

    public async Task InitializeAsync()
    {
        playwright = await Playwright.CreateAsync();
        Assertions.SetDefaultExpectTimeout((float)Patience.TotalMilliseconds);
        Browser = await playwright.Chromium.LaunchAsync(
            new BrowserTypeLaunchOptions
            {
                ExecutablePath = Environment.GetEnvironmentVariable("SHOPFLOOR_CHROMIUM") ?? Path,
                Args =
                [
                    "--no-sandbox",
                    "--disable-gpu",
                    "--disable-quic",
                    "--no-first-run",
                    "--disable-background-networking",
                    "--disable-component-update",
                    "--disable-sync",
                ],
            }
        );
    }

    public async Task DisposeAsync()
    {
        await Browser.DisposeAsync();
        playwright?.Dispose();
    }
}

/// <summary>The demo shop and the browser, shared by the tests that only look or that work on orders of their own.</summary>
public sealed class Stage : IAsyncLifetime
{
    private readonly Chromium chromium = new();

    /// <summary>The program with the demo workshop.</summary>
    public AppHost App { get; private set; } = null!;

    /// <summary>A new visitor.</summary>
    public Task<Visitor> VisitAsync(Screen screen, string? role = null, bool dark = false) =>
        Visitor.EnterAsync(chromium.Browser, App.Address, screen, role, dark);

    /// <summary>A new visitor of another program.</summary>
    public Task<Visitor> VisitAsync(string address, Screen screen, string? role = null) =>
        Visitor.EnterAsync(chromium.Browser, address, screen, role, dark: false);

    public async Task InitializeAsync()
    {
        App = await AppHost.StartAsync();
        await chromium.InitializeAsync();
    }

    public async Task DisposeAsync()
    {
        await chromium.DisposeAsync();
        await App.DisposeAsync();
    }
}

/// <summary>Tests in this collection share one <see cref="Stage"/> and run one after another.</summary>
[CollectionDefinition(Name)]
public sealed class OnStage : ICollectionFixture<Stage>
{
    public const string Name = "on stage";
}
