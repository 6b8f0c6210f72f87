using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using Xunit.Abstractions;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>A workshop without VAT number invoices too, by its tax number or its register number.</summary>
public sealed class SmallWorkshopTests(ITestOutputHelper output)
{
    [Theory]
    [InlineData("12/345/67890", "", TaxCategory.Exempt)]
    [InlineData("12/345/67890", "HRB 1234", TaxCategory.Exempt)]
    [InlineData("12/345/67890", "", TaxCategory.OutsideScope)]
    [InlineData("", "HRB 1234", TaxCategory.OutsideScope)]
    public async Task Issue_NoVatNumber_SatisfiesTheOfficialRules(string taxNumber, string register, TaxCategory category)
    {
        await using var shop = await OpenAsync(p => p with { VatId = "", TaxNumber = taxNumber, RegisterNumber = register }, category);
        var issued = await ReadAsync(shop, (await shop.InvoiceAsync(await shop.OrderAsync())).Id);
        Assert.Equal((0m, true), (issued.Totals.Tax, issued.AllowsEInvoice));
        await shop.ValidateAsync(1, output);
    }

    [Fact]
    public async Task Issue_OutsideTheTax_LeavesTheVatNumberOffByItself()
    {
        await using var shop = await OpenAsync(p => p with { TaxNumber = "12/345/67890" }, TaxCategory.OutsideScope);
        var issued = await ReadAsync(shop, (await shop.InvoiceAsync(await shop.OrderAsync())).Id);
        Assert.Equal((null, "12/345/67890"), (issued.Content.Seller.VatId, issued.Content.Seller.TaxNumber));
        await shop.ValidateAsync(1, output);
    }

    [Fact]
    public async Task Issue_NoNumberAtAll_GivesAReceiptAndSaysWhatAnInvoiceNeeds()
    {
        await using var shop = await OpenAsync(p => p with { VatId = "" }, TaxCategory.Exempt);
        var order = await shop.OrderAsync();
        var refused = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order));
        Assert.Contains("BR-CO-26", refused.Refusals.Select(r => r.Code));
        var receipt = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, PaidBy: "cash"));
        Assert.True(receipt.IsOk);

        // What takes a receipt back is an e-invoice: it takes the number that was entered since.
        var take = new CreditInput(receipt.Value.Id, null, "Brought back");
        Assert.False((await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), take)).IsOk);
        await ChangeAsync(shop, p => p with { TaxNumber = "12/345/67890" });
        Assert.True((await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), take)).IsOk);
        await shop.ValidateAsync(1, output);
    }

    [Fact]
    public void Check_TaxNumberTypedAsVatNumber_IsToldWhereItBelongs()
    {
        var profile = new WorkshopProfile { Name = "Moorlight", Country = "DE" };
        Assert.Equal(nameof(WorkshopProfile.VatId), Assert.Single((profile with { VatId = "12/345/67890" }).Check()).Field);
        Assert.Equal(nameof(WorkshopProfile.TaxNumber), Assert.Single((profile with { TaxNumber = new string('1', 81) }).Check()).Field);
        var form = new ProfileForm(profile)
        {
            [nameof(WorkshopProfile.TaxNumber)] = " 12/345 ",
            [nameof(WorkshopProfile.RegisterNumber)] = "HRB 1",
        };
        Assert.Equal(("12/345", "HRB 1"), (form.Read().Value.TaxNumber, form.Read().Value.RegisterNumber));
    }

    private static async Task<InvoicingShop> OpenAsync(Func<WorkshopProfile, WorkshopProfile> change, TaxCategory category)
    {
        var shop = await InvoicingShop.OpenAsync();
        await ChangeAsync(shop, change);
        var rate = new TaxRate(
            "normal",
            "No tax",
            new TaxKind(category, 0m),
            new(category, null, "No tax is charged."),
            DateOnly.MinValue,
            null
        );
        var done = await shop.Shop.Get<ChangeInvoiceSettings>().RunAsync(shop.Asked(), new InvoiceSettings { Rates = [rate] });
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
        return shop;
    }

    private static async Task ChangeAsync(InvoicingShop shop, Func<WorkshopProfile, WorkshopProfile> change)
    {
        var profile = (await shop.Shop.Get<SettingsView>().LoadAsync()).Profile;
        shop.Shop.Clock.Advance(TimeSpan.FromSeconds(1));
        Assert.True((await shop.Shop.Get<ChangeProfile>().RunAsync(shop.Asked(), change(profile))).IsOk);
    }

    private static async Task<IssuedInvoice> ReadAsync(InvoicingShop shop, Guid id)
    {
        await using var context = await shop.Shop.ContextAsync();
        return OrderAccount.Read((await context.Documents.AsNoTracking().FirstAsync(d => d.Id == id)).Json);
    }
}
