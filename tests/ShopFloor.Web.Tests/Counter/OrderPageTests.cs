using System.Security.Claims;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Steps;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>The order page with several pieces, as a customer taps through it.</summary>
public sealed class OrderPageTests : IAsyncLifetime
{
    private readonly BunitContext browser = new();
    private CounterHost counter = null!;
    private AsyncServiceScope scope;
    private Guid worker;

    public async Task InitializeAsync()
    {
        counter = await CounterHost.OpenAsync();
        worker = await counter.WorkerAsync(WorkerRole.Counter);
        scope = counter.Host.Services.CreateAsyncScope();
        browser.JSInterop.Mode = JSRuntimeMode.Loose;
        browser.Services.AddFallbackServiceProvider(scope.ServiceProvider);
        browser.SetRendererInfo(new RendererInfo("Server", isInteractive: true));
    }

    public async Task DisposeAsync()
    {
        await scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!.FlushAsync();
        await browser.DisposeAsync();
        await scope.DisposeAsync();
        await counter.DisposeAsync();
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public async Task TakeOut_OneOfThreeLines_LeavesTheOthersOnThePage(int index)
    {
        var page = await OpenAsync(CounterStep.Check, "100", "110", "120");
        await page.FindAll("button")
            .Where(b => b.TextContent.Contains("Take this line out", StringComparison.Ordinal))
            .ElementAt(index)
            .ClickAsync();
        string[] left = [.. new[] { "100", "110", "120" }.Where((_, i) => i != index)];
        Assert.Equal(left, page.FindComponents<LineAnswers>().Select(l => l.Instance.One.Width));
    }

    [Theory]
    [InlineData(CounterStep.Piece)]
    [InlineData(CounterStep.Check)]
    public async Task LeaveOut_APieceAddedByMistake_GoesBackToTheCheckOfTheOthers(CounterStep address)
    {
        var page = await OpenAsync(address, "100", "");
        Assert.Contains("Piece 2 of this order", page.Markup, StringComparison.Ordinal);
        await page.Find("#leave-out").ClickAsync();
        Assert.Equal("100", Assert.Single(page.FindComponents<LineAnswers>()).Instance.One.Width);
        Assert.EndsWith("/check", browser.Services.GetRequiredService<NavigationManager>().Uri, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Piece_TheOnlyOne_IsNotOfferedToBeLeftOut()
    {
        var page = await OpenAsync(CounterStep.Piece, "100");
        Assert.Empty(page.FindAll("#leave-out"));
    }

    [Theory]
    [InlineData(-1, true)]
    [InlineData(0, false)]
    public async Task Check_OfAWantedDay_SaysWhetherItCannotBeKept(int after, bool said)
    {
        var page = await OpenAsync(CounterStep.Check, "100");
        var desk = scope.ServiceProvider.GetRequiredService<OrderDesk>();
        page.WaitForState(() => desk.Quoter!.Quote?.PromisedAt is not null);
        var promised = DateOnly.FromDateTime(desk.Choices!.Local(desk.Quoter!.Quote!.PromisedAt!.Value).DateTime);
        desk.Keeper!.Change(e => e with { Wanted = $"{promised.AddDays(after):yyyy-MM-dd}" });
        await page.InvokeAsync(desk.Quoter.AskAsync);
        page.WaitForAssertion(() =>
            Assert.Equal(said, page.Markup.Contains("The earliest day we can promise is", StringComparison.Ordinal))
        );
    }

    [Fact]
    public async Task Picture_ListOfTexts_ShowsThemAsTheyAreRead()
    {
        var page = await OpenAsync(CounterStep.Picture, "100");
        scope
            .ServiceProvider.GetRequiredService<OrderDesk>()
            .Keeper!.Change(e => e.WithLine(l => l with { List = "\"Oma\" Erika\nLove; Mum" }));
        page.WaitForAssertion(() =>
            Assert.Equal(["\"Oma\" Erika", "Love; Mum"], page.FindAll("#texts-read li").Select(l => l.TextContent))
        );
    }

    [Theory]
    [InlineData("twelve", 1)]
    [InlineData("1.2345", 1)]
    [InlineData("12,50", 0)]
    [InlineData(" ", 0)]
    public async Task Book_PriceByHandThatCannotBeRead_IsRefusedBesideIt(string typed, int faults)
    {
        await OpenAsync(CounterStep.Check, "100", "110");
        var desk = scope.ServiceProvider.GetRequiredService<OrderDesk>();
        desk.Keeper!.Change(e => e with { Lines = [e.Lines[0] with { PriceByHand = typed, PriceReason = "agreed" }, e.Lines[1]] });

        var booked = await desk.BookAsync();

        Assert.False(booked.IsOk);
        Assert.Equal(faults, booked.Refusals.Count(r => r.Field == "lines.0.priceByHand"));
    }

    /// <summary>A phone may send its picture while the customer looks at the last page already.</summary>
    [Fact]
    public async Task Check_PictureComesFromAPhone_IsAskedAboutBeforeItIsBooked()
    {
        var page = await OpenAsync(CounterStep.Check, "100", "110");
        Assert.Empty(page.FindAll("#rights"));
        var keeper = scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!;
        var coarse = new PictureEntry(new PictureId(Guid.CreateVersion7()), 208, 128, "dog.png");

        await page.InvokeAsync(() => keeper.Take([new IncomingPicture(coarse, 0, IsPhoto: false, [])]));

        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll("#rights")));
        Assert.NotEmpty(page.FindAll("#coarse-1"));
        await page.InvokeAsync(() => keeper.Change(e => e.Without(1)));
        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll("#coarse")));
    }

    [Fact]
    public async Task Check_AnotherWayIsTaken_SaysTheOrderAsItIsNow()
    {
        var page = await OpenAsync(CounterStep.Check, "100");
        var keeper = scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!;
        Assert.DoesNotContain("done first", page.FindComponent<OrderAnswers>().Markup, StringComparison.Ordinal);

        await page.InvokeAsync(() => keeper.Change(e => e with { IsRush = true }));
        page.WaitForAssertion(() => Assert.Contains("done first", page.FindComponent<OrderAnswers>().Markup, StringComparison.Ordinal));

        await page.InvokeAsync(() => keeper.Change(e => e with { IsRush = false }));
        page.WaitForAssertion(() =>
            Assert.DoesNotContain("done first", page.FindComponent<OrderAnswers>().Markup, StringComparison.Ordinal)
        );
    }

    [Fact]
    public async Task Look_FewerPiecesAreTaken_TheNumberSaysSoAndTheNextTapCountsFromIt()
    {
        var page = await OpenAsync(CounterStep.Look, Plate("100") with { Quantity = "10" });
        var keeper = scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!;
        page.WaitForAssertion(() => Assert.Equal("10", page.Find("#quantity").GetAttribute("value")));

        await page.InvokeAsync(() => keeper.ChangeLine(l => l with { Quantity = "5" }));

        page.WaitForAssertion(() => Assert.Equal("5", page.Find("#quantity").GetAttribute("value")));
        await page.FindComponent<CountGroup>().FindAll("button")[1].ClickAsync();
        Assert.Equal("6", keeper.Line.Quantity);
    }

    /// <summary>What was said of the second line is not said of the third when the first is taken out.</summary>
    [Fact]
    public async Task Book_RefusedForALineAndAnotherTakenOut_SaysItOfNone()
    {
        var gone = Plate("110") with { Picture = new PictureEntry(new PictureId(Guid.CreateVersion7()), 2400, 1440, "p.png") };
        var page = await OpenAsync(CounterStep.Check, Plate("100"), gone, Plate("120"));
        var keeper = scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!;
        await page.InvokeAsync(() => keeper.Change(e => e with { RiskAccepted = true, RightsAccepted = true }));
        page.WaitForElement("#book");
        await page.InvokeAsync(() => page.FindComponent<BookButton>().Instance.OnBook.InvokeAsync());
        page.WaitForElement("#wrong-places");

        await page.InvokeAsync(() => keeper.Change(e => e with { Lines = [.. e.Lines.Skip(1)], At = 0 }));

        page.WaitForAssertion(() => Assert.Equal(2, page.FindComponents<LineAnswers>().Count));
        Assert.Empty(page.FindAll("#wrong-places"));
        Assert.Empty(page.FindAll(".faults li"));
    }

    /// <summary>What is refused of a line at the end names the line and leads to where it was entered.</summary>
    [Fact]
    public async Task Book_RefusedForALine_NamesItAndLeadsToItsStep()
    {
        var gone = Plate("110") with { Picture = new PictureEntry(new PictureId(Guid.CreateVersion7()), 2400, 1440, "p.png") };
        var page = await OpenAsync(CounterStep.Check, Plate("100"), gone, Plate("120"));
        var keeper = scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!;
        await page.InvokeAsync(() => keeper.Change(e => e with { RiskAccepted = true, RightsAccepted = true }));
        page.WaitForElement("#book");
        Assert.Empty(page.FindAll("#wrong-places"));

        await page.InvokeAsync(() => page.FindComponent<BookButton>().Instance.OnBook.InvokeAsync());

        page.WaitForAssertion(() => Assert.StartsWith("Line 2: The picture is no longer kept", page.Find(".faults li").TextContent.Trim()));
        Assert.Empty(page.FindAll(".faults a"));
        var lead = page.Find("#wrong-places button");
        Assert.Equal("Change: Line 2, Picture", lead.TextContent.Trim());
        await lead.ClickAsync();
        Assert.EndsWith("/picture?to=check", browser.Services.GetRequiredService<NavigationManager>().Uri, StringComparison.Ordinal);
        Assert.Equal(1, keeper.Entry.At);
    }

    /// <summary>A clerk may set a price on each line: a fault and its label belong to one field alone.</summary>
    [Fact]
    public async Task Book_PriceByHandOfTheSecondLine_IsRefusedAtItsOwnField()
    {
        var clerk = await counter.WorkerAsync(WorkerRole.Bench);
        var page = await OpenAsync(clerk, CounterStep.Check, Plate("100"), Plate("110"));
        var keeper = scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!;
        await page.InvokeAsync(() => keeper.ChangeLine(l => l with { PriceByHand = "12" }));
        var ids = page.FindAll("input[id^=priceByHand], input[id^=priceReason]").Select(e => e.Id);
        Assert.Equal(["priceByHand-1", "priceReason-1", "priceByHand-2", "priceReason-2"], ids);
        var desk = scope.ServiceProvider.GetRequiredService<OrderDesk>();
        await page.InvokeAsync(() => desk.Quoter!.AskAsync());
        page.WaitForAssertion(() => Assert.NotEmpty(page.FindAll("#book")));
        Assert.DoesNotContain("Choose another piece", page.Markup, StringComparison.Ordinal);

        await page.Find("#book").ClickAsync();

        page.WaitForAssertion(() => Assert.Contains("Say why", page.Find("#priceReason-2-fault").TextContent, StringComparison.Ordinal));
        Assert.Empty(page.FindAll("#priceReason-1-fault"));
        var links = page.FindAll(".faults a").Where(a => a.TextContent.StartsWith("Line 2", StringComparison.Ordinal));
        Assert.Equal("priceReason-2", Assert.Single(links).GetAttribute("data-field"));
    }

    [Fact]
    public async Task Size_OfACup_AsksForItsDiameterAndSaysOnceRound()
    {
        var cup = Plate("300") with
        {
            Material = "ss",
            Form = Form.Cylinder,
            Face = FaceShape.Rectangle,
            Height = "85",
            Thickness = "80",
            Wall = "0.8",
        };
        var page = await OpenAsync(CounterStep.Size, cup);
        Assert.Contains("Once round is 251 mm", page.Markup, StringComparison.Ordinal);
        Assert.Empty(page.FindAll("[name=face]"));
        Assert.Equal("thickness", page.FindAll("#thickness, #width, #height")[0].Id);
        Assert.Contains("Diameter, outside", page.Find("label[for=thickness]").TextContent, StringComparison.Ordinal);

        var entry = scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!.Entry;
        var fault = Assert.Single(StepFaults.Of(entry, CounterStep.Size, new DateOnly(2026, 1, 1)));
        Assert.Equal("width", fault.Field);
        Assert.Empty(StepFaults.Of(entry.WithLine(l => l with { Width = "220" }), CounterStep.Size, new DateOnly(2026, 1, 1)));
        var unread = StepFaults.Of(entry.WithLine(l => l with { Thickness = "" }), CounterStep.Size, new DateOnly(2026, 1, 1));
        Assert.Equal(("thickness", "Please enter the diameter."), (unread[0].Field, unread[0].Key));
    }

    [Fact]
    public async Task Piece_OtherMaterial_IsAskedAnewWhatHidesInIt()
    {
        var page = await OpenAsync(CounterStep.Piece, "100");
        page.WaitForAssertion(() => Assert.True(page.Find("#hidden-none").HasAttribute("checked")));
        Assert.NotEmpty(page.FindAll("#note"));
        var keeper = scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!;
        var metals = page.FindAll("[name^=hidden-]").Count;

        var glass = page.FindAll("[name=material]").First(c => c.ParentElement!.TextContent.Contains("Glass", StringComparison.Ordinal));
        await glass.ChangeAsync(new() { Value = glass.GetAttribute("value") });

        page.WaitForAssertion(() => Assert.NotEqual(metals, page.FindAll("[name^=hidden-]").Count));
        Assert.Equal(HiddenAnswer.NotYet, keeper.Line.HiddenAnswer);
        Assert.False(page.Find("#hidden-none").HasAttribute("checked"));
    }

    private static LineEntry Plate(string width) =>
        new()
        {
            IsOwn = true,
            Material = "al",
            Form = Form.Flat,
            Width = width,
            Height = "60",
            Thickness = "1",
            Value = "20",
            HiddenAnswer = HiddenAnswer.Nothing,
            OldCoat = ShopFloor.Domain.Materials.Answer.No,
            Finish = Finish.WhiteGround,
            Text = "Boat club",
        };

    private Task<IRenderedComponent<OrderPage>> OpenAsync(CounterStep step, params string[] widths) =>
        OpenAsync(step, [.. widths.Select(w => w.Length == 0 ? new LineEntry() : Plate(w))]);

    private Task<IRenderedComponent<OrderPage>> OpenAsync(CounterStep step, params LineEntry[] lines) => OpenAsync(worker, step, lines);

    private async Task<IRenderedComponent<OrderPage>> OpenAsync(Guid by, CounterStep step, params LineEntry[] lines)
    {
        var entry = new OrderEntry
        {
            BookCommand = Guid.CreateVersion7(),
            Name = "Ada Fenwick",
            Email = "ada@shop.example",
            ContactAgreed = true,
            Lines = lines,
            At = lines.Length - 1,
        };
        var draft = (await counter.Get<BeginDraft>().RunAsync(Asked.By(by), entry, step)).Value;
        var user = new ClaimsPrincipal(
            new ClaimsIdentity(
                [
                    new Claim(ClaimTypes.NameIdentifier, by.ToString()),
                    new Claim(ClaimTypes.Role, by == worker ? WorkerRole.Counter : WorkerRole.Bench),
                ],
                "test"
            )
        );
        var page = browser.Render<OrderPage>(p =>
            p.Add(o => o.Id, draft).Add(o => o.Word, step.Word()).AddCascadingValue(TestPage.Session(user))
        );
        page.WaitForElement(step == CounterStep.Size ? "#thickness" : "#price-total");
        return page;
    }
}
