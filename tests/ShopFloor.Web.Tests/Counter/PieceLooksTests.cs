using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Of a list of texts each piece can be looked at; what does not fit is marked in the list and named beside the field.</summary>
public sealed class PieceLooksTests
{
    private static readonly string TooLong = string.Concat(Enumerable.Repeat("Anniversary ", 14)).Trim();

    private static OrderEntry Listed(params string[] texts) =>
        PlainEntry.Order("") with
        {
            BookCommand = Guid.CreateVersion7(),
            RightsAccepted = true,
            Lines = [PlainEntry.Order("").Line with { Text = "", List = string.Join('\n', texts) }],
        };

    [Fact]
    public void Of_TextWiderThanTheFace_DoesNotFit()
    {
        var line = Listed("Ann", TooLong).Line;
        var small = Assert.Single(PrintDoubts.Of(line, LengthUnit.Millimetre, new PrintRules(2)).Small);
        Assert.Equal((TooLong, false), (small.Text, small.Fits));
    }

    [Theory]
    [InlineData("en-GB", "2 of 3", "does not fit")]
    [InlineData("de-DE", "2 von 3", "passt nicht")]
    public async Task Picture_ListOfTexts_IsPagedThroughAndMarked(string culture, string second, string mark)
    {
        var (before, language) = (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture);
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo(culture);
            await using var counter = await CounterHost.OpenAsync();
            await using var scope = counter.Host.Services.CreateAsyncScope();
            await using var browser = new BunitContext();
            browser.JSInterop.Mode = JSRuntimeMode.Loose;
            browser.Services.AddFallbackServiceProvider(scope.ServiceProvider);
            browser.SetRendererInfo(new RendererInfo("Server", isInteractive: true));
            var page = await OpenAsync(counter, browser, Listed("Ann", TooLong, "Cy"));
            var keeper = scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!;
            var looks = page.Find(".piece-looks");
            Assert.Contains("Ann", looks.QuerySelector(".face-text")!.TextContent, StringComparison.Ordinal);
            Assert.Single(page.FindAll(".piece-looks .face-view"));
            Assert.Contains(mark, page.FindAll("#texts-read li")[1].TextContent, StringComparison.Ordinal);
            Assert.DoesNotContain(mark, page.FindAll("#texts-read li")[0].TextContent, StringComparison.Ordinal);
            Assert.Contains(TooLong, page.Find(".small-letters").TextContent, StringComparison.Ordinal);

            await page.InvokeAsync(() => page.FindAll(".piece-looks .piece-turn button")[1].ClickAsync(new()));
            page.WaitForAssertion(() => Assert.Contains(second, page.Find(".piece-looks p").TextContent, StringComparison.Ordinal));
            Assert.Contains(TooLong, page.Find(".piece-looks .face-text").TextContent, StringComparison.Ordinal);
            Assert.Contains(mark, page.Find(".piece-looks p").TextContent, StringComparison.Ordinal);

            // The list becomes shorter than what was looked at.
            await page.InvokeAsync(() => page.FindAll(".piece-looks .piece-turn button")[1].ClickAsync(new()));
            await page.InvokeAsync(() => keeper.ChangeLine(l => l.WithList("Ann\nBo")));
            page.WaitForAssertion(() => Assert.Contains("Bo", page.Find(".piece-looks p").TextContent, StringComparison.Ordinal));
            Assert.Empty(page.FindAll(".small-letters"));
            await keeper.FlushAsync();
        }
        finally
        {
            (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture) = (before, language);
        }
    }

    private static async Task<IRenderedComponent<OrderPage>> OpenAsync(CounterHost counter, BunitContext browser, OrderEntry entry)
    {
        var worker = await counter.WorkerAsync(WorkerRole.Counter);
        var draft = (await counter.Get<BeginDraft>().RunAsync(Asked.By(worker), entry, CounterStep.Picture)).Value;
        var page = browser.Render<OrderPage>(p =>
            p.Add(o => o.Id, draft)
                .Add(o => o.Word, CounterStep.Picture.Word())
                .AddCascadingValue(TestPage.Session(worker, WorkerRole.Counter))
        );
        page.WaitForElement("#price-total");
        return page;
    }
}
