using Bunit;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>A paid deposit whose final invoice was taken back for good is money of the customer's until it went back.</summary>
public sealed class StrandedDepositTests
{
    [Fact]
    public async Task Credit_FinalInvoiceThatAsksNoMore_LeavesDepositAndPaymentToPayBackUntilTheyAre()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (order, deposit, final) = await PaidAsync(shop);
        await CreditAsync(shop, new CreditInput(final.Id, null, "It peels", AsksNoMore: true));

        var account = (await shop.Shop.Get<OrderDetailView>().LoadAsync(await NumberAsync(shop, order)))!.Money;
        Assert.Equal(-(deposit.Amount + 5m), account.Left);
        Assert.Equal((deposit.Number, deposit.Amount), (account.Stranded[0].Number, account.Stranded[0].Paid));
        var rows = await ToPayBackAsync(shop);
        Assert.Equal(deposit.Amount + 5m, rows.Sum(r => r.Amount));
        var row = Assert.Single(rows, r => r.IsStranded);
        Assert.Equal((deposit.Number, $"office/invoices/{deposit.Number}"), (row.Name, row.Href));
        Assert.Equal(deposit.Number, Assert.Single((await shop.DetailAsync(deposit.Number)).Stranded).Number);
        Assert.Equal(deposit.Number, Assert.Single((await shop.DetailAsync(final.Number)).Stranded).Number);

        await CreditAsync(shop, new CreditInput(deposit.Id, null, "It peels"));
        rows = await ToPayBackAsync(shop);
        Assert.Equal(deposit.Amount + 5m, rows.Sum(r => r.Amount));
        Assert.DoesNotContain(rows, r => r.IsStranded);
        Assert.Empty((await shop.DetailAsync(deposit.Number)).Stranded);
        foreach (var (id, amount) in new[] { (deposit.Id, deposit.Amount), (final.Id, 5m) })
            Assert.True((await PayAsync(shop, id, -amount)).IsOk);
        Assert.Empty(await ToPayBackAsync(shop));
        Assert.Equal(0m, (await shop.Shop.Get<OpenMoneyView>().LoadAsync(await NumberAsync(shop, order)))!.Amount);
    }

    [Fact]
    public async Task Credit_FinalInvoiceThatIsIssuedAnew_LeavesTheDepositForIt()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (_, deposit, final) = await PaidAsync(shop);
        await CreditAsync(shop, new CreditInput(final.Id, null, "Wrong address"));

        Assert.Empty((await shop.DetailAsync(deposit.Number)).Stranded);
        Assert.DoesNotContain(await ToPayBackAsync(shop), r => r.IsStranded);
    }

    [Fact]
    public async Task Notice_OnItsOwnPage_SaysTakeItBackHereAndOnOthersLeadsThere()
    {
        await using var page = TestPage.Plain();
        IReadOnlyList<StrandedDeposit> one = [new("D2026-0001", 14.55m)];
        string Say(string? here) =>
            page.Render<StrandedNotice>(p => p.Add(n => n.Deposits, one).Add(n => n.Currency, "EUR").Add(n => n.Here, here)).Markup;
        Assert.Contains("office/invoices/D2026-0001", Say(null), StringComparison.Ordinal);
        Assert.DoesNotContain("href", Say("D2026-0001"), StringComparison.Ordinal);
        Assert.Contains("below", Say("D2026-0001"), StringComparison.Ordinal);
    }

    /// <summary>An order whose deposit is paid, with a final invoice of which 5.00 are paid.</summary>
    private static async Task<(OrderId Order, (Guid Id, string Number, decimal Amount) Deposit, DocumentIssued Final)> PaidAsync(
        InvoicingShop shop
    )
    {
        OrderId order;
        await using (var context = await shop.Shop.ContextAsync())
        {
            var invoiced = await context.Documents.Select(d => d.Order).ToListAsync();
            var plain = (await context.Orders.AsNoTracking().OrderBy(o => o.Number).ToListAsync()).First(o =>
                o.Lines is [{ Quantity: > 3 }] && o.Charges.Count == 0 && o.Discounts.Count == 0 && !invoiced.Contains(o.Id)
            );
            order = plain.Id;
            await context.Complaints.ExecuteDeleteAsync();
            await context
                .Pieces.Where(p => p.Order == order && !p.IsTest)
                .ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.HandedOver));
        }
        var amount = Money.Round(await shop.GrossAsync(order) * 0.3m);
        var deposit = (await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Deposit: amount))).Value;
        Assert.True((await PayAsync(shop, deposit.Id, amount)).IsOk);
        var final = await shop.InvoiceAsync(order);
        Assert.True((await PayAsync(shop, final.Id, 5m)).IsOk);
        return (order, (deposit.Id, deposit.Number, amount), final);
    }

    private static Task<Result<PaymentEntered>> PayAsync(InvoicingShop shop, Guid document, decimal amount) =>
        shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), new PaymentInput(document, null, amount, shop.Today, "cash"));

    private static async Task CreditAsync(InvoicingShop shop, CreditInput input)
    {
        var done = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), input);
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
    }

    private static async Task<IReadOnlyList<ToPayBackRow>> ToPayBackAsync(InvoicingShop shop) =>
        (await shop.Shop.Get<MoneyView>().LoadAsync()).ToPayBack;

    private static async Task<int> NumberAsync(InvoicingShop shop, OrderId order)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Orders.Where(o => o.Id == order).Select(o => o.Number).FirstAsync();
    }
}
