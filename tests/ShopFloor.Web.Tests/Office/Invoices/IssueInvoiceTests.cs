using System.Text;
using System.Xml.Linq;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Invoices;

public sealed class IssueInvoiceTests
{
    [Fact]
    public async Task RunAsync_FinishedOrder_InvoicesTheAgreedPriceToTheCentWhateverTheRatesAreNow()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        await using (var context = await shop.Shop.ContextAsync())
        {
            var rates = new RateCard(
                "dear",
                DateOnly.MinValue,
                new Money(500, "EUR"),
                new Money(9, "EUR"),
                [new("oven", new Money(99, "EUR")), new("press", new Money(99, "EUR"))],
                80
            );
            var json = System.Text.Json.JsonSerializer.Serialize(rates, JsonForms.Default);
            context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), SettingKeys.Rates, shop.Shop.Clock.GetUtcNow(), json, "owner"));
            await context.SaveChangesAsync();
        }
        var issued = await shop.InvoiceAsync(order);
        Assert.Equal("2026-0001", issued.Number);
        Assert.Equal(await shop.GrossAsync(order), (await shop.DetailAsync(issued.Number)).Outstanding);
    }

    [Fact]
    public async Task RunAsync_Issued_KeepsPaperXmlAndHash()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        var detail = await shop.DetailAsync(issued.Number);
        Assert.True(detail.HasXml && detail.IsUnchanged);
        Assert.All(detail.Lines, l => Assert.Matches("^.{3,}, (show-through|white ground|velvet matt|behind glass)$", l.Name));
        var view = shop.Shop.Get<InvoiceView>();
        var pdf = await view.PaperAsync(issued.Id, xml: false, default);
        Assert.Equal(("2026-0001.pdf", "%PDF"), (pdf!.Value.Name, Encoding.ASCII.GetString(pdf.Value.Bytes[..4])));
        var xml = XDocument.Parse(Encoding.UTF8.GetString((await view.PaperAsync(issued.Id, xml: true, default))!.Value.Bytes));
        Assert.Equal(
            detail.Outstanding,
            decimal.Parse(xml.Descendants().Single(e => e.Name.LocalName == "PayableAmount").Value, CultureInfo.InvariantCulture)
        );
    }

    [Fact]
    public async Task LoadAsync_StoredDocumentWasTamperedWith_IsSeen()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        await using (var context = await shop.Shop.ContextAsync())
            await context.Database.ExecuteSqlAsync($"UPDATE Documents SET Pdf = x'00' WHERE Number = {issued.Number}");
        Assert.False((await shop.DetailAsync(issued.Number)).IsUnchanged);
    }

    /// <summary>Twenty people at once, on one order and on others: one invoice an order, numbers without gap.</summary>
    [Fact]
    public async Task RunAsync_ManyAtOnce_OneInvoiceAnOrderAndNoGap()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        List<OrderId> orders;
        await using (var context = await shop.Shop.ContextAsync())
            orders = [.. (await context.Orders.AsNoTracking().ToListAsync()).Select(o => o.Id)];
        var all = await Task.WhenAll(
            orders.Concat(orders).Select(o => Task.Run(() => shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(o))))
        );
        var numbers = all.Where(r => r.IsOk).Select(r => r.Value.Number).Order(StringComparer.Ordinal).ToList();
        Assert.True(numbers.Count >= 2, $"{numbers.Count} invoices");
        Assert.Equal(Enumerable.Range(1, numbers.Count).Select(n => $"2026-{n:0000}"), numbers);
        await using var after = await shop.Shop.ContextAsync();
        Assert.Equal(numbers.Count, (await after.Documents.Select(d => d.Order).ToListAsync()).Distinct().Count());
        Assert.All(all.Where(r => !r.IsOk), r => Assert.Contains(r.Refusals[0].Code, (string[])["already-invoiced", "nothing-ready"]));
    }

    [Fact]
    public async Task RunAsync_SameCommandTwice_GivesTheSameInvoice()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var asked = shop.Asked();
        var first = await shop.Shop.Get<IssueInvoice>().RunAsync(asked, new IssueInput(order));
        var second = await shop.Shop.Get<IssueInvoice>().RunAsync(asked, new IssueInput(order));
        Assert.Equal(first.Value, second.Value);
    }

    /// <summary>A command that ends before its transaction commits, as when the process is killed, has used no number.</summary>
    [Fact]
    public async Task KeepDocument_TransactionNeverCommits_NumberIsGivenAgain()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        await using (var context = await shop.Shop.ContextAsync())
        {
            await using var transaction = await context.Database.BeginTransactionAsync();
            var work = new CommandWork(context, shop.Shop.Clock.GetUtcNow(), Guid.CreateVersion7(), "owner");
            var account = (await OrderAccount.LoadAsync(context, order, work.Now, default))!;
            var draft = InvoiceDrafts.Pieces(account, shop.Today, new InvoiceWish()).Value;
            var wanted = new DocumentToIssue(draft, shop.Shop.Get<Letterheads>().Of(account.Settings, draft.Seller, LetterReader.English));
            Assert.Equal("2026-0001", (await KeepDocument.IssueAsync(work, account, wanted, default)).Value.Number);
            await context.SaveChangesAsync();
        }
        Assert.Equal("2026-0001", (await shop.InvoiceAsync(order)).Number);
    }

    [Fact]
    public async Task RunAsync_NothingReady_IsRefusedAndUsesNoNumber()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        await shop.InvoiceAsync(order);
        var again = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order));
        Assert.Equal("already-invoiced", again.Refusals[0].Code);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(1, (await context.Series.FindAsync("invoice/2026"))!.Last);
    }

    [Fact]
    public async Task RunAsync_NotTheOwner_IsRefused()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var bench = await shop.Shop.WorkerAsync(WorkerRole.Bench);
        var refused = await shop.Shop.Get<IssueInvoice>().RunAsync(Asked.By(bench), new IssueInput(await shop.OrderAsync()));
        Assert.Equal("no-right", refused.Refusals[0].Code);
    }

    [Fact]
    public async Task RunAsync_DepositInvoiceThenFinal_ChargesTheWholeOnce()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var gross = await shop.GrossAsync(order);
        var asked = Money.Round(gross * 0.3m);
        var deposit = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Deposit: asked));
        Assert.Equal("D2026-0001", deposit.Value.Number);
        Assert.Equal(asked, (await shop.DetailAsync("D2026-0001")).Outstanding);
        Assert.Equal(gross - asked, (await shop.DetailAsync((await shop.InvoiceAsync(order)).Number)).Outstanding);
        var late = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Deposit: asked));
        Assert.Equal("deposit-late", late.Refusals[0].Code);
    }

    [Fact]
    public async Task RunAsync_PaidOnAccount_IsTakenOffTheInvoice()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var gross = await shop.GrossAsync(order);
        var paid = await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), new PaymentInput(null, order, 5m, shop.Today, "cash"));
        Assert.True(paid.IsOk);
        var detail = await shop.DetailAsync((await shop.InvoiceAsync(order)).Number);
        Assert.Equal(gross - 5m, detail.Outstanding);
        Assert.Contains(detail.Sums, s => s is { Name: "Already paid", Amount: -5m });
        var row = (await shop.Shop.Get<InvoiceListView>().LoadAsync(null, InvoiceFilter.Open, null, 1)).Rows.Single();
        Assert.Equal(gross - 5m, row.Outstanding);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(5m, (await context.Payments.Select(p => p.Amount).ToListAsync()).Sum());
    }

    [Fact]
    public async Task RunAsync_PaidOnAccountBeforeTheDeposit_IsTakenOffTheDepositAndTheWholeIsChargedOnce()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var gross = await shop.GrossAsync(order);
        var asked = Money.Round(gross * 0.3m);
        await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), new PaymentInput(null, order, 1m, shop.Today, "cash"));
        var deposit = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Deposit: asked));
        Assert.Equal(asked - 1m, (await shop.DetailAsync(deposit.Value.Number)).Outstanding);
        Assert.Equal(gross - asked, (await shop.DetailAsync((await shop.InvoiceAsync(order)).Number)).Outstanding);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(1m, (await context.Payments.Select(p => p.Amount).ToListAsync()).Sum());
    }
}
