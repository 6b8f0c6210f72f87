using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Office.Seasons;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Near a season the order's pages say whether this one is in time for it, and after the last day never that it is.</summary>
public sealed class SeasonNoticeTests : IAsyncLifetime
{
    private readonly BunitContext browser = new();
    private CounterHost counter = null!;
    private AsyncServiceScope scope;

    public async Task InitializeAsync()
    {
        counter = await CounterHost.OpenAsync();
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
    [InlineData(20, 50, "Ordered today, this one is ready in time.", null)]
    [InlineData(0, 0, "This one is not ready for Christmas", "This one is not ready for Christmas")]
    [InlineData(-1, 50, "We cannot promise any more that this one is in time for it.", "We cannot promise any more")]
    [InlineData(-1, 0, "not in time for it.", "not in time for it.")]
    public async Task Order_NearASeason_SaysWhatMayBeSaid(int last, int by, string look, string? check)
    {
        var owner = await counter.WorkerAsync(WorkerRole.Owner);
        var today = (await counter.Get<SeasonsView>().LoadAsync()).Today;
        var season = new Season("Christmas", today.AddDays(last), today.AddDays(by)) { German = "Weihnachten" };
        Assert.True((await counter.Get<ChangeSeasons>().RunAsync(Asked.By(owner), new SeasonChange(season))).IsOk);

        var page = await OpenAsync(CounterStep.Look);
        page.WaitForAssertion(() => Assert.Contains(look, page.Find(".seasons").TextContent, StringComparison.Ordinal));
        await scope.ServiceProvider.GetRequiredService<OrderDesk>().Keeper!.FlushAsync();
        var last2 = await OpenAsync(CounterStep.Check);
        last2.WaitForElement("#book");
        if (check is null)
            Assert.Empty(last2.FindAll(".seasons"));
        else
            Assert.Contains(check, last2.Find(".seasons").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Order_InGerman_NamesTheSeasonInGerman()
    {
        var owner = await counter.WorkerAsync(WorkerRole.Owner);
        var today = (await counter.Get<SeasonsView>().LoadAsync()).Today;
        var season = new Season("Christmas", today.AddDays(20), today.AddDays(50)) { German = "Weihnachten" };
        Assert.True((await counter.Get<ChangeSeasons>().RunAsync(Asked.By(owner), new SeasonChange(season))).IsOk);
        var (culture, language) = (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture);
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("de-DE");
            var page = await OpenAsync(CounterStep.Look);
            page.WaitForAssertion(() =>
                Assert.Contains("Für Weihnachten nehmen wir Aufträge bis", page.Find(".seasons").TextContent, StringComparison.Ordinal)
            );
        }
        finally
        {
            (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture) = (culture, language);
        }
    }

    [Fact]
    public async Task Order_NoSeasonNear_SaysNothing()
    {
        var page = await OpenAsync(CounterStep.Look);
        Assert.Empty(page.FindAll(".seasons"));
    }

    private async Task<IRenderedComponent<OrderPage>> OpenAsync(CounterStep step)
    {
        var worker = await counter.WorkerAsync(WorkerRole.Counter);
        var entry = PlainEntry.Order("Boat club") with { BookCommand = Guid.CreateVersion7(), RightsAccepted = true };
        var draft = (await counter.Get<BeginDraft>().RunAsync(Asked.By(worker), entry, step)).Value;
        var page = browser.Render<OrderPage>(p =>
            p.Add(o => o.Id, draft).Add(o => o.Word, step.Word()).AddCascadingValue(TestPage.Session(worker, WorkerRole.Counter))
        );
        page.WaitForElement("#price-total");
        return page;
    }
}
