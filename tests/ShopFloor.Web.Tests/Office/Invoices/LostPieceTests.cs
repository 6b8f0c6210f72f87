using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>What was lost is waited for no more: the invoice of the rest is the last one and takes the deposit off.</summary>
public sealed class LostPieceTests
{
    [Theory]
    [InlineData(PieceState.Spoiled)]
    [InlineData(PieceState.Returned)]
    public async Task Invoice_OneOwnPieceLost_IsTheLastAndTakesTheDepositOff(PieceState lost)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, count, deposit) = await DepositAsync(shop);
        await StateAsync(shop, order, (lost, true), 1);

        var found = await ForAsync(shop, order);
        var gross = await shop.GrossAsync(order);
        Assert.Equal((1, 0), (found.Lost, found.ToRemake));
        Assert.Equal(Money.Round(gross * (count - 1) / count), found.ToCome);

        var invoice = await shop.DetailAsync((await shop.InvoiceAsync(order)).Number);
        Assert.Equal("invoice", await KindAsync(shop, invoice.Id));
        Assert.InRange(await TotalAsync(shop, invoice.Id) - (gross * (count - 1) / count - deposit), -0.02m, 0.02m);
    }

    [Fact]
    public async Task Invoice_OneOfOursSpoiled_IsAPartWhileAnotherCanBeMade()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, _, _) = await DepositAsync(shop);
        await StateAsync(shop, order, (PieceState.Spoiled, false), 1);

        var found = await ForAsync(shop, order);
        Assert.Equal((0, 1, await shop.GrossAsync(order)), (found.Lost, found.ToRemake, found.ToCome));

        Assert.Equal("part invoice", await KindAsync(shop, (await shop.InvoiceAsync(order)).Id));
    }

    // Their blanks are on the shelf: the Bench can make others. Until then nobody pays for them, and the deposit stays for the last invoice.
    [Fact]
    public async Task Invoice_SomeOfOursBackOnTheShelf_IsAPartAndWhatIsLeftToPayIsWithoutThem()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, count, deposit) = await DepositAsync(shop);
        var back = count / 2;
        await StateAsync(shop, order, (PieceState.Returned, false), back);

        var found = await ForAsync(shop, order);
        var gross = await shop.GrossAsync(order);
        var rest = Money.Round(gross * (count - back) / count);
        Assert.Equal((0, back, rest), (found.Lost, found.ToRemake, found.ToCome));
        Assert.Equal(rest, await LeftAsync(shop, found.Number));
        Assert.Equal("part invoice", await KindAsync(shop, (await shop.InvoiceAsync(order)).Id));
        Assert.Equal(rest, await LeftAsync(shop, found.Number));

        await StateAsync(shop, order, (PieceState.CheckedGood, false), back);
        var last = await shop.InvoiceAsync(order);
        Assert.Equal("invoice", await KindAsync(shop, last.Id));
        Assert.InRange(await TotalAsync(shop, last.Id) - (gross - rest - deposit), -0.02m, 0.02m);
    }

    [Fact]
    public async Task Invoice_OneOfOursSpoiledAfterTheLineWasMadeSmaller_IsAPartWhileAnotherCanBeMade()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, count, _) = await DepositAsync(shop);
        await using (var context = await shop.Shop.ContextAsync())
        {
            var smaller = await context.Orders.SingleAsync(o => o.Id == order);
            context.Entry(smaller.Lines[0]).Property(l => l.Quantity).CurrentValue = count - 1;
            await context.SaveChangesAsync();
        }
        await StateAsync(shop, order, (PieceState.Spoiled, false), 2);
        await StateAsync(shop, order, (PieceState.Returned, false), 1);

        var found = await ForAsync(shop, order);
        Assert.Equal((0, 1), (found.Lost, found.ToRemake));
        Assert.Equal("part invoice", await KindAsync(shop, (await shop.InvoiceAsync(order)).Id));
    }

    [Fact]
    public async Task Draft_LastPieceLostAfterAPartInvoice_NamesTheDepositThatIsLeft()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, _, _) = await DepositAsync(shop);
        await StateAsync(shop, order, (PieceState.InWork, true), 1);
        Assert.Equal("part invoice", await KindAsync(shop, (await shop.InvoiceAsync(order)).Id));
        Assert.Empty((await ForAsync(shop, order)).StrandedDeposits);

        await StateAsync(shop, order, (PieceState.Spoiled, true), 1);

        Assert.Equal(["D2026-0001"], (await ForAsync(shop, order)).StrandedDeposits);
        var refused = await shop.Shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(order));
        Assert.Equal("deposit-stranded", refused.Refusals[0].Code);
        Assert.Contains("D2026-0001", refused.Refusals[0].Text, StringComparison.Ordinal);
    }

    /// <summary>An order of one line whose pieces are all good, with an invoiced deposit.</summary>
    private static async Task<(OrderId Order, int Count, decimal Deposit)> DepositAsync(InvoicingShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        var order = (await context.Orders.AsNoTracking().ToListAsync()).First(o =>
            o.Lines is [{ Quantity: > 3 }] && o.Charges.Count == 0 && o.Discounts.Count == 0
        );
        var count = order.Lines[0].Quantity;
        await StateAsync(shop, order.Id, (PieceState.CheckedGood, true), count);
        var deposit = Money.Round(order.Gross * 0.3m);
        var issued = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order.Id, Deposit: deposit));
        Assert.True(issued.IsOk);
        return (order.Id, count, deposit);
    }

    private static async Task StateAsync(InvoicingShop shop, OrderId order, (PieceState State, bool IsOwn) become, int count)
    {
        await using var context = await shop.Shop.ContextAsync();
        var ids = await context.Pieces.Where(p => p.Order == order && !p.IsTest).OrderBy(p => p.Number).Select(p => p.Id).ToListAsync();
        foreach (var id in ids.Take(count))
            await context
                .Pieces.Where(p => p.Id == id)
                .ExecuteUpdateAsync(p => p.SetProperty(x => x.State, become.State).SetProperty(x => x.IsOwn, become.IsOwn));
    }

    private static async Task<OrderInvoicing> ForAsync(InvoicingShop shop, OrderId order)
    {
        await using var context = await shop.Shop.ContextAsync();
        var number = await context.Orders.Where(o => o.Id == order).Select(o => o.Number).FirstAsync();
        return (await shop.Shop.Get<InvoiceListView>().ForOrderAsync(number))!;
    }

    private static async Task<decimal> LeftAsync(InvoicingShop shop, int number) =>
        (await shop.Shop.Get<OpenMoneyView>().LoadAsync(number))!.Amount;

    private static async Task<string> KindAsync(InvoicingShop shop, Guid document)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Documents.Where(d => d.Id == document).Select(d => d.Kind).FirstAsync();
    }

    private static async Task<decimal> TotalAsync(InvoicingShop shop, Guid document)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Documents.Where(d => d.Id == document).Select(d => d.Total).FirstAsync();
    }
}
