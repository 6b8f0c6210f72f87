using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>Payments, credit notes, reminders.</summary>
public sealed class SettleInvoiceTests
{
    [Fact]
    public async Task EnterPayment_PartThenRestThenTooMuch_ShowsWhatIsOpen()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        var open = (await shop.DetailAsync(issued.Number)).Outstanding;
        await PayAsync(shop, issued.Id, 1m);
        Assert.Equal(open - 1m, (await shop.DetailAsync(issued.Number)).Outstanding);
        await PayAsync(shop, issued.Id, open - 1m);
        Assert.Equal(0m, (await shop.DetailAsync(issued.Number)).Outstanding);
        await PayAsync(shop, issued.Id, 3m);
        Assert.Equal(-3m, (await shop.DetailAsync(issued.Number)).Outstanding);
        await PayAsync(shop, issued.Id, -3m);
        Assert.Equal(0m, (await shop.DetailAsync(issued.Number)).Outstanding);
    }

    [Fact]
    public async Task EnterPayment_OfAnotherYear_IsRefusedAtItsDay()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var issued = await shop.InvoiceAsync(order);
        foreach (var (document, on) in new (Guid?, OrderId?)[] { (issued.Id, null), (null, order) })
        {
            var input = new PaymentInput(document, on, 5m, new DateOnly(1990, 1, 1), "cash");
            var fault = Assert.Single((await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), input)).Refusals);
            Assert.Equal(("payment-day", "Day"), (fault.Code, fault.Field));
        }
    }

    /// <summary>Too much on one invoice pays the next order of the same customer, to the cent, and nobody else's.</summary>
    [Fact]
    public async Task MoveSurplus_ToAnotherOrder_IsTakenOffItsInvoice()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var first = await shop.InvoiceAsync(await shop.OrderAsync());
        await PayAsync(shop, first.Id, (await shop.DetailAsync(first.Number)).Outstanding + 5m);
        var next = await shop.OrderAsync();
        var number = await NumberAsync(shop, next);
        var move = shop.Shop.Get<MoveSurplus>();
        Assert.Equal("surplus-order", (await move.RunAsync(shop.Asked(), new SurplusInput(first.Id, number))).Refusals[0].Code);
        await GiveToSameCustomerAsync(shop, first.Id, next);
        Assert.Contains(number, (await shop.Shop.Get<SurplusView>().OrdersAsync(first.Id)).Select(o => o.Number));
        Assert.Equal(
            (first.Number, 5m),
            (await shop.Shop.Get<InvoiceListView>().ForOrderAsync(number))!.Surplus.Select(s => (s.Invoice, s.Amount)).Single()
        );
        Assert.True((await move.RunAsync(shop.Asked(), new SurplusInput(first.Id, number))).IsOk);
        Assert.Equal(0m, (await shop.DetailAsync(first.Number)).Outstanding);
        Assert.Equal("no-surplus", (await move.RunAsync(shop.Asked(), new SurplusInput(first.Id, number))).Refusals[0].Code);
        var second = await shop.InvoiceAsync(next);
        Assert.Equal(await shop.GrossAsync(next) - 5m, (await shop.DetailAsync(second.Number)).Outstanding);
        await PayAsync(shop, second.Id, (await shop.DetailAsync(second.Number)).Outstanding + 1m);
        Assert.Equal("surplus-invoiced", (await move.RunAsync(shop.Asked(), new SurplusInput(second.Id, number))).Refusals[0].Code);
    }

    private static async Task<int> NumberAsync(InvoicingShop shop, OrderId order)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Orders.Where(o => o.Id == order).Select(o => o.Number).FirstAsync();
    }

    private static async Task GiveToSameCustomerAsync(InvoicingShop shop, Guid invoice, OrderId order)
    {
        await using var context = await shop.Shop.ContextAsync();
        var paid = await context.Documents.Where(d => d.Id == invoice).Select(d => d.Order).FirstAsync();
        var customer = await context.Orders.Where(o => o.Id == paid).Select(o => o.Customer).FirstAsync();
        await context.Orders.Where(o => o.Id == order).ExecuteUpdateAsync(o => o.SetProperty(x => x.Customer, customer));
    }

    [Fact]
    public async Task EnterPayment_WithoutInvoiceOrOrder_IsRefused()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var enter = shop.Shop.Get<EnterPayment>();
        var nothing = await enter.RunAsync(shop.Asked(), new PaymentInput(null, null, 5m, shop.Today, "cash"));
        Assert.Equal("payment-without-order", nothing.Refusals[0].Code);
        var unknown = await enter.RunAsync(shop.Asked(), new PaymentInput(Guid.CreateVersion7(), null, 5m, shop.Today, "cash"));
        Assert.Equal("invoice-missing", unknown.Refusals[0].Code);
        var means = await enter.RunAsync(shop.Asked(), new PaymentInput(Guid.CreateVersion7(), null, 5m, shop.Today, "shells"));
        Assert.Equal(("payment-means", "Means"), (means.Refusals[0].Code, means.Refusals[0].Field));
    }

    [Theory]
    [InlineData(0, 0, "payment-amount")]
    [InlineData(-1, 0, "payment-back")]
    [InlineData(1, 1, "payment-day")]
    public async Task EnterPayment_Bad_IsRefusedAtTheField(int amount, int daysAhead, string code)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        var refused = await shop
            .Shop.Get<EnterPayment>()
            .RunAsync(shop.Asked(), new PaymentInput(issued.Id, null, amount, shop.Today.AddDays(daysAhead), "cash"));
        Assert.Equal(code, Assert.Single(refused.Refusals).Code);
    }

    [Fact]
    public async Task IssueCreditNote_Whole_UndoesTheInvoiceAndLetsItBeIssuedAgain()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var issued = await shop.InvoiceAsync(order);
        var before = await shop.DetailAsync(issued.Number);
        var said = await shop.Shop.Get<CreditDraft>().RunAsync(new CreditInput(issued.Id, null, ""));
        Assert.Equal(before.Outstanding, said.Value);
        var note = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(issued.Id, null, "Wrong address"));
        Assert.Equal("C2026-0001", note.Value.Number);
        var detail = await shop.DetailAsync(issued.Number);
        Assert.Equal(0m, detail.Outstanding);
        Assert.All(detail.Lines, l => Assert.Equal(0m, l.Left));
        Assert.Equal(before.Sums, (await shop.DetailAsync("C2026-0001")).Sums);
        var again = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(issued.Id, null, "Once more"));
        Assert.Equal("nothing-to-credit", again.Refusals[0].Code);
        var renewed = await shop.InvoiceAsync(order);
        Assert.Equal("2026-0002", renewed.Number);
        Assert.Equal(before.Outstanding, (await shop.DetailAsync(renewed.Number)).Outstanding);
    }

    [Fact]
    public async Task IssueCreditNote_OneLineThenTheRest_AddsUpToTheInvoice()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        var line = (await shop.DetailAsync(issued.Number)).Lines[0];
        var credit = shop.Shop.Get<IssueCreditNote>();
        Assert.True(
            (
                await credit.RunAsync(
                    shop.Asked(),
                    new CreditInput(issued.Id, new Dictionary<string, decimal> { [line.Id] = 1m }, "Chipped corner")
                )
            ).IsOk
        );
        var rest = await credit.RunAsync(shop.Asked(), new CreditInput(issued.Id, null, "All of it"));
        Assert.Equal(line.Quantity == 1m && (await shop.DetailAsync(issued.Number)).Lines.Count == 1, !rest.IsOk);
        Assert.Equal(0m, (await shop.DetailAsync(issued.Number)).Outstanding);
    }

    [Fact]
    public async Task LoadAsync_List_IsOrderedByTimeOfIssueOrByChoiceAndCreditNotesTakeOff()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var first = await shop.InvoiceAsync(await shop.OrderAsync());
        shop.Shop.Clock.Advance(TimeSpan.FromMinutes(5));
        var second = await shop.InvoiceAsync(await shop.OrderAsync());
        shop.Shop.Clock.Advance(TimeSpan.FromMinutes(5));
        var note = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(first.Id, null, "Wrong address"));
        shop.Shop.Clock.Advance(TimeSpan.FromMinutes(5));
        var third = await shop.InvoiceAsync(await shop.OrderAsync());
        var view = shop.Shop.Get<InvoiceListView>();
        async Task<string[]> NumbersAsync(InvoiceSort? by) =>
            [.. (await view.LoadAsync(new InvoiceQuestion(null, InvoiceFilter.All, null, 1, by))).Rows.Select(r => r.Number)];
        Assert.Equal([third.Number, note.Value.Number, second.Number, first.Number], await NumbersAsync(null));
        Assert.Equal([first.Number, second.Number, third.Number, note.Value.Number], await NumbersAsync(InvoiceSort.Due));
        var rows = (await view.LoadAsync(new InvoiceQuestion(null, InvoiceFilter.All, null, 1, InvoiceSort.Open))).Rows;
        Assert.Equal(rows.Select(r => r.Outstanding).OrderDescending(), rows.Select(r => r.Outstanding));
        Assert.Equal(0m, rows.Where(r => r.Number == first.Number || r.Number == note.Value.Number).Sum(r => r.Signed));
    }

    [Fact]
    public async Task IssueCreditNote_WithoutReasonOrTooMuch_IsRefused()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        var credit = shop.Shop.Get<IssueCreditNote>();
        Assert.Equal("credit-reason", (await credit.RunAsync(shop.Asked(), new CreditInput(issued.Id, null, " "))).Refusals[0].Code);
        var much = await credit.RunAsync(
            shop.Asked(),
            new CreditInput(issued.Id, new Dictionary<string, decimal> { ["1"] = 999m }, "Chipped")
        );
        Assert.Equal(("credit-too-much", "1"), (much.Refusals[0].Code, much.Refusals[0].Field));
    }

    [Fact]
    public async Task SendReminder_Late_IsMadeOnceForEachLevel()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        var remind = shop.Shop.Get<SendReminder>();
        Assert.Equal("no-reminder-due", (await remind.RunAsync(shop.Asked(), new ReminderInput(issued.Id))).Refusals[0].Code);
        shop.Shop.Clock.Advance(TimeSpan.FromDays(14 + 8));
        Assert.Single((await shop.Shop.Get<InvoiceListView>().LoadAsync(null, InvoiceFilter.Overdue, null, 1)).Rows);
        Assert.Equal("R2026-0001", (await remind.RunAsync(shop.Asked(), new ReminderInput(issued.Id))).Value.Number);
        Assert.Equal("no-reminder-due", (await remind.RunAsync(shop.Asked(), new ReminderInput(issued.Id))).Refusals[0].Code);
        shop.Shop.Clock.Advance(TimeSpan.FromDays(14));
        Assert.Equal("R2026-0002", (await remind.RunAsync(shop.Asked(), new ReminderInput(issued.Id))).Value.Number);
        Assert.Equal(2, (await shop.DetailAsync(issued.Number)).Moves.Count);
    }

    private static async Task PayAsync(InvoicingShop shop, Guid invoice, decimal amount)
    {
        var done = await shop
            .Shop.Get<EnterPayment>()
            .RunAsync(shop.Asked(), new PaymentInput(invoice, null, amount, shop.Today, "transfer", "thanks"));
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
    }
}
