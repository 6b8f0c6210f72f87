using Microsoft.EntityFrameworkCore;
using ShopFloor.Documents.Letters;
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

    // EN 16931 BR-CO-09: a VAT number begins with a country's letters; the number of a firm elsewhere is its register number, BT-47.
    [Theory]
    [InlineData("98-7654321", null, "98-7654321")]
    [InlineData("NL000000000B00", "NL000000000B00", null)]
    public async Task Issue_CustomersTaxId_IsAVatNumberOnlyWithItsCountrysLetters(string typed, string? vatId, string? register)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        await using (var context = await shop.Shop.ContextAsync())
        {
            var customer = await context.Customers.FirstAsync(c => c.Id == context.Orders.First(o => o.Id == order).Customer);
            Assert.True(customer.Change(customer.Contact, "Torfhaus Inc", new("1 Quay", "00000", "Veendam", "US"), typed, "").IsOk);
            await context.SaveChangesAsync();
        }
        var issued = await ReadAsync(shop, (await shop.InvoiceAsync(order)).Id);
        Assert.Equal((vatId, register), (issued.Content.Buyer!.VatId, issued.Content.Buyer.RegisterId));
        var facts = InvoiceLetter.Of(issued, LetterReader.Of("de")).Facts.Select(f => f.Value);
        Assert.Contains(typed, facts);
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
