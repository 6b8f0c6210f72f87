using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Booking;

/// <summary>What is agreed contains the tax that an invoice of the same day charges.</summary>
public sealed class TaxAtBookingTests
{
    private static readonly ExemptionReason Small = new(TaxCategory.Exempt, null, "Small business: no VAT is charged.");

    [Fact]
    public async Task Quote_ExemptByTheList_ContainsNoTaxAndSaysSo()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var before = await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates());
        await KeepAsync(
            shop,
            new TaxUse(),
            new TaxRate("normal", "Small", new TaxKind(TaxCategory.Exempt, 0m), Small, DateOnly.MinValue, null)
        );

        var quote = await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates());
        var order = await BookAsync(shop, ShopOrders.Plates());

        Assert.Equal((0m, true), (quote.TaxPercent, quote.Net == quote.Gross));
        Assert.True(quote.Gross < before.Gross, $"{quote.Gross} without tax, {before.Gross} with");
        Assert.Equal(("E", 0m), (order.Lines[0].Price.TaxCategory, order.Lines[0].Price.TaxPercent));
        Assert.Equal("No VAT is charged.", OrderLetterView.TaxWords(order, new CurrentSettings(), LetterReader.English));
    }

    [Fact]
    public async Task Quote_GoodsAndServiceAtDifferentRates_EachLineHasItsOwn()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await KeepAsync(shop, new TaxUse(OwnPieces: "reduced"), Rate("normal", 19), Rate("reduced", 7));
        var (blank, own) = (ShopOrders.Plates(), ShopOrders.Plates(own: true));
        var both = own with { Lines = [.. blank.Lines, .. own.Lines] };

        var quote = await shop.Get<QuoteOrder>().RunAsync(both);
        var order = await BookAsync(shop, both);

        Assert.Equal([19m, 7m], order.Lines.Select(l => l.Price.TaxPercent));
        Assert.All(order.Lines, l => Assert.Equal(Money.Round(l.Price.Gross / (1 + l.Price.TaxPercent / 100)), l.Price.Net));
        Assert.InRange(quote.TaxPercent, 7.01m, 18.99m);
        Assert.Equal((order.Net, order.Gross), (quote.Net, quote.Gross));
        Assert.Equal("Prices include VAT.", OrderLetterView.TaxWords(order, new CurrentSettings(), LetterReader.English));
    }

    [Fact]
    public async Task Invoice_OfTheSameDay_OwesTheNetThatWasAgreed()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await KeepAsync(shop, new TaxUse(), Rate("normal", 16));
        var order = await BookAsync(shop, ShopOrders.Plates());
        await using (var context = await shop.ContextAsync())
            await context
                .Pieces.Where(p => p.Order == order.Id)
                .ExecuteUpdateAsync(p => p.SetProperty(x => x.State, Domain.Pieces.PieceState.CheckedGood));
        var owner = await shop.WorkerAsync(WorkerRole.Owner);

        var issued = await shop.Get<IssueInvoice>().RunAsync(Asked.By(owner), new IssueInput(order.Id));

        Assert.True(issued.IsOk, issued.Refusals.FirstOrDefault()?.Text);
        await using var after = await shop.ContextAsync();
        var totals = OrderAccount.Read((await after.Documents.AsNoTracking().FirstAsync(d => d.Id == issued.Value.Id)).Json).Totals;
        Assert.Equal((order.Net, order.Gross), (totals.WithoutTax, totals.Payable));
    }

    private static TaxRate Rate(string code, decimal percent) => new(code, code, TaxKind.Standard(percent), null, DateOnly.MinValue, null);

    private static async Task KeepAsync(TestShop shop, TaxUse use, params TaxRate[] rates)
    {
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var kept = await shop.Get<ChangeInvoiceSettings>().RunAsync(Asked.By(owner), new InvoiceSettings { Rates = rates, Use = use });
        Assert.True(kept.IsOk, kept.Refusals.FirstOrDefault()?.Text);
    }

    private static async Task<Order> BookAsync(TestShop shop, OrderInput input)
    {
        var worker = await shop.WorkerAsync(WorkerRole.Counter);
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(worker), await shop.ShownAsync(input));
        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
        await using var context = await shop.ContextAsync();
        return await context.Orders.AsNoTracking().FirstAsync(o => o.Id == booked.Value.Order);
    }
}
