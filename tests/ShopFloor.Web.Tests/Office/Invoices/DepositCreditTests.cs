using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>A deposit is taken off once in all, however its final invoice is taken back.</summary>
public sealed class DepositCreditTests
{
    [Fact]
    public async Task Draft_FinalTakenBackInPart_AsksForThePieceWithoutTheDeposit()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, gross, final) = await FinalAsync(shop);
        var note = await CreditAsync(shop, final, new() { ["1"] = 1m });
        var draft = await shop.Shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(order));
        Assert.Equal(await TotalAsync(shop, note), draft.Value.Payable);
        Assert.Single(draft.Value.Lines);
        await shop.InvoiceAsync(order);
        Assert.Equal(gross, await PapersAsync(shop, order));
    }

    [Fact]
    public async Task Draft_FinalTakenBackWhole_TakesTheDepositOffAnew()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, gross, final) = await FinalAsync(shop);
        var note = await CreditAsync(shop, final, null);
        var draft = await shop.Shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(order));
        Assert.Equal(await TotalAsync(shop, note), draft.Value.Payable);
        await shop.InvoiceAsync(order);
        Assert.Equal(gross, await PapersAsync(shop, order));
    }

    /// <summary>Piece by piece, then all that is left: the last note is never one that the customer owes.</summary>
    [Fact]
    public async Task Draft_FinalTakenBackPieceByPiece_ComesToTheOrderAgain()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, gross, final) = await FinalAsync(shop);
        var left = (await shop.DetailAsync("2026-0001")).Lines[0].Left;
        for (var n = 1; n < left; n++)
            await CreditAsync(shop, final, new() { ["1"] = 1m });
        Assert.True(await TotalAsync(shop, await CreditAsync(shop, final, null)) > 0m);
        Assert.Equal(0m, await PapersAsync(shop, order));
        var twice = new CreditInput(await IdAsync(shop, "D2026-0001"), null, "The deposit too");
        var refused = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), twice);
        Assert.Equal("deposit-given-back", refused.Refusals[0].Code);
        await shop.InvoiceAsync(order);
        Assert.Equal(gross, await PapersAsync(shop, order));
    }

    [Fact]
    public async Task Draft_DepositAboveWhatIsLeft_IsRefusedAndTheDepositCanBeTakenBackFirst()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await ManyAsync(shop, PieceState.InWork);
        var gross = await shop.GrossAsync(order);
        var deposit = await DepositAsync(shop, order, Domain.Quantities.Money.Round(gross * 0.9m));
        await StateAsync(shop, order, PieceState.CheckedGood, but: 1);
        await shop.InvoiceAsync(order);
        await StateAsync(shop, order, PieceState.CheckedGood);
        var refused = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order));
        Assert.Equal("invoice-below-zero", refused.Refusals[0].Code);
        Assert.Contains("D2026-0001", refused.Refusals[0].Text, StringComparison.Ordinal);
        await CreditAsync(shop, deposit, null);
        await shop.InvoiceAsync(order);
        Assert.Equal(gross, await PapersAsync(shop, order));
    }

    [Fact]
    public async Task Credit_DepositThatAnInvoiceTookOff_IsRefusedUntilThatIsTakenBack()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, gross, final) = await FinalAsync(shop);
        var deposit = await IdAsync(shop, "D2026-0001");
        var refused = await shop
            .Shop.Get<IssueCreditNote>()
            .RunAsync(shop.Asked(), new CreditInput(deposit, null, "The deposit was wrong"));
        Assert.Equal("deposit-taken-off", refused.Refusals[0].Code);
        Assert.Contains("2026-0001", refused.Refusals[0].Text, StringComparison.Ordinal);
        await CreditAsync(shop, final, null);
        await CreditAsync(shop, deposit, null);
        await shop.InvoiceAsync(order);
        Assert.Equal(gross, await PapersAsync(shop, order));
    }

    [Fact]
    public async Task Credit_DeductionByItself_IsRefused()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (_, _, final) = await FinalAsync(shop);
        var refused = await shop
            .Shop.Get<IssueCreditNote>()
            .RunAsync(shop.Asked(), new CreditInput(final, new Dictionary<string, decimal> { ["D1"] = -1m }, "Only the deposit"));
        Assert.Equal("credit-deduction", refused.Refusals[0].Code);
        Assert.Equal(0m, (await shop.DetailAsync("2026-0001")).Lines.Single(l => l.Id == "D1").Left);
    }

    private static async Task<(OrderId Order, decimal Gross, Guid Final)> FinalAsync(InvoicingShop shop)
    {
        var order = await ManyAsync(shop, PieceState.CheckedGood);
        var gross = await shop.GrossAsync(order);
        await DepositAsync(shop, order, Domain.Quantities.Money.Round(gross * 0.3m));
        return (order, gross, (await shop.InvoiceAsync(order)).Id);
    }

    private static async Task<Guid> DepositAsync(InvoicingShop shop, OrderId order, decimal amount) =>
        (await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Deposit: amount))).Value.Id;

    private static async Task<Guid> CreditAsync(InvoicingShop shop, Guid invoice, Dictionary<string, decimal>? quantities)
    {
        var done = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(invoice, quantities, "Chipped corner"));
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
        return done.Value.Id;
    }

    private static async Task<OrderId> ManyAsync(InvoicingShop shop, PieceState state)
    {
        await using var context = await shop.Shop.ContextAsync();
        var order = (await context.Orders.AsNoTracking().ToListAsync())
            .First(o => o.Lines is [{ Quantity: > 3 }] && o.Charges.Count == 0 && o.Discounts.Count == 0)
            .Id;
        await StateAsync(shop, order, state);
        return order;
    }

    private static async Task StateAsync(InvoicingShop shop, OrderId order, PieceState state, int but = 0)
    {
        await using var context = await shop.Shop.ContextAsync();
        var ids = await context.Pieces.Where(p => p.Order == order && !p.IsTest).OrderBy(p => p.Number).Select(p => p.Id).ToListAsync();
        foreach (var id in ids.Skip(but))
            await context.Pieces.Where(p => p.Id == id).ExecuteUpdateAsync(p => p.SetProperty(x => x.State, state));
    }

    private static async Task<decimal> TotalAsync(InvoicingShop shop, Guid document)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Documents.Where(d => d.Id == document).Select(d => d.Total).FirstAsync();
    }

    private static async Task<Guid> IdAsync(InvoicingShop shop, string number)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Documents.Where(d => d.Number == number).Select(d => d.Id).FirstAsync();
    }

    /// <summary>What all papers of an order come to, credit notes taken off.</summary>
    private static async Task<decimal> PapersAsync(InvoicingShop shop, OrderId order)
    {
        await using var context = await shop.Shop.ContextAsync();
        var papers = await context.Documents.Where(d => d.Order == order).Select(d => new { d.Kind, d.Total }).ToListAsync();
        return papers.Sum(d => d.Kind == "credit note" ? -d.Total : d.Total);
    }
}
