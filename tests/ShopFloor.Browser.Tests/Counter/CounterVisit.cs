using System.IO.Compression;
using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;

namespace ShopFloor.Browser.Tests.Counter;

/// <summary>Somebody at the Counter's tablet: taps and screens are counted, every screen can be looked at.</summary>
internal sealed class CounterVisit(Visitor visitor) : IAsyncDisposable
{
    private static readonly Dictionary<string, string> Titles = new(StringComparer.Ordinal)
    {
        ["size"] = "How large is it?",
        ["picture"] = "What shall be on it?",
        ["look"] = "How shall it look?",
        ["you"] = "Who is it for?",
        ["check"] = "Is everything right?",
    };

    private readonly List<string> faults = [];

    internal IPage Page => visitor.Page;

    /// <summary>Taps so far, each field that is typed into counted as one.</summary>
    internal int Taps { get; private set; }

    /// <summary>Screens seen so far.</summary>
    internal int Screens { get; private set; } = 1;

    /// <summary>Characters typed so far.</summary>
    internal int Typed { get; private set; }

    /// <summary>What was wrong with the screens that were looked at.</summary>
    internal IReadOnlyList<string> Faults => [.. faults, .. visitor.Complaints];

    internal static async Task<CounterVisit> AtAsync(Stage stage, Screen screen, string role = WorkerRole.Counter, bool dark = false)
    {
        var visit = new CounterVisit(await stage.VisitAsync(screen, role, dark));
        await visit.GoAsync("/counter");
        return visit;
    }

    internal Task<IResponse?> GoAsync(string path) => visitor.GoAsync(path);

    internal async Task TapAsync(ILocator what)
    {
        Taps++;
        await what.ClickAsync();
    }

    internal Task TapAsync(string selector) => TapAsync(Page.Locator(selector));

    /// <summary>Waits until the address ends so, leaving out what follows a question mark.</summary>
    internal Task AtAsync(string end) => Page.EndsAsync(end);

    /// <summary>Waits for the ticket.</summary>
    internal Task TicketAsync() => Page.ContainsAsync("/ticket/");

    internal Task CardAsync(string words) => TapAsync(Page.Locator("label.card", new() { HasText = words }));

    /// <summary>Types into a field; the tap that brings the cursor there counts, unless it is there already.</summary>
    internal async Task TypeAsync(string field, string text)
    {
        var already = await Page.EvaluateAsync<string>("document.activeElement.id");
        if (already != field)
            Taps++;
        Typed += text.Length;
        await Page.Locator($"#{field}").FillAsync(text);
    }

    /// <summary>Goes on and waits for the screen that comes.</summary>
    internal async Task ContinueAsync(string next)
    {
        await TapAsync("#continue");
        await AtAsync($"/{next}");
        await Assertions.Expect(Page.Locator("h1")).ToHaveTextAsync(Titles[next]);
        Screens++;
        // On a tablet the cursor comes to the first field by itself.
        if (Page.ViewportSize!.Width >= 700 && next is ("size" or "you"))
            await Assertions.Expect(Page.Locator(next == "size" ? "#width" : "#name")).ToBeFocusedAsync();
    }

    /// <summary>Looks at the screen: keeps a picture of it, and what axe-core, small targets and sideways scrolling say.</summary>
    internal async Task LookAsync(string name)
    {
        await visitor.ShootAsync($"counter-{name}");
        faults.AddRange((await visitor.AxeAsync()).Select(f => $"{name}: {f}"));
        faults.AddRange((await visitor.SmallTargetsAsync(44)).Select(f => $"{name}: small: {f}"));
        if (await visitor.OverflowAsync() is > 0 and var pixels)
            faults.Add($"{name}: {pixels} px wider than the screen");
    }

    /// <summary>Sends a picture file by the page's own chooser and waits until it lies on the piece.</summary>
    internal async Task PictureAsync()
    {
        Taps++;
        await Page.Locator("#picture")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "harbour.png",
                    MimeType = "image/png",
                    Buffer = Picture(),
                }
            );
        await Page.Locator("picture-placer image").WaitForAsync();
    }

    /// <summary>From the start to the step of the picture with an own plate of steel.</summary>
    internal async Task DescribeAsync(Func<string, Task>? look = null)
    {
        look ??= _ => Task.CompletedTask;
        await look("0-start");
        await TapAsync("#begin-own");
        await AtAsync("/piece");
        await visitor.ReadyAsync();
        Screens++;
        await CardAsync("Stainless steel");
        await CardAsync("Flat");
        await TapAsync("#hidden-none");
        await look("1-piece");
        await ContinueAsync("size");
        await TypeAsync("width", "90");
        await TypeAsync("height", "5 1/2 in");
        await TypeAsync("thickness", "1,2");
        await TypeAsync("value", "45");
        await Assertions.Expect(Page.Locator("#height-echo")).ToHaveTextAsync("139.7 mm (5 1/2 in)");
        await look("2-size");
        await ContinueAsync("picture");
    }

    /// <summary>A PNG of 1200 × 900 pixels, light in the middle, with right sizes and check sums.</summary>
    internal static byte[] Picture()
    {
        const int wide = 1200,
            high = 900;
        using var raw = new MemoryStream();
        using (var packed = new ZLibStream(raw, CompressionLevel.Fastest, leaveOpen: true))
            for (var y = 0; y < high; y++)
            {
                packed.WriteByte(0);
                for (var x = 0; x < wide; x++)
                {
                    var middle = (x - 600) * (x - 600) + (y - 450) * (y - 450) < 40_000;
                    packed.Write(middle ? [245, 245, 240] : [(byte)(x / 5), (byte)(y / 4), 120]);
                }
            }
        return PngFile.Of(wide, high, raw.ToArray());
    }

    public async ValueTask DisposeAsync() => await visitor.DisposeAsync();
}
