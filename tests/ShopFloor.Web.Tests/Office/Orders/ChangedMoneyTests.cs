using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders.Changes;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>Another number of pieces never touches what was invoiced.</summary>
public sealed class ChangedMoneyTests
{
    [Fact]
    public async Task Change_DepositInvoiced_StaysAndIsTakenOffTheInvoice()
    {
        await using var shop = await ChangedShop.OpenDemoAsync(ChangedShop.Plates(4));
        Assert.True((await shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(shop.Booked.Order, Deposit: 10m))).IsOk);

        var quote = await shop.LookAsync(2);
        Assert.Equal(new Turn<decimal>(10m, 10m), quote.Deposit);
        Assert.True(quote.Price.After > 10m, $"{quote.Price}");
        await shop.ChangeAsync(2);

        await DoneAsync(shop, 2);
        var draft = await shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(shop.Booked.Order));
        Assert.Equal((await shop.OrderAsync()).Gross - 10m, draft.Value.Payable);
        Assert.True((await shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(shop.Booked.Order))).IsOk);
        Assert.Equal("line-invoiced", (await shop.ViewAsync(3)).Refusals[0].Code);
    }

    [Fact]
    public async Task Change_InvoicedAndTakenBack_MayBeChangedAndInvoicedAnew()
    {
        await using var shop = await ChangedShop.OpenDemoAsync(ChangedShop.Plates(2));
        await DoneAsync(shop, 1);
        var issued = await shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(shop.Booked.Order));
        Assert.Equal("line-invoiced", (await shop.ViewAsync(1)).Refusals[0].Code);
        var back = new CreditInput(issued.Value.Id, null, "another number");
        Assert.True((await shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), back)).IsOk);

        await shop.ChangeAsync(1);

        var draft = await shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(shop.Booked.Order));
        Assert.Equal((await shop.OrderAsync()).Gross, draft.Value.Payable);
    }

    [Fact]
    public async Task LeaveOut_WhenNoInvoiceWouldTakeTheDepositOff_IsRefused()
    {
        var two = ChangedShop.Plates(1);
        two = two with { Lines = [two.Lines[0], two.Lines[0] with { Quantity = 2 }] };
        await using var shop = await ChangedShop.OpenDemoAsync(two);
        Assert.True((await shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(shop.Booked.Order, Deposit: 5m))).IsOk);
        await DoneAsync(shop, 1);
        Assert.True((await shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(shop.Booked.Order))).IsOk);

        Assert.Equal("deposit-left", (await shop.ViewAsync(0, line: 2)).Refusals[0].Code);
        Assert.True((await shop.ViewAsync(1, line: 2)).IsOk);
    }

    private static async Task DoneAsync(ChangedShop shop, int count)
    {
        var line = (await shop.OrderAsync()).Lines.Single(l => l.Number == 1).Id;
        var ids = (await shop.PiecesAsync())
            .Where(p => p.Line == line && p.State == PieceState.Booked)
            .Take(count)
            .Select(p => p.Id)
            .ToList();
        await using var context = await shop.Shop.ContextAsync();
        await context.Pieces.Where(p => ids.Contains(p.Id)).ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.HandedOver));
    }
}
