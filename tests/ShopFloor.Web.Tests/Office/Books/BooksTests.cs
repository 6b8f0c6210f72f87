using Microsoft.EntityFrameworkCore;
using ShopFloor.Documents.Letters;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Office.Books;
using ShopFloor.Web.Office.Exchange;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Books;

/// <summary>The books of a month agree with the documents, to the cent.</summary>
public sealed class BooksTests
{
    private static readonly CsvColumn[] DocumentColumns =
    [
        .. "number date kind order customer country vat_id category rate net tax rounding gross currency corrects due paid paid_on"
            .Split(' ')
            .Select(c => new CsvColumn(c, true)),
    ];

    private static readonly CsvColumn[] PaymentColumns =
    [
        .. "date method amount currency document order customer note".Split(' ').Select(c => new CsvColumn(c, true)),
    ];

    [Theory]
    [InlineData(7)]
    [InlineData(2026)]
    public async Task Books_OfARandomMonth_AgreeWithTheDocuments(int seed)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await WorkAsync(shop, new Random(seed));
        await using var context = await shop.Shop.ContextAsync();
        var view = shop.Shop.Get<BooksView>();
        var months = (await context.Documents.Select(d => d.Day).ToListAsync()).Select(d => $"{d:yyyy-MM}").Distinct().ToList();
        var books = new List<BooksSheet>();
        foreach (var month in months)
            books.Add(await view.LoadAsync(month));
        var issued = (await context.Documents.AsNoTracking().Where(d => d.Kind != "reminder").ToListAsync()).ConvertAll(d =>
            (d.Order, Document: OrderAccount.Read(d.Json))
        );
        Assert.Contains(issued, i => i.Document.Content.Kind == DocumentKind.DepositInvoice);
        Assert.Contains(issued, i => i.Document.Content.Kind == DocumentKind.CreditNote);
        Assert.Equal(issued.Sum(i => Sign(i.Document) * i.Document.Totals.Payable), books.Sum(b => b.Total));
        Assert.Equal(issued.Sum(i => Sign(i.Document) * i.Document.Totals.Tax), books.Sum(b => b.Rates.Sum(r => r.Tax)));
        Assert.Equal(issued.Sum(i => Sign(i.Document) * i.Document.Totals.WithoutTax), books.Sum(b => b.Rates.Sum(r => r.Net)));
        foreach (var book in books)
            await AgreeAsync(shop, book);
        await OnceAsync(shop, books);
    }

    [Fact]
    public async Task Takings_OfADay_AreByWayOfPayingAndOnlyWhatChangedHands()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var before = await shop.Shop.Get<TakingsView>().LoadAsync(null);
        await PayAsync(shop, new PaymentInput(null, order, 5m, shop.Today, "cash", "=1+1"));
        var invoice = await shop.InvoiceAsync(order);
        await PayAsync(shop, new PaymentInput(invoice.Id, null, 3m, shop.Today, "card"));
        await PayAsync(shop, new PaymentInput(invoice.Id, null, -1m, shop.Today, "cash"));
        var sheet = await shop.Shop.Get<TakingsView>().LoadAsync(null);
        decimal Came(string means) => sheet.Sums.Single(s => s.Means == means).Amount - before.Sums.Single(s => s.Means == means).Amount;
        Assert.Equal((4m, 3m, 0m), (Came("cash"), Came("card"), Came("transfer")));
        Assert.Equal(7m, sheet.Total - before.Total);
        var words = Poppler.Words(await shop.Shop.Get<TakingsView>().PaperAsync(null, LetterReader.Of("de")), "-layout");
        Assert.Contains($"Einnahmen am {LetterReader.Of("de").Day(shop.Today)}", words, StringComparison.Ordinal);
        Assert.Contains(invoice.Number, words, StringComparison.Ordinal);
        Assert.Contains(
            "'=1+1",
            BookRows.Payments(await shop.Shop.Get<BooksView>().LoadAsync($"{shop.Today:yyyy-MM}")),
            StringComparison.Ordinal
        );
        var list = await shop.Shop.Get<InvoiceListView>().LoadAsync(invoice.Number, InvoiceFilter.All, null, 1);
        var totals = (await shop.DetailAsync(invoice.Number)).Sums;
        var sum = Assert.Single(list.Sums);
        Assert.Equal(await shop.GrossAsync(order), sum.Gross);
        Assert.Equal(totals.First(s => s.Name == "Without tax").Amount, sum.Net);
        Assert.Equal((sum.Gross - sum.Net, sum.Gross - 7m), (sum.Tax, sum.Open));
    }

    /// <summary>The files and the paper say the same as the page.</summary>
    private static async Task AgreeAsync(InvoicingShop shop, BooksSheet book)
    {
        var lines = CsvSheet.Read(BookRows.Documents(book), DocumentColumns).Value;
        Assert.Equal(book.Documents.Sum(d => d.Groups.Count), lines.Count);
        Assert.Equal(book.Total, lines.Sum(l => Number(l, "gross")));
        Assert.Equal(book.Total, lines.Sum(l => Number(l, "net") + Number(l, "tax") + Number(l, "rounding")));
        foreach (var rate in book.Rates)
        {
            var own = lines.Where(l => l.Cells["category"] == rate.Category && Number(l, "rate") == rate.Percent).ToList();
            Assert.Equal((rate.Net, rate.Tax), (own.Sum(l => Number(l, "net")), own.Sum(l => Number(l, "tax"))));
        }
        Assert.All(lines.Where(l => l.Cells["kind"] == "credit note"), l => Assert.NotEmpty(l.Cells["corrects"]));
        if (book.Payments.Count > 0)
            Assert.Equal(
                book.Means.Sum(m => m.Amount),
                CsvSheet.Read(BookRows.Payments(book), PaymentColumns).Value.Sum(l => Number(l, "amount"))
            );
        var (_, pdf) = await shop.Shop.Get<BooksView>().PaperAsync($"{book.Month:yyyy-MM}", LetterReader.English);
        Assert.Contains(LetterReader.English.Amount(book.Total), Poppler.Words(pdf, "-layout"), StringComparison.Ordinal);
    }

    /// <summary>A deposit and the invoice that takes it off come to the order once; what was settled says since when.</summary>
    private static async Task OnceAsync(InvoicingShop shop, IReadOnlyList<BooksSheet> books)
    {
        var all = books.SelectMany(b => b.Documents).ToList();
        await using var context = await shop.Shop.ContextAsync();
        var orders = await context.Orders.AsNoTracking().ToDictionaryAsync(o => o.Number);
        var whole = all.GroupBy(d => d.Order)
            .Where(g => g.Any(d => d.Kind == "deposit invoice") && g.Any(d => d.Kind == "invoice") && g.All(d => d.Kind != "credit note"))
            .ToList();
        Assert.NotEmpty(whole);
        Assert.All(whole, g => Assert.Equal(orders[g.Key].Gross, g.Sum(d => d.Total)));
        foreach (var document in all.Where(d => d.Kind != "credit note"))
            Assert.Equal((await shop.DetailAsync(document.Number)).Outstanding <= 0m, document.PaidOn is not null);
    }

    /// <summary>A month of work: deposits, invoices, receipts, payments in all ways and credit notes, by chance.</summary>
    private static async Task WorkAsync(InvoicingShop shop, Random random)
    {
        var turn = 0;
        foreach (var order in await ReadyAsync(shop))
        {
            shop.Shop.Clock.Advance(TimeSpan.FromHours(random.Next(1, 30)));
            var gross = await shop.GrossAsync(order);
            if (turn % 2 == 0)
                await IssueAsync(shop, new IssueInput(order, Deposit: Math.Round(gross * random.Next(10, 60) / 100m, 2)), null, random);
            var means = turn % 3 == 1 ? "cash" : null;
            var issued = await IssueAsync(shop, new IssueInput(order, PaidBy: means, IsInvoice: random.Next(2) == 0), means, random);
            if (issued is not null && turn % 4 == 3)
            {
                var done = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(issued.Id, null, "Taken back"));
                Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
            }
            turn++;
        }
        Assert.InRange(turn, 4, 1000);
    }

    private static async Task<IReadOnlyList<OrderId>> ReadyAsync(InvoicingShop shop)
    {
        List<OrderId> ready = [];
        await using var context = await shop.Shop.ContextAsync();
        var invoiced = await context.Documents.Select(d => d.Order).ToListAsync();
        foreach (var order in await context.Orders.AsNoTracking().OrderBy(o => o.Number).ToListAsync())
        {
            var found = await shop.Shop.Get<InvoiceListView>().ForOrderAsync(order.Number);
            if (found is { HasOpen: true } && !invoiced.Contains(order.Id))
                ready.Add(order.Id);
        }
        return ready;
    }

    private static async Task<DocumentIssued?> IssueAsync(InvoicingShop shop, IssueInput input, string? paidBy, Random random)
    {
        var issued = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), input);
        if (!issued.IsOk)
            return null;
        var open = (await shop.DetailAsync(issued.Value.Number)).Outstanding;
        var part = random.Next(3) == 0 ? Math.Round(open / 2m, 2) : open;
        if (paidBy is null && part > 0m && random.Next(4) > 0)
            await PayAsync(shop, new PaymentInput(issued.Value.Id, null, part, shop.Today, EnterPayment.Means[random.Next(3)]));
        return issued.Value;
    }

    private static async Task PayAsync(InvoicingShop shop, PaymentInput input)
    {
        var paid = await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), input);
        Assert.True(paid.IsOk, string.Join("; ", paid.Refusals.Select(r => r.Text)));
    }

    private static int Sign(IssuedInvoice document) => document.Content.Kind == DocumentKind.CreditNote ? -1 : 1;

    private static decimal Number(CsvRow row, string column) => decimal.Parse(row.Cells[column], CultureInfo.InvariantCulture);
}
