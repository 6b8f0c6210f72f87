using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Today;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>What the database sums for the lists is what the document itself says, whatever was paid, credited and asked for.</summary>
public sealed class BalanceLawTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task Outstanding_RandomDocuments_IsTheSameInListsAndOnThePaper(int seed)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var random = new Random(seed);
        await IssueAsync(shop, random);
        // The newest is never paid, and is late in the end.
        var papers = (await AllAsync(shop)).Where(r => r.Kind != "credit note").Skip(1).Select(r => r.Number).ToList();
        for (var round = 0; round < 3; round++)
        {
            foreach (var number in papers)
                await SettleAsync(shop, number, random);
            shop.Shop.Clock.Advance(TimeSpan.FromDays(25));
        }

        var all = await AllAsync(shop);
        Assert.Contains(all, r => r.Kind == "reminder");
        Assert.Contains(all, r => r.Kind == "credit note");
        foreach (var row in all.Where(r => r.Kind != "reminder"))
        {
            var paper = await shop.DetailAsync(row.Number);
            Assert.Equal((row.Number, paper.Outstanding), (row.Number, row.Outstanding));
            if (row.Kind != "credit note")
                Assert.Equal((row.Number, paper.Asked), (row.Number, Math.Max(0m, row.Outstanding) + row.Extras));
        }
        await ListsAgreeAsync(shop, all);
    }

    /// <summary>A list of what is open reads what is open, and its payments are summed where they lie.</summary>
    [Fact]
    public async Task Load_OpenInvoices_ReadsThoseOnly()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await IssueAsync(shop, new Random(1));
        foreach (var row in (await AllAsync(shop)).Where(r => r.Outstanding > 0m).Skip(1))
            Assert.True(await PayAsync(shop, row.Id, row.Outstanding));
        var open = (await AllAsync(shop)).Count(r => r.Outstanding != 0m);
        await using var context = await shop.Shop.ContextAsync();
        Assert.True(await context.Payments.CountAsync(p => p.Document != null) > 2 * open);
        var view = shop.Shop.Get<InvoiceListView>();
        shop.Shop.Reads.Clear();
        Assert.Equal(open, (await view.LoadAsync(null, InvoiceFilter.Open, null, 1)).Count);
        Assert.Equal(open, shop.Shop.Reads.Rows("FROM \"Payments\""));
        Assert.Empty(await shop.Shop.Reads.ScansAsync(context, "Payments"));
    }

    private static async Task<IReadOnlyList<InvoiceRow>> AllAsync(InvoicingShop shop) =>
        (await shop.Shop.Get<InvoiceListView>().LoadAsync(null, InvoiceFilter.All, null, 1)).Rows;

    private static async Task ListsAgreeAsync(InvoicingShop shop, IReadOnlyList<InvoiceRow> all)
    {
        var view = shop.Shop.Get<InvoiceListView>();
        Assert.Equal(
            all.Where(r => r.Outstanding != 0m).OrderBy(r => r.Number, StringComparer.Ordinal),
            (await view.LoadAsync(null, InvoiceFilter.Open, null, 1)).Rows.OrderBy(r => r.Number, StringComparer.Ordinal)
        );
        var late = all.Where(r => r.Outstanding > 0m && r.Due < shop.Today).Select(r => r.Number).Order(StringComparer.Ordinal).ToList();
        Assert.NotEmpty(late);
        var overdue = (await view.LoadAsync(null, InvoiceFilter.Overdue, null, 1)).Rows;
        Assert.Equal(late, overdue.Select(r => r.Number).Order(StringComparer.Ordinal));
        var money = await shop.Shop.Get<MoneyView>().LoadAsync();
        Assert.Equal(overdue, money.Overdue);
        Assert.Equal(
            all.Where(r => r.Outstanding < 0m).Select(r => (r.Number, -r.Outstanding)).Order(),
            money.ToPayBack.Where(r => !r.IsOff).Select(r => (r.Name, r.Amount)).Order()
        );
    }

    private static async Task IssueAsync(InvoicingShop shop, Random random)
    {
        await using var context = await shop.Shop.ContextAsync();
        var orders = await context
            .Orders.Where(o => !context.Documents.Any(d => d.Order == o.Id))
            .Where(o => context.Pieces.Any(p => p.Order == o.Id && (p.State == PieceState.CheckedGood || p.State == PieceState.HandedOver)))
            .OrderBy(o => o.Number)
            .Select(o => o.Id)
            .Take(6)
            .ToListAsync();
        foreach (var order in orders)
        {
            var paid = new PaymentInput(null, order, Cents(random, 2_000), shop.Today, "cash");
            if (random.Next(2) == 0)
                Assert.True((await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), paid)).IsOk);
            await shop.InvoiceAsync(order);
        }
    }

    private static async Task SettleAsync(InvoicingShop shop, string number, Random random)
    {
        var paper = await shop.DetailAsync(number);
        switch (random.Next(6))
        {
            case 0:
                await PayAsync(shop, paper.Id, paper.Outstanding);
                break;
            case 1:
                await PayAsync(shop, paper.Id, Cents(random, 6_000));
                break;
            case 2:
                await PayAsync(shop, paper.Id, paper.Asked);
                break;
            case 3:
                var quantities = random.Next(2) == 0 ? null : new Dictionary<string, decimal> { [paper.Lines[0].Id] = 1m };
                await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(paper.Id, quantities, "Chipped corner"));
                break;
            default:
                await shop.Shop.Get<SendReminder>().RunAsync(shop.Asked(), new ReminderInput(paper.Id));
                break;
        }
    }

    // What cannot be done as things are is refused, and changes nothing.
    private static async Task<bool> PayAsync(InvoicingShop shop, Guid invoice, decimal amount) =>
        (await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), new PaymentInput(invoice, null, amount, shop.Today, "transfer"))).IsOk;

    private static decimal Cents(Random random, int most) => random.Next(1, most) / 100m;
}
