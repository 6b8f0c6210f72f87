using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Office.Complaints;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Today;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>What is taken back is paid back, wherever its money came from, and is asked for again only where that was meant.</summary>
public sealed class PayBackTests
{
    /// <summary>Paid on the spot or on account it stands on the invoice as paid already: it belongs to the customer all the same.</summary>
    [Theory]
    [InlineData("deposit")]
    [InlineData("card")]
    [InlineData("account")]
    public async Task PayBack_InvoicePaidBeforeItWasIssuedAndTakenBack_IsTakenToTheCent(string way)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        if (way == "account")
            Assert.True((await EnterAsync(shop, null, order, 10m)).IsOk);
        var input = way switch
        {
            "deposit" => new IssueInput(order, Deposit: 7m, PaidBy: "cash"),
            "card" => new IssueInput(order, PaidBy: "card", IsInvoice: true),
            _ => new IssueInput(order),
        };
        var issued = (await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), input)).Value;
        await CreditAsync(shop, new CreditInput(issued.Id, null, "Called off"));
        var due = -(await shop.DetailAsync(issued.Number)).Outstanding;
        Assert.Equal(
            way switch
            {
                "deposit" => 7m,
                "card" => await shop.GrossAsync(order),
                _ => 10m,
            },
            due
        );

        var beside = await EnterAsync(shop, null, order, -due);
        Assert.Equal("payment-back", beside.Refusals[0].Code);
        Assert.Contains(issued.Number, beside.Refusals[0].Text, StringComparison.Ordinal);
        Assert.Equal("payment-back", (await EnterAsync(shop, issued.Id, null, -due - 0.01m)).Refusals[0].Code);
        Assert.True((await EnterAsync(shop, issued.Id, null, -due)).IsOk);

        Assert.Equal(0m, (await shop.DetailAsync(issued.Number)).Outstanding);
        Assert.Equal("payment-back", (await EnterAsync(shop, issued.Id, null, -0.01m)).Refusals[0].Code);
        var account = await AccountAsync(shop, order);
        Assert.Equal((0m, 0m, 0m), (account.Paid, account.Asked, account.OnAccount));
        await using var context = await shop.Shop.ContextAsync();
        var moves = await context.Payments.Where(p => p.Order == order).Select(p => new { p.Means, p.Amount }).ToListAsync();
        Assert.Equal(0m, moves.Where(m => m.Means != "on account").Sum(m => m.Amount));
        Assert.Equal(0m, moves.Where(m => m.Means == "on account").Sum(m => m.Amount));
    }

    [Fact]
    public async Task PayBack_PieceRefundedOfAnInvoicePaidByCard_IsTaken()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, piece) = await HandedOverAsync(shop);
        var input = new IssueInput(order, PaidBy: "card", IsInvoice: true);
        var issued = (await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), input)).Value;
        await RefundAsync(shop, order, piece);

        var over = (await shop.DetailAsync(issued.Number)).Outstanding;
        Assert.True(over < 0m);
        Assert.True((await EnterAsync(shop, issued.Id, null, over)).IsOk);
        Assert.Equal(0m, (await shop.DetailAsync(issued.Number)).Outstanding);
    }

    [Fact]
    public async Task Today_PieceRefunded_IsNotToInvoice()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, piece) = await HandedOverAsync(shop);
        await shop.InvoiceAsync(order);
        await RefundAsync(shop, order, piece);

        Assert.DoesNotContain(await ToInvoiceAsync(shop), r => r.Number == NumberOf(shop, order));
    }

    [Fact]
    public async Task Today_HandedOverForNothing_IsNotToInvoice()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, _) = await HandedOverAsync(shop);
        Assert.Contains(await ToInvoiceAsync(shop), r => r.Number == NumberOf(shop, order));
        await using (var context = await shop.Shop.ContextAsync())
        {
            var free = await context.Orders.SingleAsync(o => o.Id == order);
            foreach (var line in free.AllLines)
                context.Entry(line).Property(l => l.Price).CurrentValue = line.Price with { Parts = [], Net = 0m, Gross = 0m };
            await context.SaveChangesAsync();
        }

        Assert.DoesNotContain(await ToInvoiceAsync(shop), r => r.Number == NumberOf(shop, order));
    }

    [Fact]
    public async Task Today_MoneyOnAccountOfAnOrderThatIsInvoiced_IsToPayBackUntilItIs()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var issued = await shop.InvoiceAsync(order);
        Assert.True((await EnterAsync(shop, issued.Id, null, await shop.GrossAsync(order))).IsOk);
        Assert.True((await EnterAsync(shop, null, order, 10m)).IsOk);
        var number = NumberOf(shop, order).ToString(CultureInfo.InvariantCulture);

        var row = Assert.Single(await ToPayBackAsync(shop), r => r.Name == number);

        Assert.Equal((10m, false, $"office/orders/{number}"), (row.Amount, row.IsOff, row.Href));
        Assert.True((await EnterAsync(shop, null, order, -10m)).IsOk);
        Assert.DoesNotContain(await ToPayBackAsync(shop), r => r.Name == number);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Credit_ByHand_IsAskedForAgainOnlyWhereItIsInvoicedAnew(bool never)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, _) = await HandedOverAsync(shop);
        var issued = await shop.InvoiceAsync(order);
        var gross = await shop.GrossAsync(order);
        await CreditAsync(shop, new CreditInput(issued.Id, null, "It peels", AsksNoMore: never));

        var account = await AccountAsync(shop, order);
        Assert.Equal((!never, never ? 0m : gross), (account.HasToInvoice, account.LeftToPay));
        Assert.Equal(never, account.Lines.Sum(l => l.PaidBack) > 0);
        Assert.Equal(!never, (await ToInvoiceAsync(shop)).Any(r => r.Number == NumberOf(shop, order)));
        var anew = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order));
        Assert.Equal(!never, anew.IsOk);
    }

    /// <summary>One note for a complaint and for more pieces: none is counted twice.</summary>
    [Fact]
    public async Task Credit_ThatAsksNoMoreAndClosesAComplaint_CountsEachPieceOnce()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, piece) = await HandedOverAsync(shop);
        var issued = await shop.InvoiceAsync(order);
        await CreditAsync(shop, new CreditInput(issued.Id, null, "It peels", AsksNoMore: true));
        await RefundAsync(shop, order, piece);

        var account = await AccountAsync(shop, order);
        Assert.Equal(account.Lines.Sum(l => l.Line.Quantity), account.Lines.Sum(l => l.PaidBack));
        Assert.Equal((false, 0m), (account.HasToInvoice, account.LeftToPay));
    }

    /// <summary>A note over some of an invoice's pieces leaves enough on it for a second one, which nobody is owed.</summary>
    [Fact]
    public async Task Refund_OfAPieceThatANoteOverAPartAsksNoMoreFor_IsClosedByThatNote()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, piece) = await HandedOverAsync(shop, await SeveralAsync(shop));
        var issued = await shop.InvoiceAsync(order);
        var line = (await shop.DetailAsync(issued.Number)).Lines[0];
        var part = new Dictionary<string, decimal> { [line.Id] = 1m };
        await CreditAsync(shop, new CreditInput(issued.Id, part, "It peels", AsksNoMore: true));
        await RefundAsync(shop, order, piece);

        var account = await AccountAsync(shop, order);
        var note = Assert.Single(account.Issued, i => i.Document.Content.Kind == DocumentKind.CreditNote);
        Assert.Equal(1, account.Lines.Sum(l => l.PaidBack));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(note.Id, (await context.Complaints.SingleAsync(c => c.Order == order)).CreditNote);
    }

    private static async Task<OrderId> SeveralAsync(InvoicingShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        var invoiced = await context.Documents.Select(d => d.Order).ToListAsync();
        return (await context.Orders.AsNoTracking().OrderBy(o => o.Number).ToListAsync())
            .First(o => o.Lines is [{ Quantity: > 3 }] && o.Charges.Count == 0 && o.Discounts.Count == 0 && !invoiced.Contains(o.Id))
            .Id;
    }

    private static async Task<(OrderId Order, PieceId Piece)> HandedOverAsync(InvoicingShop shop, OrderId? of = null)
    {
        await using var context = await shop.Shop.ContextAsync();
        var order = of ?? await shop.OrderAsync();
        var pieces = context.Pieces.Where(p => p.Order == order && !p.IsTest);
        await context.Complaints.ExecuteDeleteAsync();
        await pieces.ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.HandedOver));
        return (order, (await pieces.AsNoTracking().OrderBy(p => p.Number).FirstAsync()).Id);
    }

    private static async Task RefundAsync(InvoicingShop shop, OrderId order, PieceId piece)
    {
        var opened = await shop.Shop.Get<OpenComplaint>().RunAsync(shop.Asked(), new ComplaintInput(order, [piece], "It peels."));
        Assert.True(opened.IsOk, string.Join("; ", opened.Refusals.Select(r => r.Text)));
        var row = (await shop.Shop.Get<ComplaintView>().LoadAsync(order)).Single(c => c.State == ComplaintState.Open);
        var decision = new ComplaintDecision(row.Id, row.Version, ComplaintAct.Refund, "It peels.");
        var done = await shop.Shop.Get<DecideComplaint>().RunAsync(shop.Asked(), decision);
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
    }

    private static async Task CreditAsync(InvoicingShop shop, CreditInput input)
    {
        var done = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), input);
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
    }

    private static Task<Result<PaymentEntered>> EnterAsync(InvoicingShop shop, Guid? document, OrderId? order, decimal amount) =>
        shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), new PaymentInput(document, order, amount, shop.Today, "cash"));

    private static async Task<OrderAccount> AccountAsync(InvoicingShop shop, OrderId order)
    {
        await using var context = await shop.Shop.ContextAsync();
        return (await OrderAccount.LoadAsync(context, order, shop.Shop.Clock.GetUtcNow(), default))!;
    }

    private static int NumberOf(InvoicingShop shop, OrderId order)
    {
        using var context = shop.Shop.ContextAsync().Result;
        return context.Orders.Where(o => o.Id == order).Select(o => o.Number).First();
    }

    private static async Task<IReadOnlyList<ToInvoiceRow>> ToInvoiceAsync(InvoicingShop shop) =>
        (await shop.Shop.Get<MoneyView>().LoadAsync()).ToInvoice;

    private static async Task<IReadOnlyList<ToPayBackRow>> ToPayBackAsync(InvoicingShop shop) =>
        (await shop.Shop.Get<MoneyView>().LoadAsync()).ToPayBack;
}
