using Bunit;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using ShopFloor.Domain;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Prices of a can or an item, as they are typed.</summary>
public sealed class PriceListTests : IAsyncLifetime
{
    private readonly BunitContext page = new();

    public Task InitializeAsync()
    {
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        page.Services.AddLocalization();
        page.Services.AddMudServices();
        return Task.CompletedTask;
    }

    public async Task DisposeAsync() => await page.DisposeAsync();

    [Theory]
    [InlineData("2026-03-01", null)]
    [InlineData("2026-04-01", null)]
    [InlineData("2026-02-28", "February 2026")]
    [InlineData("2025-12-31", "December 2025 to February 2026")]
    public async Task From_DayInAFinishedMonth_NamesTheMonthsBeforeSaving(string from, string? months)
    {
        var list = page.Render<PriceList>(p =>
            p.Add(f => f.Title, "Price")
                .Add(f => f.Currency, "EUR")
                .Add(f => f.Today, new DateOnly(2026, 3, 16))
                .Add(f => f.Enter, (_, _) => Task.FromResult<Result<Done>>(default(Done)))
                .AddCascadingValue(TestPage.Nobody)
        );
        Assert.Empty(list.FindAll(".notice.warn"));

        await list.Find("#from").ChangeAsync(new() { Value = from });

        if (months is null)
            Assert.Empty(list.FindAll(".notice.warn"));
        else
            Assert.Contains($"the figures of {months} can change", list.Find(".notice.warn").TextContent, StringComparison.Ordinal);
    }
}
