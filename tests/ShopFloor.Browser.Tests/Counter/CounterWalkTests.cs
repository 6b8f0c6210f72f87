using System.Threading.Channels;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;
using ShopFloor.Web.Live;

namespace ShopFloor.Browser.Tests.Counter;

[Collection(OnStage.Name)]
public sealed class CounterWalkTests(Stage stage)
{
    public static TheoryData<string, bool> Devices =>
        new()
        {
            { Screen.TabletUpright.Name, false },
            { Screen.Tablet.Name, true },
            { Screen.Phone.Name, false },
            { Screen.Phone.Name, true },
        };

    [Theory]
    [MemberData(nameof(Devices))]
    public async Task Walk_OwnPieceWithAPicture_IsBookedOnSevenScreensWithTwentyTaps(string device, bool dark)
    {
        var screen = Screen.All.Single(s => s.Name == device);
        await using var visit = await CounterVisit.AtAsync(stage, screen, dark: dark);
        await visit.DescribeAsync(visit.LookAsync);
        await visit.PictureAsync();
        await visit.LookAsync("3-picture");
        await visit.ContinueAsync("look");
        await Assertions.Expect(visit.Page.Locator("label.card").First).ToContainTextAsync("EUR");
        await visit.CardAsync("White ground");
        await visit.LookAsync("4-look");
        await visit.ContinueAsync("you");
        await visit.TypeAsync("name", "Ada Fenwick");
        await visit.TypeAsync("email", "ada@shop.example");
        await visit.TapAsync("#contactAgreed");
        await visit.LookAsync("5-you");
        await visit.ContinueAsync("check");
        await visit.TapAsync("#risk");
        await visit.TapAsync("#rights");
        await Assertions.Expect(visit.Page.Locator("#book")).ToBeVisibleAsync();
        await visit.LookAsync("6-check");
        await visit.TapAsync("#book");
        await visit.TicketAsync();
        await visit.LookAsync("7-ticket");
        Assert.True(visit.Faults.Count == 0, string.Join('\n', visit.Faults));
        Assert.True(visit.Screens <= 7, $"{visit.Screens} screens");
        // A phone's keyboard stays down until a field is tapped, which costs two taps more than on a tablet.
        Assert.True(visit.Taps <= (screen.Width < 700 ? 22 : 20), $"{visit.Taps} taps, {visit.Typed} characters");
    }

    [Fact]
    public async Task OtherWay_TakenWithOneTap_ChangesTheOrderAndItsPrice()
    {
        await using var visit = await CounterVisit.AtAsync(stage, Screen.Tablet, WorkerRole.Bench);
        await visit.DescribeAsync();
        await visit.PictureAsync();
        await visit.ContinueAsync("look");
        await visit.CardAsync("White ground");
        await visit.TapAsync("#rush");
        var price = visit.Page.Locator("#price-total");
        await Assertions.Expect(price).ToBeVisibleAsync();
        foreach (var words in (string[])["What is in the price?", "How does the day come about?", "Is there another way?"])
            await visit.TapAsync(visit.Page.Locator("summary", new() { HasText = words }));
        var turn = visit.Page.Locator(".price div", new() { HasText = "Not first, but in its turn" }).Last;
        await Assertions.Expect(turn).ToContainTextAsync("less");
        await visit.LookAsync("4-ways");
        var before = await price.InnerTextAsync();
        await visit.TapAsync(turn.Locator("button"));
        await Assertions.Expect(visit.Page.Locator("#rush")).Not.ToBeCheckedAsync();
        await Assertions.Expect(price).Not.ToHaveTextAsync(before);
        Assert.True(visit.Faults.Count == 0, string.Join('\n', visit.Faults));
    }

    [Fact]
    public async Task Reload_InTheMiddle_ComesBackToTheSameStepWithEverything()
    {
        await using var visit = await CounterVisit.AtAsync(stage, Screen.Tablet);
        await visit.DescribeAsync();
        await visit.Page.Locator("#text").FillAsync("For Theo");
        await Assertions.Expect(visit.Page.Locator("#price-total")).ToBeVisibleAsync();
        var draft = Guid.Parse(visit.Page.Url.Split('/')[^2]);
        await UntilKeptAsync(draft, "For Theo");
        await visit.GoAsync($"/counter/order/{draft}");
        await Assertions.Expect(visit.Page.Locator("h1")).ToHaveTextAsync("What shall be on it?");
        await Assertions.Expect(visit.Page.Locator("#text")).ToHaveValueAsync("For Theo");
    }

    [Fact]
    public async Task Book_TappedManyTimesAtOnce_IsOneOrder()
    {
        await using var visit = await CounterVisit.AtAsync(stage, Screen.Tablet);
        await visit.DescribeAsync();
        await visit.Page.Locator("#text").FillAsync("Once");
        await visit.ContinueAsync("look");
        await visit.CardAsync("White ground");
        await visit.ContinueAsync("you");
        var name = $"Once {Guid.NewGuid():N}";
        await visit.TypeAsync("name", name);
        await visit.TypeAsync("phone", "030 1234567");
        await visit.TapAsync("#contactAgreed");
        await visit.ContinueAsync("check");
        await visit.TapAsync("#risk");
        await visit.Page.Locator("#book").WaitForAsync();
        await visit.Page.EvaluateAsync("for (let i = 0; i < 5; i++) document.getElementById('book').click()");
        await visit.TicketAsync();
        await using var context = await ContextAsync();
        Assert.Equal(1, (await context.Orders.Select(o => o.Contact.Name).ToListAsync()).Count(n => n == name));
    }

    [Fact]
    public async Task Continue_WithNothingEntered_SaysWhatIsMissingAndLeadsThere()
    {
        await using var visit = await CounterVisit.AtAsync(stage, Screen.TabletUpright);
        await visit.TapAsync("#begin-own");
        await visit.AtAsync("/piece");
        await visit.Page.WaitForSelectorAsync("[data-interactive=yes]");
        await visit.TapAsync("#continue");
        await Assertions.Expect(visit.Page.Locator(".faults")).ToBeFocusedAsync();
        await Assertions.Expect(visit.Page.Locator(".faults li")).ToHaveCountAsync(2);
        await Assertions.Expect(visit.Page).ToHaveTitleAsync("Error: What shall we work on?");
        await visit.LookAsync("faults");
        Assert.True(visit.Faults.Count == 0, string.Join('\n', visit.Faults));
    }

    [Fact]
    public async Task Idle_NobodyTouches_AsksCountsDownAndWipes()
    {
        await using var visit = await CounterVisit.AtAsync(stage, Screen.Tablet);
        await visit.Page.Clock.InstallAsync();
        await visit.DescribeAsync();
        await visit.Page.Clock.FastForwardAsync(95_000);
        await Assertions.Expect(visit.Page.Locator("dialog.idle")).ToBeVisibleAsync();
        await visit.LookAsync("idle");
        await visit.Page.Locator("[data-stay]").ClickAsync();
        await Assertions.Expect(visit.Page.Locator("dialog.idle")).ToBeHiddenAsync();
        var address = visit.Page.Url;
        await visit.Page.Clock.FastForwardAsync(125_000);
        await visit.AtAsync("/counter/closed");
        await visit.Page.GotoAsync(address);
        await Assertions.Expect(visit.Page.Locator("h1")).ToHaveTextAsync("This entry is closed");
        // Two minutes passed in the page alone: its connection missed the beats that the server had no time to send.
        var faults = visit.Faults.Where(f => !f.Contains("Server timeout elapsed", StringComparison.Ordinal)).ToList();
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    [Fact]
    public async Task Clerk_AnEarlierOrder_IsRepeatedWithEightTaps()
    {
        await using var visit = await CounterVisit.AtAsync(stage, Screen.Tablet, WorkerRole.Bench);
        await visit.TapAsync(visit.Page.GetByText("Repeat an order, or go on with one"));
        await visit.TypeAsync("q", "Ines");
        await visit.TapAsync(visit.Page.GetByRole(AriaRole.Button, new() { Name = "Find" }));
        await visit.LookAsync("clerk");
        await visit.TapAsync(visit.Page.GetByRole(AriaRole.Button, new() { Name = "Repeat " }).First);
        await visit.AtAsync("/check");
        await visit.Page.WaitForSelectorAsync("[data-interactive=yes]");
        foreach (var box in await visit.Page.Locator("#risk, #rights").AllAsync())
            await visit.TapAsync(box);
        await visit.TapAsync("#book");
        await visit.TicketAsync();
        Assert.True(visit.Faults.Count == 0, string.Join('\n', visit.Faults));
        Assert.True(visit.Taps <= 8, $"{visit.Taps} taps");
    }

    /// <summary>Waits until a draft holds a text, each time the draft is told to have changed.</summary>
    private async Task UntilKeptAsync(Guid draft, string text)
    {
        var changes = Channel.CreateUnbounded<bool>();
        using var ear = stage.App.Services.GetRequiredService<Notifier>().Subscribe([Topic.Draft], _ => changes.Writer.TryWrite(true));
        using var patience = new CancellationTokenSource(Chromium.Patience);
        while (true)
        {
            await using var context = await ContextAsync();
            if ((await context.Drafts.AsNoTracking().SingleAsync(d => d.Id == draft)).Json.Contains(text, StringComparison.Ordinal))
                return;
            await changes.Reader.ReadAsync(patience.Token);
        }
    }

    private Task<ShopContext> ContextAsync() =>
        stage.App.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
}
