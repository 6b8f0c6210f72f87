using Bunit;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>A tax system has a first day: documents go by the one that held when their pieces were supplied.</summary>
public sealed class TaxSystemDayTests
{
    private static readonly DateOnly July = new(2026, 7, 1);
    private static readonly InvoiceSettings Vat = new();

    private static InvoiceSettings None(DateOnly? from) => new() { Scheme = TaxScheme.None, SchemeFrom = from };

    [Fact]
    public void SystemOn_BeforeAndAfterTheFirstDay_IsTheOneThatHeld()
    {
        var settings = None(July).After(Vat, July.AddDays(-20));
        Assert.Equal(TaxScheme.Vat, settings.SystemOn(July.AddDays(-1)).Scheme);
        Assert.Equal(TaxScheme.None, settings.SystemOn(July).Scheme);
        Assert.Equal(19m, settings.RateOn("normal", July.AddDays(-1), 19m).Value.Kind.Percent);
        Assert.Equal(0m, settings.RateOn("normal", July, 19m).Value.Kind.Percent);
    }

    [Fact]
    public void After_OneThatHadNotBegun_ReplacesIt()
    {
        var planned = None(July).After(Vat, July.AddDays(-20));
        var later = None(July.AddDays(31)).After(planned, July.AddDays(-10));
        Assert.Equal([TaxScheme.Vat], later.Before.Select(s => s.Scheme));
        Assert.Equal(TaxScheme.Vat, later.SystemOn(July.AddDays(5)).Scheme);
        var back = (Vat with { SchemeFrom = July }).After(planned, July.AddDays(-10));
        Assert.Equal(TaxScheme.Vat, back.SystemOn(July.AddDays(5)).Scheme);
    }

    [Fact]
    public void After_OneThatHolds_IsKeptUntilTheDayBefore()
    {
        var small = None(July).After(Vat, July.AddDays(-20));
        var grown = (Vat with { SchemeFrom = July.AddYears(1) }).After(small, July.AddMonths(6));
        Assert.Equal([TaxScheme.Vat, TaxScheme.None], grown.Before.Select(s => s.Scheme));
        Assert.Equal(TaxScheme.None, grown.SystemOn(July.AddYears(1).AddDays(-1)).Scheme);
        Assert.Equal(TaxScheme.Vat, grown.SystemOn(July.AddYears(1)).Scheme);
    }

    [Fact]
    public void Check_RatesOfTheTaxThatEnds_MayStayUntilTheDayBefore()
    {
        TaxRate Until(DateOnly? last) => new("normal", "Normal", TaxKind.Standard(19m), null, DateOnly.MinValue, last);
        var ended = None(July).After(Vat, July.AddDays(-20)) with { Rates = [Until(July.AddDays(-1))] };
        Assert.Empty(ended.Check());
        Assert.Empty(ended.Gaps());
        Assert.Contains("tax-none", (ended with { Rates = [Until(null)] }).Check().Select(f => f.Code));
    }

    [Fact]
    public async Task Change_AnotherSystemWithoutADayWhileOrdersAreBooked_IsRefusedBesideIt()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var refused = await shop.Shop.Get<ChangeInvoiceSettings>().RunAsync(shop.Asked(), None(null));
        Assert.Equal(("tax-from", "SchemeFrom"), (refused.Refusals[0].Code, refused.Refusals[0].Field));
    }

    [Fact]
    public async Task Issue_HandedOverBeforeTheChange_IsInvoicedWithTheTaxOfItsDay()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await HandedOverAsync(shop, daysAgo: 5);
        await ChangeAsync(shop, shop.Today.AddDays(-2));
        var (settings, totals) = await IssueAsync(shop, order);
        Assert.Equal(TaxScheme.Vat, settings.Scheme);
        Assert.True(totals.Tax > 0m);
    }

    [Fact]
    public async Task Issue_HandedOverSinceTheChange_IsInvoicedWithoutAndSaidBefore()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await HandedOverAsync(shop, daysAgo: 1);
        await ChangeAsync(shop, shop.Today.AddDays(-2));
        var found = await FoundAsync(shop, order);
        Assert.Equal(new SystemChange("VAT", "", shop.Today.AddDays(-2)), found.SystemChange);
        var rows = await shop.Shop.Get<OrderListView>().LoadAsync($"{found.Number}", OrderFilter.All, OrderSort.Newest, new(0, 5));
        Assert.NotNull(rows.Rows.Single().Balance!.SystemChange);
        var (settings, totals) = await IssueAsync(shop, order);
        Assert.Equal((TaxScheme.None, 0m), (settings.Scheme, totals.Tax));
        Assert.Null((await FoundAsync(shop, order)).SystemChange);
    }

    [Fact]
    public async Task Issue_HandedOverUnderBothSystems_IsTwoDocuments()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await HandedOverAsync(shop, daysAgo: 1, firstDaysAgo: 5);
        await ChangeAsync(shop, shop.Today.AddDays(-2));
        Assert.Equal((await FoundAsync(shop, order)).OpenPieces - 1m, (await FoundAsync(shop, order)).LeftForLater);
        var (first, taxed) = await IssueAsync(shop, order);
        var (second, untaxed) = await IssueAsync(shop, order);
        Assert.Equal((TaxScheme.Vat, TaxScheme.None), (first.Scheme, second.Scheme));
        Assert.True(taxed.Tax > 0m && untaxed.Tax == 0m);
        Assert.Equal(await shop.GrossAsync(order), taxed.Payable + untaxed.Payable);
    }

    [Fact]
    public async Task Issue_AgreedWithoutATaxAndSuppliedUnderOne_ContainsTheWorkshopsRate()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await HandedOverAsync(shop, daysAgo: 1);
        await using (var context = await shop.Shop.ContextAsync())
        {
            var row = await context.Orders.SingleAsync(o => o.Id == order);
            await context
                .Orders.Where(o => o.Id == order)
                .ExecuteUpdateAsync(o => o.SetProperty(x => x.BookedAt, row.BookedAt.AddYears(-1)));
        }
        await ChangeAsync(shop, new DateOnly(2000, 1, 1));
        var now = (await shop.Shop.Get<SettingsView>().LoadAsync()).Invoices;
        Assert.True((await SaveAsync(shop, now with { Scheme = TaxScheme.Vat, SchemeFrom = shop.Today.AddDays(-2) })).IsOk);
        var (settings, totals) = await IssueAsync(shop, order);
        Assert.Equal(TaxScheme.Vat, settings.Scheme);
        Assert.True(totals.Tax > 0m);
    }

    [Fact]
    public async Task Issue_DepositOfAnotherSystem_IsToBeTakenBackFirst()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await HandedOverAsync(shop, daysAgo: 1);
        Assert.True((await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Deposit: 5m))).IsOk);
        await ChangeAsync(shop, shop.Today.AddDays(-2));
        var refused = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order));
        Assert.Equal("deposit-tax", refused.Refusals[0].Code);
    }

    [Fact]
    public async Task Words_OfTheChange_NameBothAndTheDay()
    {
        await using var page = TestPage.Plain();
        string Said(string agreed, string then) =>
            page.Render<SystemChangeWords>(p => p.Add(w => w.Change, new SystemChange(agreed, then, July))).Markup;
        Assert.Contains("there is no tax", Said("VAT", ""), StringComparison.Ordinal);
        Assert.Contains("Agreed without a tax", Said("", "VAT"), StringComparison.Ordinal);
        Assert.Contains("GST", Said("VAT", "GST"), StringComparison.Ordinal);
        Assert.Contains(July.ToString("d", CultureInfo.CurrentCulture), Said("VAT", "GST"), StringComparison.Ordinal);
    }

    private static async Task<(TaxSettings Settings, DocumentTotals Totals)> IssueAsync(InvoicingShop shop, OrderId order)
    {
        var issued = await shop.InvoiceAsync(order);
        await using var context = await shop.Shop.ContextAsync();
        var document = OrderAccount.Read((await context.Documents.AsNoTracking().FirstAsync(d => d.Id == issued.Id)).Json);
        return (document.Content.Settings, document.Totals);
    }

    private static async Task<OrderInvoicing> FoundAsync(InvoicingShop shop, OrderId order)
    {
        await using var context = await shop.Shop.ContextAsync();
        var number = await context.Orders.Where(o => o.Id == order).Select(o => o.Number).SingleAsync();
        return (await shop.Shop.Get<InvoiceListView>().ForOrderAsync(number))!;
    }

    private static async Task ChangeAsync(InvoicingShop shop, DateOnly from) => Assert.True((await SaveAsync(shop, None(from))).IsOk);

    private static Task<Result<Done>> SaveAsync(InvoicingShop shop, InvoiceSettings settings)
    {
        shop.Shop.Clock.Advance(TimeSpan.FromSeconds(1));
        return shop.Shop.Get<ChangeInvoiceSettings>().RunAsync(shop.Asked(), settings);
    }

    /// <summary>An order of several pieces, all handed over some days ago; the first of them perhaps before the others.</summary>
    private static async Task<OrderId> HandedOverAsync(InvoicingShop shop, int daysAgo, int? firstDaysAgo = null)
    {
        await using var context = await shop.Shop.ContextAsync();
        var order = (await context.Orders.AsNoTracking().ToListAsync())
            .First(o => o.Lines is [{ Quantity: > 2 }] && o.Charges.Count == 0)
            .Id;
        var at = shop.Shop.Clock.GetUtcNow();
        await context.Orders.Where(o => o.Id == order).ExecuteUpdateAsync(o => o.SetProperty(x => x.BookedAt, at.AddDays(-9)));
        await context
            .Pieces.Where(p => p.Order == order)
            .ExecuteUpdateAsync(p =>
                p.SetProperty(x => x.State, PieceState.HandedOver).SetProperty(x => x.ChangedAt, at.AddDays(-daysAgo))
            );
        var first = await context.Pieces.Where(p => p.Order == order).OrderBy(p => p.Number).Select(p => p.Id).FirstAsync();
        await context
            .Pieces.Where(p => p.Id == first)
            .ExecuteUpdateAsync(p => p.SetProperty(x => x.ChangedAt, at.AddDays(-(firstDaysAgo ?? daysAgo))));
        return order;
    }
}
