using Microsoft.EntityFrameworkCore;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using Xunit.Abstractions;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>Discounts by hand, from the order to the invoice, and the look before issuing.</summary>
public sealed class DiscountOrderTests(ITestOutputHelper output)
{
    /// <summary>Invoiced in two parts at two rates of tax, the sum is what the order says, and the official rules hold.</summary>
    [Fact]
    public async Task Issue_DiscountInTwoPartsAndTwoRates_ComesToTheOrdersPrice()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await ManyAsync(shop);
        await SetRatesAsync(shop);
        await StateAsync(shop, order, PieceState.InWork);
        await StateAsync(shop, order, PieceState.HandedOver, daysAgo: [6, 0]);
        await GiveAsync(shop, order, new(12.5m, true, "Second order this year"));
        await GiveAsync(shop, order, new(1.11m, false, "Late by a day"));
        var first = await ReadAsync(shop, await shop.InvoiceAsync(order));
        Assert.Equal(4, first.Content.Adjustments.Count);
        Assert.Equal([19m, 21m], first.Content.Adjustments.Select(a => a.Tax.Percent).Distinct().Order());
        await StateAsync(shop, order, PieceState.HandedOver);
        var second = await ReadAsync(shop, await shop.InvoiceAsync(order));
        Assert.Equal(await shop.GrossAsync(order), first.Totals.Payable + second.Totals.Payable);
        await using var context = await shop.Shop.ContextAsync();
        var xml = await context.Documents.AsNoTracking().Where(d => d.Order == order && d.Xml != "").Select(d => d.Xml).ToListAsync();
        Assert.All(xml, x => Assert.Contains("Second order this year, 12.5 %", x, StringComparison.Ordinal));
        await shop.ValidateAsync(2, output);
    }

    [Fact]
    public async Task Issue_AfterALook_IsWhatWasSeenOrRefused()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var draft = await shop.Shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(order));
        Assert.Equal(await shop.GrossAsync(order), draft.Value.Payable);
        var paper = await shop.Shop.Get<InvoiceDraftView>().PaperAsync(new IssueInput(order));
        Assert.Equal("%PDF", System.Text.Encoding.ASCII.GetString(paper.Value[..4]));
        await GiveAsync(shop, order, new(1m, false, "Thank you"));
        var stale = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Seen: draft.Value.Payable));
        Assert.Equal("draft-changed", stale.Refusals[0].Code);
        draft = await shop.Shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(order));
        var issued = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Seen: draft.Value.Payable));
        Assert.Equal("2026-0001", issued.Value.Number);
        Assert.Equal(draft.Value.Payable, (await shop.DetailAsync("2026-0001")).Outstanding);
        var nothing = await shop.Shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(order));
        Assert.Equal("already-invoiced", nothing.Refusals[0].Code);
    }

    [Fact]
    public async Task Give_ByTheOwner_StandsInTheAuditAndOnTheLetterAndCanBeTakenBack()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var gross = await shop.GrossAsync(order);
        await GiveAsync(shop, order, new(10m, true, "For a friend"));
        await using (var context = await shop.Shop.ContextAsync())
        {
            var entry = await context.Audit.AsNoTracking().SingleAsync(a => a.What == "discount given" && a.By == shop.Owner.ToString());
            Assert.StartsWith("10 %, ", entry.After, StringComparison.Ordinal);
        }
        var charged = await shop
            .Shop.Get<ChargeOrder>()
            .RunAsync(shop.Asked(), new ChargeInput(order, "Sunday work", 20m, IsPercent: true));
        Assert.True(charged.IsOk);
        Assert.Equal(1, await TakeBackAsync(shop, order, isDiscount: true));
        Assert.Equal(gross, await shop.GrossAsync(order));
        await GiveAsync(shop, order, new(5m, true, "After all"));
        await shop.InvoiceAsync(order);
        Assert.Equal(0, await TakeBackAsync(shop, order, isDiscount: true));
        Assert.Equal(0, await TakeBackAsync(shop, order, isDiscount: false));
        var late = await shop.Shop.Get<DiscountOrder>().RunAsync(shop.Asked(), new DiscountInput(order, new(1m, true, "Late")));
        Assert.Equal("discount-late", late.Refusals[0].Code);
    }

    [Fact]
    public async Task Give_AfterTheDepositInvoice_LeavesTheDepositAsInvoiced()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var asked = Domain.Quantities.Money.Round(await shop.GrossAsync(order) * 0.3m);
        var issued = (await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Deposit: asked))).Value;
        await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), new PaymentInput(issued.Id, null, 1m, shop.Today, "cash"));
        await GiveAsync(shop, order, new(10m, true, "For a friend"));
        var number = (await shop.DetailAsync(issued.Number)).Order;
        var detail = (await shop.Shop.Get<OrderDetailView>().LoadAsync(int.Parse(number, CultureInfo.InvariantCulture)))!;
        Assert.Equal(asked, detail.DepositAsked);
        Assert.Equal(new DepositRow(issued.Number, asked, 1m), Assert.Single(detail.Deposits));
        var paper = new OrderPaper("1", shop.Today, [], [], "EUR") { Deposit = asked, DepositInvoice = issued.Number };
        Assert.Contains(OrderLetters.Confirmation(paper, LetterReader.English).Totals, t => t.Label == $"Deposit, invoice {issued.Number}");
    }

    /// <summary>How many were taken back: 1, or 0 where it was refused because an invoice stands on it.</summary>
    private static async Task<int> TakeBackAsync(InvoicingShop shop, OrderId order, bool isDiscount)
    {
        var done = await shop.Shop.Get<TakeBackExtra>().RunAsync(shop.Asked(), new ExtraInput(order, 1, isDiscount));
        Assert.True(done.IsOk || done.Refusals[0].Code == "extra-invoiced");
        return done.IsOk ? 1 : 0;
    }

    private static async Task GiveAsync(InvoicingShop shop, OrderId order, DiscountWish wish)
    {
        var done = await shop.Shop.Get<DiscountOrder>().RunAsync(shop.Asked(), new DiscountInput(order, wish));
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
    }

    private static async Task<OrderId> ManyAsync(InvoicingShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return (await context.Orders.AsNoTracking().ToListAsync())
            .First(o => o.Lines is [{ Quantity: > 3 }] && o.Charges.Count == 0 && o.Discounts.Count == 0)
            .Id;
    }

    /// <summary>All pieces of an order into a state, or as many as days are given, each handed over so many days ago.</summary>
    private static async Task StateAsync(InvoicingShop shop, OrderId order, PieceState state, params int[] daysAgo)
    {
        await using var context = await shop.Shop.ContextAsync();
        var ids = await context.Pieces.Where(p => p.Order == order && !p.IsTest).OrderBy(p => p.Number).Select(p => p.Id).ToListAsync();
        foreach (var (id, i) in ids.Take(daysAgo.Length == 0 ? ids.Count : daysAgo.Length).Select((id, i) => (id, i)))
        {
            var at = shop.Shop.Clock.GetUtcNow().AddDays(-daysAgo.ElementAtOrDefault(i));
            await context
                .Pieces.Where(p => p.Id == id)
                .ExecuteUpdateAsync(p => p.SetProperty(x => x.State, state).SetProperty(x => x.ChangedAt, at));
        }
    }

    private static async Task SetRatesAsync(InvoicingShop shop)
    {
        var change = shop.Today.AddDays(-3);
        TaxRate Rate(decimal percent, DateOnly? from, DateOnly? to) =>
            new("normal", "normal", TaxKind.Standard(percent), null, from ?? DateOnly.MinValue, to);
        var settings = new InvoiceSettings { Rates = [Rate(19, null, change.AddDays(-1)), Rate(21, change, null)] };
        Assert.True((await shop.Shop.Get<ChangeInvoiceSettings>().RunAsync(shop.Asked(), settings)).IsOk);
    }

    private static async Task<IssuedInvoice> ReadAsync(InvoicingShop shop, DocumentIssued issued)
    {
        await using var context = await shop.Shop.ContextAsync();
        return OrderAccount.Read((await context.Documents.AsNoTracking().FirstAsync(d => d.Id == issued.Id)).Json);
    }
}
