using System.Security.Claims;
using Bunit;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>Workshops under another tax than VAT: their documents say so, and are no e-invoices.</summary>
public sealed class TaxSystemTests
{
    [Theory]
    [InlineData(TaxScheme.Vat, TaxRounding.PerGroup, true)]
    [InlineData(TaxScheme.Vat, TaxRounding.PerLine, false)]
    [InlineData(TaxScheme.Gst, TaxRounding.PerGroup, false)]
    [InlineData(TaxScheme.Gst, TaxRounding.PerLine, false)]
    public async Task Issue_ByTheTaxSystem_IsAnEInvoiceOnlyWhereVatIsRoundedOnceForEachRate(
        TaxScheme scheme,
        TaxRounding rounding,
        bool eInvoice
    )
    {
        await using var shop = await InvoicingShop.OpenAsync();
        Assert.Null(await SetAsync(shop, s => s with { Scheme = scheme, Rounding = rounding, TaxLabel = "GST" }));
        var order = await shop.OrderAsync();
        var issued = await shop.InvoiceAsync(order);
        var settings = (await ReadAsync(shop, issued.Id)).Content.Settings;
        Assert.Equal((scheme, rounding, "GST"), (settings.Scheme, settings.Rounding, settings.Label));
        Assert.Equal(eInvoice, (await shop.DetailAsync(issued.Number)).HasXml);
        Assert.Equal(await shop.GrossAsync(order), (await ReadAsync(shop, issued.Id)).Totals.Payable);
    }

    [Fact]
    public async Task Change_SalesTaxAndPricesWithTax_AreRefusedOnBothPages()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        static InvoiceSettings Sales(InvoiceSettings s) => s with { Scheme = TaxScheme.SalesTax, TaxLabel = "Sales tax" };
        Assert.Equal("sales-tax-on-top", await SetAsync(shop, Sales));
        Assert.Null(await ProfileAsync(shop, p => p with { PricesIncludeTax = false }));
        Assert.Null(await SetAsync(shop, Sales));
        Assert.Equal(nameof(WorkshopProfile.PricesIncludeTax), await ProfileAsync(shop, p => p with { PricesIncludeTax = true }));
        Assert.Null(await ProfileAsync(shop, p => p with { DueDays = 30 }));
    }

    [Fact]
    public async Task Issue_WithoutATax_NamesNoneAndNeedsNoNumberOfTheWorkshop()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var rate = new TaxRate("normal", "normal", TaxKind.Standard(19m), null, DateOnly.MinValue, null);
        Assert.Equal("tax-none", await SetAsync(shop, s => s with { Scheme = TaxScheme.None, Rates = [rate] }));
        Assert.Null(await SetAsync(shop, s => s with { Scheme = TaxScheme.None, Rates = [] }));
        Assert.Null(await ProfileAsync(shop, p => p with { VatId = "" }));
        var order = await shop.OrderAsync();
        var draft = (await shop.Shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(order))).Value;
        Assert.DoesNotContain(draft.Sums, s => s.Label.Contains("VAT", StringComparison.Ordinal));
        var issued = await shop.InvoiceAsync(order);
        var (totals, detail) = ((await ReadAsync(shop, issued.Id)).Totals, await shop.DetailAsync(issued.Number));
        Assert.Equal((0m, await shop.GrossAsync(order)), (totals.Tax, totals.Payable));
        Assert.DoesNotContain(detail.Sums, s => s.Name.Contains('%', StringComparison.Ordinal));
        var now = await shop.Shop.Get<SettingsView>().LoadAsync();
        Assert.Equal((0m, 0m), (now.TaxPercentOf(isOwn: true, shop.Today), now.ChargePercentOn(shop.Today)));
    }

    [Fact]
    public void RateOn_NoneChargedUnderAnotherTax_SaysItsName()
    {
        var settings = new InvoiceSettings { Scheme = TaxScheme.Gst, TaxLabel = "GST" };
        Assert.Equal("Exempt from GST.", settings.RateOn("normal", new DateOnly(2026, 7, 1), 0m).Value.Reason!.Text);
        Assert.Null(settings.RateOn("normal", new DateOnly(2026, 7, 1), 10m).Value.Reason);
    }

    [Theory]
    [InlineData(TaxScheme.Gst, "vat ", "tax-label-vat")]
    [InlineData(TaxScheme.SalesTax, "VAT", "tax-label-vat")]
    [InlineData(TaxScheme.Vat, "VAT", null)]
    [InlineData(TaxScheme.None, "VAT", null)]
    [InlineData(TaxScheme.Gst, "GST/HST", null)]
    public void Check_LabelOfAnotherTax_IsRefusedBesideIt(TaxScheme scheme, string label, string? code)
    {
        var fault = new InvoiceSettings { Scheme = scheme, TaxLabel = label }
            .Check()
            .SingleOrDefault();
        Assert.Equal((code, code is null ? null : "TaxLabel"), (fault?.Code, fault?.Field));
    }

    [Theory]
    [InlineData("VAT", TaxScheme.Gst, "GST")]
    [InlineData("GST", TaxScheme.SalesTax, "Sales tax")]
    [InlineData("sales tax", TaxScheme.Vat, "VAT")]
    [InlineData("HST", TaxScheme.Gst, "HST")]
    [InlineData("VAT", TaxScheme.None, "VAT")]
    public void LabelAfter_AnotherSystem_FollowsOnlyAsShipped(string label, TaxScheme next, string expected) =>
        Assert.Equal(expected, InvoiceSettings.LabelAfter(label, next));

    [Fact]
    public async Task Page_TheTaxSystem_IsChosenAndKept()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await using var page = TestPage.Plain();
        page.Services.AddMudServices();
        page.Services.AddSingleton(_ => shop.Shop.Get<ChangeInvoiceSettings>());
        page.Services.AddSingleton(_ => shop.Shop.Get<SettingsView>());
        var claim = new Claim(ClaimTypes.NameIdentifier, shop.Owner.ToString());
        var session = Task.FromResult(new AuthenticationState(new ClaimsPrincipal(new ClaimsIdentity([claim], "test"))));
        var form = page.Render<InvoiceSettingsPage>(p => p.AddCascadingValue(session));
        foreach (var (field, word) in new[] { ("#Scheme", "GST"), ("#Rounding", "each line") })
        {
            var value = form.Find(field).Children.First(o => o.TextContent.Contains(word, StringComparison.Ordinal)).GetAttribute("value");
            await form.Find(field).ChangeAsync(new() { Value = value });
        }
        Assert.Equal("GST", form.Find("#TaxLabel").GetAttribute("value"));
        await form.Find("#SchemeFrom").ChangeAsync(new() { Value = "2000-01-01" });
        await form.Find("form").SubmitAsync();
        var kept = (await shop.Shop.Get<SettingsView>().LoadAsync()).Invoices;
        Assert.Equal((TaxScheme.Gst, TaxRounding.PerLine), (kept.Scheme, kept.Rounding));
        Assert.Equal((new DateOnly(2000, 1, 1), TaxScheme.Vat), (kept.SchemeFrom, kept.Before.Single().Scheme));
    }

    private static async Task<string?> SetAsync(InvoicingShop shop, Func<InvoiceSettings, InvoiceSettings> change)
    {
        var now = (await shop.Shop.Get<SettingsView>().LoadAsync()).Invoices;
        shop.Shop.Clock.Advance(TimeSpan.FromSeconds(1));
        var next = change(now) with { SchemeFrom = new DateOnly(2000, 1, 1) };
        var done = await shop.Shop.Get<ChangeInvoiceSettings>().RunAsync(shop.Asked(), next);
        return done.IsOk ? null : done.Refusals[0].Code;
    }

    private static async Task<string?> ProfileAsync(InvoicingShop shop, Func<WorkshopProfile, WorkshopProfile> change)
    {
        var now = (await shop.Shop.Get<SettingsView>().LoadAsync()).Profile;
        shop.Shop.Clock.Advance(TimeSpan.FromSeconds(1));
        var done = await shop.Shop.Get<ChangeProfile>().RunAsync(shop.Asked(), change(now));
        return done.IsOk ? null : done.Refusals[0].Field;
    }

    private static async Task<IssuedInvoice> ReadAsync(InvoicingShop shop, Guid id)
    {
        await using var context = await shop.Shop.ContextAsync();
        return OrderAccount.Read((await context.Documents.AsNoTracking().FirstAsync(d => d.Id == id)).Json);
    }
}
