using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Documents.Letters;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Office.Invoices;
using Xunit.Abstractions;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>What is paid when it is issued says so, and asks for no transfer.</summary>
public sealed class PaidInvoiceTests(ITestOutputHelper output)
{
    [Theory]
    [InlineData("card", "en", "Paid by card on ", PaymentMeansCodes.Card)]
    [InlineData("cash", "de", "Bar bezahlt am ", PaymentMeansCodes.Cash)]
    public async Task Issue_PaidOnTheSpotOnAnInvoice_SaysHowAndWhenAndTheEInvoiceHoldsNothingDue(
        string means,
        string language,
        string words,
        string code
    )
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await OrderAsync(shop, language);
        var issued = await IssueAsync(shop, new IssueInput(order, PaidBy: means, IsInvoice: true));
        Assert.Equal("2026-0001", issued.Number);
        var invoice = await ReadAsync(shop, issued);
        var said = words + LetterReader.Of(language).Day(shop.Today);
        Assert.StartsWith(said, invoice.Content.Terms, StringComparison.Ordinal);
        Assert.Equal((0m, null), (invoice.Totals.Due, invoice.Content.DueDate));
        Assert.Equal(code, Assert.Single(invoice.Content.PaymentMeans).Code);
        await SaysAsync(shop, issued, said);
        var (detail, gross) = (await shop.DetailAsync(issued.Number), await shop.GrossAsync(order));
        Assert.Equal((0m, true), (detail.Outstanding, detail.HasXml));
        await using (var context = await shop.Shop.ContextAsync())
            Assert.Equal(gross, (await context.Payments.Where(p => p.Means == means).Select(p => p.Amount).ToListAsync()).Sum());
        Assert.DoesNotContain((await ListAsync(shop)).Rows, r => r.Number == issued.Number);
        await shop.ValidateAsync(1, output);
    }

    [Theory]
    [InlineData("cash", "en", "Paid in cash on ")]
    [InlineData("transfer", "de", "Per Überweisung bezahlt am ")]
    public async Task Issue_PaidOnAccountBefore_SaysWhenItCame(string means, string language, string words)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await OrderAsync(shop, language);
        await PayAsync(shop, order, await shop.GrossAsync(order), shop.Today, means);
        var issued = await shop.InvoiceAsync(order);
        await SaysAsync(shop, issued, words + LetterReader.Of(language).Day(shop.Today));
        await shop.ValidateAsync(1, output);
    }

    [Fact]
    public async Task Issue_PaidInPartsInSeveralWays_NamesEachAndTheWrongEntryNot()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await OrderAsync(shop, "en");
        var gross = await shop.GrossAsync(order);
        await PayAsync(shop, order, 5m, shop.Today, "cash");
        await PayAsync(shop, order, gross, shop.Today, "transfer");
        await PayAsync(shop, order, -gross, shop.Today, "transfer");
        var issued = await IssueAsync(shop, new IssueInput(order, PaidBy: "card", IsInvoice: true));
        var (invoice, day) = (await ReadAsync(shop, issued), LetterReader.English.Day(shop.Today));
        var rest = LetterReader.English.Amount(gross - 5m);
        Assert.Equal($"Paid: 5.00 in cash on {day}; {rest} by card on {day}. Thank you.", invoice.Content.Terms);
        Assert.Empty(invoice.Content.PaymentMeans);
        await shop.ValidateAsync(1, output);
    }

    [Fact]
    public async Task Issue_PaidOnAccountInPart_AsksForTheRest()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await OrderAsync(shop, "en");
        await PayAsync(shop, order, 5m, shop.Today, "cash");
        var words = await WordsAsync(shop, await shop.InvoiceAsync(order));
        Assert.Contains("Please transfer to", words, StringComparison.Ordinal);
        Assert.DoesNotContain("Thank you", words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("cash")]
    public async Task Issue_DepositPaidAtTheCounter_SaysSoAndTheFinalInvoiceAsksForTheRest(string? onTheSpot)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await OrderAsync(shop, "en");
        var (gross, asked) = (await shop.GrossAsync(order), 7m);
        if (onTheSpot is null)
            await PayAsync(shop, order, asked, shop.Today, "cash");
        var deposit = await IssueAsync(shop, new IssueInput(order, Deposit: asked, PaidBy: onTheSpot));
        await SaysAsync(shop, deposit, $"Paid in cash on {LetterReader.English.Day(shop.Today)}");
        Assert.Equal(gross - asked, (await shop.DetailAsync((await shop.InvoiceAsync(order)).Number)).Outstanding);
        await shop.ValidateAsync(2, output);
    }

    [Fact]
    public void Held_InvoiceTookTheOldest_LeavesTheLater()
    {
        var (first, second) = (new DateOnly(2026, 5, 1), new DateOnly(2026, 5, 2));
        PaymentRecord Of(decimal amount, DateOnly day, string means) =>
            new(Guid.CreateVersion7(), null, null, amount, "EUR", day, means, "", "owner");
        var held = PaidWords.Held([
            Of(10m, first, "cash"),
            Of(20m, second, "card"),
            Of(-15m, second, "on account"),
            Of(3m, first, "cash"),
            Of(-3m, second, "cash"),
        ]);
        Assert.Equal([new PaidPart(second, "card", 15m)], held);
    }

    private static async Task<OrderId> OrderAsync(InvoicingShop shop, string language)
    {
        var order = await shop.OrderAsync();
        await using var context = await shop.Shop.ContextAsync();
        var entry = context.Entry(await context.Orders.SingleAsync(o => o.Id == order));
        entry.Property(o => o.Agreements).CurrentValue = [.. entry.Entity.Agreements.Select(a => a with { Language = language })];
        await context.SaveChangesAsync();
        return order;
    }

    private static async Task PayAsync(InvoicingShop shop, OrderId order, decimal amount, DateOnly day, string means)
    {
        var paid = await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), new PaymentInput(null, order, amount, day, means));
        Assert.True(paid.IsOk, string.Join("; ", paid.Refusals.Select(r => r.Text)));
    }

    private static async Task<DocumentIssued> IssueAsync(InvoicingShop shop, IssueInput input)
    {
        var issued = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), input);
        Assert.True(issued.IsOk, string.Join("; ", issued.Refusals.Select(r => $"{r.Code} {r.Text}")));
        return issued.Value;
    }

    private static async Task SaysAsync(InvoicingShop shop, DocumentIssued issued, string said)
    {
        var words = await WordsAsync(shop, issued);
        Assert.Contains(said, words, StringComparison.Ordinal);
        foreach (var other in new[] { "transfer to", "überweisen", "Pay by", "Zahlbar bis", "Nothing is left", "nichts mehr" })
            Assert.DoesNotContain(other, words, StringComparison.Ordinal);
    }

    private static async Task<string> WordsAsync(InvoicingShop shop, DocumentIssued issued) =>
        Poppler.Words((await shop.Shop.Get<InvoiceView>().PaperAsync(issued.Id, xml: false, default))!.Value.Bytes, "-layout");

    private static async Task<IssuedInvoice> ReadAsync(InvoicingShop shop, DocumentIssued issued)
    {
        await using var context = await shop.Shop.ContextAsync();
        return OrderAccount.Read((await context.Documents.AsNoTracking().FirstAsync(d => d.Id == issued.Id)).Json);
    }

    private static Task<InvoicePage> ListAsync(InvoicingShop shop) =>
        shop.Shop.Get<InvoiceListView>().LoadAsync(null, InvoiceFilter.Open, null, 1);
}
