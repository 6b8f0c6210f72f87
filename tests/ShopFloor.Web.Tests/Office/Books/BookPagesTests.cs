using System.Globalization;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Books;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Books;

/// <summary>The pages of the day's takings and of a month's books, as they stand on the screen.</summary>
public sealed class BookPagesTests : IAsyncLifetime
{
    private readonly BunitContext page = new();
    private InvoicingShop shop = null!;

    public async Task InitializeAsync()
    {
        shop = await InvoicingShop.OpenAsync();
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        page.Services.AddLocalization();
        page.Services.AddSingleton<TimeProvider>(shop.Shop.Clock);
        page.Services.AddSingleton(_ => shop.Shop.Get<TakingsView>());
        page.Services.AddSingleton(_ => shop.Shop.Get<BooksView>());
        page.Services.AddSingleton(_ => shop.Shop.Get<Notifier>());
    }

    public async Task DisposeAsync()
    {
        await page.DisposeAsync();
        await shop.DisposeAsync();
    }

    [Fact]
    public async Task Takings_Today_ListEachPaymentWithItsDocumentAndTheSums()
    {
        var order = await shop.OrderAsync();
        var invoice = await shop.InvoiceAsync(order);
        await PayAsync(new PaymentInput(invoice.Id, null, 3m, shop.Today, "card", "thanks"));
        await PayAsync(new PaymentInput(null, order, 2m, shop.Today, "cash"));
        var sheet = await shop.Shop.Get<TakingsView>().LoadAsync(null);

        var takings = Open<TakingsPage>();

        var (sums, payments) = (takings.FindAll("table")[0], takings.FindAll("table")[1]);
        Assert.Equal(3, sums.QuerySelectorAll("tbody tr").Length);
        Assert.Contains(Written(sheet.Total), sums.QuerySelector("tfoot strong")!.TextContent, StringComparison.Ordinal);
        Assert.Equal(sheet.Payments.Count, payments.QuerySelectorAll("tbody tr").Length);
        var paid = payments.QuerySelectorAll("tbody tr").First(r => r.TextContent.Contains("thanks", StringComparison.Ordinal));
        Assert.Equal($"office/invoices/{invoice.Number}", paid.QuerySelector("a")!.GetAttribute("href"));
        Assert.Contains("on account", payments.TextContent, StringComparison.Ordinal);
        Assert.DoesNotContain(takings.FindAll("a"), a => a.TextContent.Contains("Day after", StringComparison.Ordinal));
        Assert.NotNull(takings.Find($"[href='office/takings/{Day(shop.Today)}.pdf']"));
    }

    [Fact]
    public async Task Takings_AnotherDay_IsGoneToAndCanBeEmpty()
    {
        var takings = Open<TakingsPage>(("day", Day(shop.Today)));
        await takings.Find("#day").ChangeAsync(new() { Value = "2020-02-03" });
        Assert.EndsWith(
            "office/takings?day=2020-02-03",
            page.Services.GetRequiredService<NavigationManager>().Uri,
            StringComparison.Ordinal
        );

        var empty = Open<TakingsPage>(("day", "2020-02-03"));
        Assert.Contains("Nothing came in on this day.", empty.Markup, StringComparison.Ordinal);
        Assert.NotNull(empty.Find("[href='office/takings?day=2020-02-04']"));
        Assert.NotNull(empty.Find("[href='office/takings?day=2020-02-02']"));
    }

    [Fact]
    public async Task Books_OfThisMonth_ShowWhatWasIssuedByRateAndKindAndOfferTheFiles()
    {
        await shop.InvoiceAsync(await shop.OrderAsync());
        var month = shop.Today.ToString("yyyy-MM", CultureInfo.InvariantCulture);
        var sheet = await shop.Shop.Get<BooksView>().LoadAsync(month);

        var books = Open<BooksPage>(("month", month));

        var tables = books.FindAll("table");
        Assert.Equal(sheet.Rates.Count, tables[0].QuerySelectorAll("tbody tr").Length);
        Assert.Contains(
            $"{Written(sheet.Total)} {sheet.Currency}",
            tables[0].QuerySelector("tfoot strong")!.TextContent,
            StringComparison.Ordinal
        );
        Assert.Equal(sheet.Kinds.Select(k => k.Count.ToString(CultureInfo.CurrentCulture)), Cells(tables[1], 1));
        Assert.Equal(sheet.Means.Select(m => Written(m.Amount)), Cells(tables[2], 2));
        foreach (var file in new[] { ".zip", "/documents.csv", "/payments.csv", ".pdf" })
            Assert.NotNull(books.Find($"[href='office/books/{month}{file}']"));
        Assert.DoesNotContain(books.FindAll("a"), a => a.TextContent.Contains("Month after", StringComparison.Ordinal));
    }

    [Fact]
    public void Books_OfAMonthWithoutDocuments_SaySoAndLeadOn()
    {
        var books = Open<BooksPage>(("month", "2020-02"));
        Assert.Contains("Nothing was issued in this month.", books.Markup, StringComparison.Ordinal);
        Assert.NotNull(books.Find("[href='office/books?month=2020-01']"));
        Assert.NotNull(books.Find("[href='office/books?month=2020-03']"));
    }

    private IRenderedComponent<T> Open<T>(params (string Name, string Value)[] query)
        where T : IComponent
    {
        var address = page.Services.GetRequiredService<NavigationManager>();
        address.NavigateTo(address.GetUriWithQueryParameters("/", query.ToDictionary(q => q.Name, q => (object?)q.Value)));
        return page.Render<T>();
    }

    private async Task PayAsync(PaymentInput payment) =>
        Assert.True((await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), payment)).IsOk);

    private static IEnumerable<string> Cells(AngleSharp.Dom.IElement table, int column) =>
        table.QuerySelectorAll("tbody tr").Select(r => r.Children[column].TextContent.Trim());

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Written(decimal amount) => amount.ToString("N2", CultureInfo.CurrentCulture);
}
