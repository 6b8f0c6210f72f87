using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Documents.Letters;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>What was paid has a receipt, and the order says what was agreed, invoiced, paid and is left.</summary>
public sealed class PaymentReceiptTests
{
    [Fact]
    public async Task Receipt_OnAccountThenOnTheInvoiceThenBack_SaysWhatForAndThatItIsNoInvoice()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var (gross, number) = (await shop.GrossAsync(order), await NumberAsync(shop, order));
        var deposit = await WordsAsync(shop, await PayAsync(shop, new PaymentInput(null, order, 5m, shop.Today, "cash")));
        Says(
            deposit,
            $"Payment receipt {number}-1",
            "Received in cash",
            $"on account of order {number}",
            "5.00 EUR",
            "no invoice and shows no VAT"
        );
        Says(deposit, LetterReader.English.Day(shop.Today), $"Still to pay for order {number}", LetterReader.English.Amount(gross - 5m));
        Says(deposit, "Received for the workshop: name, signature");
        var sheet = await MoneyAsync(shop, number);
        Assert.Equal((gross, 0m, 5m, gross - 5m), (sheet.Agreed, sheet.Invoiced, sheet.Paid, sheet.Left));
        var invoice = await shop.InvoiceAsync(order);
        var rest = new PaymentInput(invoice.Id, null, gross - 5m, shop.Today, "card");
        var card = await WordsAsync(shop, await PayAsync(shop, rest));
        Says(card, $"Payment receipt {number}-2", "Received by card", $"Payment for invoice {invoice.Number}", "Nothing is left to pay");
        sheet = await MoneyAsync(shop, number);
        Assert.Equal((gross, gross, gross, 0m), (sheet.Agreed, sheet.Invoiced, sheet.Paid, sheet.Left));
        Assert.Equal([("cash", "", true), ("card", invoice.Number, true)], sheet.Payments.Select(p => (p.Means, p.Invoice, p.HasReceipt)));
        var back = await WordsAsync(shop, await PayAsync(shop, rest with { Amount = -1m, Means = "cash" }));
        Says(back, $"Paid back {number}-3", "Paid back in cash", "1.00 EUR", "Received: day, name, signature");
        var row = (
            await shop.Shop.Get<OrderListView>().LoadAsync($"{number}", OrderFilter.All, OrderSort.Newest, new OrderSpan(0, 5))
        ).Rows[0];
        Assert.Equal(new OrderBalance(gross, gross - 1m, 1m, "EUR"), row.Balance);
    }

    [Fact]
    public async Task Receipt_OfMoneyThatWasOnlyMoved_IsThereNone()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        await PayAsync(shop, new PaymentInput(null, order, 5m, shop.Today, "cash"));
        await shop.InvoiceAsync(order);
        await using var context = await shop.Shop.ContextAsync();
        var moved = await context.Payments.AsNoTracking().Where(p => p.Means == "on account").Select(p => p.Id).ToListAsync();
        Assert.Equal(2, moved.Count);
        foreach (var id in moved)
            Assert.Null(await shop.Shop.Get<PaymentReceiptView>().MakeAsync(id));
    }

    [Fact]
    public void Of_GermanReader_IsGerman()
    {
        var paper = new PaymentPaper("17-1", ["Ada"], "17", new PaidPart(new DateOnly(2026, 5, 4), "cash", 1234.5m), "EUR")
        {
            Today = new DateOnly(2026, 5, 4),
            Left = 10m,
        };
        var letter = PaymentLetter.Of(paper, LetterReader.Of("de"));
        Assert.Equal(("Zahlungsbeleg 17-1", "Bar erhalten"), (letter.Title, letter.Totals[0].Label));
        Assert.Contains("Dieser Beleg ist keine Rechnung und weist keine USt aus", letter.Closing[0], StringComparison.Ordinal);
        Assert.Equal("Für Auftrag 17 am 4. Mai 2026 noch zu zahlen: 10,00 EUR.", letter.Closing[1]);
    }

    [Theory]
    [InlineData(30, "to pay at pick-up: 30.00 EUR")]
    [InlineData(0, "nothing left to pay")]
    [InlineData(-2, "paid too much: 2.00 EUR")]
    public async Task OrderPayments_WhatIsLeft_IsSaidInOneLine(int left, string words)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var number = await NumberAsync(shop, await shop.OrderAsync(whole: false));
        var order = (await shop.Shop.Get<OrderDetailView>().LoadAsync(number))!;
        await using var page = TestPage.Plain();
        var money = new OrderMoneySheet(50m, 40m, 50m - left, left, []);
        var line = page.Render<OrderPayments>(p => p.Add(o => o.Order, order with { Money = money })).Find(".balance").TextContent;
        Assert.Contains("Agreed 50.00 – invoiced 40.00 – paid", line, StringComparison.Ordinal);
        Assert.EndsWith(words, line, StringComparison.Ordinal);
    }

    private static void Says(string paper, params string[] words) =>
        Assert.All(words, w => Assert.Contains(w, paper, StringComparison.Ordinal));

    private static async Task<Guid> PayAsync(InvoicingShop shop, PaymentInput input)
    {
        var paid = await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), input);
        Assert.True(paid.IsOk, string.Join("; ", paid.Refusals.Select(r => r.Text)));
        return paid.Value.Id;
    }

    private static async Task<string> WordsAsync(InvoicingShop shop, Guid payment) =>
        Poppler.Words((await shop.Shop.Get<PaymentReceiptView>().MakeAsync(payment))!.Pdf, "-layout");

    private static async Task<int> NumberAsync(InvoicingShop shop, OrderId order)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Orders.Where(o => o.Id == order).Select(o => o.Number).FirstAsync();
    }

    private static async Task<OrderMoneySheet> MoneyAsync(InvoicingShop shop, int number) =>
        (await shop.Shop.Get<OrderDetailView>().LoadAsync(number))!.Money;
}
