using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using Xunit.Abstractions;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>Several rates of tax, a change in mid-month, charges, receipts, untaxed documents.</summary>
public sealed class InvoiceSettingsTests(ITestOutputHelper output)
{
    [Fact]
    public async Task Issue_TaxChangedBetweenHandOvers_PricesEachPieceByItsDayAndKeepsTheSum()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await OrderOfManyAsync(shop);
        var change = shop.Today.AddDays(-3);
        await SetAsync(shop, [Rate("normal", 19, null, change.AddDays(-1)), Rate("normal", 21, change, null)]);
        await using (var context = await shop.Shop.ContextAsync())
        {
            var before = new DateTimeOffset(change.AddDays(-2), new TimeOnly(10, 0), TimeSpan.Zero);
            var first = await context.Pieces.Where(p => p.Order == order).OrderBy(p => p.Number).Select(p => p.Id).FirstAsync();
            await context
                .Pieces.Where(p => p.Order == order)
                .ExecuteUpdateAsync(p =>
                    p.SetProperty(x => x.State, PieceState.HandedOver).SetProperty(x => x.ChangedAt, shop.Shop.Clock.GetUtcNow())
                );
            await context.Pieces.Where(p => p.Id == first).ExecuteUpdateAsync(p => p.SetProperty(x => x.ChangedAt, before));
        }
        var issued = await DocumentAsync(shop, await shop.InvoiceAsync(order));
        Assert.Equal([19m, 21m], issued.Totals.Groups.Select(g => g.Kind.Percent).Order());
        Assert.Equal(1m, issued.Content.Lines.Single(l => l.Tax.Percent == 19m).Quantity);
        Assert.Equal(await shop.GrossAsync(order), issued.Totals.Payable);
        var again = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order));
        Assert.Equal("already-invoiced", again.Refusals[0].Code);
    }

    /// <summary>The second part of an order has a day and a charge of its own, whatever went out before.</summary>
    [Fact]
    public async Task Issue_PartsOfSeveralDays_CarryTheDayOfTheirOwnPieces()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await OrderOfManyAsync(shop);
        var early = new DateTimeOffset(shop.Today.AddDays(-9), new TimeOnly(10, 0), TimeSpan.Zero);
        await using (var context = await shop.Shop.ContextAsync())
        {
            await context.Pieces.Where(p => p.Order == order).ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.InWork));
            var first = await context.Pieces.Where(p => p.Order == order).OrderBy(p => p.Number).Select(p => p.Id).FirstAsync();
            await context
                .Pieces.Where(p => p.Id == first)
                .ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.HandedOver).SetProperty(x => x.ChangedAt, early));
        }
        var change = shop.Today.AddDays(-3);
        await SetAsync(shop, [Rate("normal", 19, null, change.AddDays(-1)), Rate("normal", 21, change, null)]);
        var one = await DocumentAsync(shop, await shop.InvoiceAsync(order));
        Assert.Equal(shop.Today.AddDays(-9), one.Content.Delivery!.Date);
        await using (var context = await shop.Shop.ContextAsync())
            await context
                .Pieces.Where(p => p.Order == order && p.State == PieceState.InWork)
                .ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.CheckedGood));
        Assert.True((await shop.Shop.Get<ChargeOrder>().RunAsync(shop.Asked(), new ChargeInput(order, "Shipping", 5.9m))).IsOk);

        var two = await DocumentAsync(shop, await shop.InvoiceAsync(order));

        Assert.Equal(shop.Today, two.Content.Delivery!.Date);
        Assert.All(two.Content.Lines, l => Assert.Equal(21m, l.Tax.Percent));
    }

    [Fact]
    public async Task Issue_NoRateOnTheDay_IsRefusedWithTheDay()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await SetAsync(shop, [Rate("normal", 19, shop.Today.AddDays(1), null)]);
        var refused = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(await shop.OrderAsync()));
        Assert.Equal("no-tax-rate", refused.Refusals[0].Code);
    }

    [Fact]
    public async Task Issue_ShippingAtAnotherRateAndReverseCharge_SatisfyTheOfficialRules()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        await SetAsync(
            shop,
            [
                Rate("normal", 19, null, null),
                Rate("reduced", 7, null, null),
                new TaxRate(
                    "rc",
                    "Reverse charge",
                    new TaxKind(TaxCategory.ReverseCharge, 0m),
                    new(TaxCategory.ReverseCharge, "VATEX-EU-AE", null),
                    DateOnly.MinValue,
                    null
                ),
            ],
            new TaxUse("normal", "normal", "reduced")
        );
        Assert.True((await shop.Shop.Get<ChargeOrder>().RunAsync(shop.Asked(), new ChargeInput(order, "Shipping", 5.9m))).IsOk);
        var first = await shop.InvoiceAsync(order);
        var issued = await DocumentAsync(shop, first);
        Assert.Equal(await shop.GrossAsync(order) + 5.9m, issued.Totals.Payable);
        Assert.Equal(7m, issued.Content.Lines.Single(l => l.Id == "S1").Tax.Percent);
        Assert.True((await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(first.Id, null, "Other tax"))).IsOk);
        await BecomeFirmAsync(shop, order);
        var second = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, TaxCode: "rc"));
        var untaxed = await DocumentAsync(shop, second.Value);
        Assert.Equal((0m, TaxCategory.ReverseCharge), (untaxed.Totals.Tax, untaxed.Totals.Groups.Single().Kind.Category));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal((await context.Orders.AsNoTracking().FirstAsync(o => o.Id == order)).Net + 5.51m, untaxed.Totals.Payable);
        await shop.ValidateAsync(3, output);
    }

    [Fact]
    public async Task Issue_GoodsToAnotherStateOfTheUnion_NameWhereTheyGoAndSatisfyTheOfficialRules()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var reason = new ExemptionReason(TaxCategory.IntraUnion, "VATEX-EU-IC", null);
        var union = new TaxRate("eu", "Goods to the Union", new TaxKind(TaxCategory.IntraUnion, 0m), reason, DateOnly.MinValue, null);
        await SetAsync(shop, [Rate("normal", 19, null, null), union]);
        await BecomeFirmAsync(shop, order);
        var done = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, TaxCode: "eu"));
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
        var invoice = await DocumentAsync(shop, done.Value);
        Assert.Equal(invoice.Content.Buyer!.Address, invoice.Content.Delivery?.To);
        await shop.ValidateAsync(1, output);
    }

    /// <summary>A deposit is owed as the price is: where no tax is charged, without it; the invoice takes it off.</summary>
    [Fact]
    public async Task Issue_DepositWithReverseCharge_IsUntaxedAndTakenOffTheInvoice()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var reason = new ExemptionReason(TaxCategory.ReverseCharge, "VATEX-EU-AE", null);
        var rc = new TaxRate("rc", "Reverse charge", new TaxKind(TaxCategory.ReverseCharge, 0m), reason, DateOnly.MinValue, null);
        await SetAsync(shop, [Rate("normal", 19, null, null), rc]);
        await BecomeFirmAsync(shop, order);

        var done = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Deposit: 11.9m, TaxCode: "rc"));
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
        var deposit = await DocumentAsync(shop, done.Value);
        Assert.Equal((0m, 10m), (deposit.Totals.Tax, deposit.Totals.Payable));
        Assert.Equal(TaxCategory.ReverseCharge, Assert.Single(deposit.Content.Reasons).Category);

        var final = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, TaxCode: "rc"));
        await using var context = await shop.Shop.ContextAsync();
        var net = (await context.Orders.AsNoTracking().FirstAsync(o => o.Id == order)).Net;
        Assert.Equal(net - 10m, (await DocumentAsync(shop, final.Value)).Totals.Payable);
        await shop.ValidateAsync(2, output);
    }

    [Theory]
    [InlineData(0.05, "cash")]
    [InlineData(1, "cash")]
    [InlineData(1, "card")]
    public async Task Issue_PaidOnTheSpot_MakesAReceiptRoundedToTheCoinForCashOnly(double step, string means)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await SetAsync(shop, [], cashStep: (decimal)step);
        var order = await shop.OrderAsync();
        var done = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, PaidBy: means));
        Assert.Equal("K2026-0001", done.Value.Number);
        var receipt = await DocumentAsync(shop, done.Value);
        var gross = await shop.GrossAsync(order);
        Assert.Equal(
            means == "cash" ? Math.Round(gross / (decimal)step, MidpointRounding.AwayFromZero) * (decimal)step : gross,
            receipt.Totals.Payable
        );
        Assert.Equal(means == "cash" ? "Paid in cash, with thanks." : "Paid by card, with thanks.", receipt.Content.Terms);
        var detail = await shop.DetailAsync(done.Value.Number);
        Assert.Equal((0m, false), (detail.Outstanding, detail.HasXml));
        var note = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(done.Value.Id, null, "Brought back"));
        Assert.True(note.IsOk, string.Join("; ", note.Refusals.Select(r => r.Text)));
    }

    [Fact]
    public void Check_BadLists_AreRefusedAtTheirRate()
    {
        Assert.Empty(new InvoiceSettings().Check());
        Assert.Equal("BR-S-05", Fault([Rate("normal", 0, null, null)]));
        Assert.Equal("BR-S-05", Fault([Rate("normal", -7, null, null)]));
        Assert.Equal("tax-rate-twice", Fault([Rate("normal", 19, null, null), Rate("normal", 20, new DateOnly(2026, 7, 1), null)]));
        Assert.Equal("tax-use", Fault([Rate("other", 19, null, null)]));
        Assert.Equal(
            "cash-step",
            new InvoiceSettings { CashStep = 0.07m }
                .Check()[0]
                .Code
        );
        Assert.Equal(
            "dunning-days",
            new InvoiceSettings { Reminders = [new(1, "Reminder", 0, 0m, 0m, 10)] }
                .Check()[0]
                .Code
        );
    }

    /// <summary>Each fault stands at the field that is wrong.</summary>
    [Fact]
    public void Check_BadRate_IsToldAtTheFieldThatIsWrong()
    {
        var (summer, exempt) = (new DateOnly(2026, 7, 1), new TaxKind(TaxCategory.Exempt, 0m));
        Assert.Equal(["RatePercent1"], Fields(Rate("normal", 19, null, null), Rate("other", 0, null, null)));
        Assert.Equal(["RateReason1"], Fields(Rate("normal", 19, null, null), new("free", "free", exempt, null, DateOnly.MinValue, null)));
        Assert.Equal(["RateTo0"], Fields(Rate("normal", 19, summer, summer.AddDays(-1))));
        Assert.Equal(["Rates0", "Use", "UseOwn", "UseCharges"], Fields(Rate("nor mal", 19, null, null)));
        Assert.Equal(["RateTo1"], Fields(Rate("normal", 20, summer, null), Rate("normal", 19, null, null)));
        var use = new InvoiceSettings { Rates = [Rate("normal", 19, null, null)], Use = new TaxUse("normal", "own", "normal") };
        Assert.Equal("UseOwn", Assert.Single(use.Check()).Field);
    }

    private static IEnumerable<string?> Fields(params TaxRate[] rates) =>
        new InvoiceSettings { Rates = rates }
            .Check()
            .Select(f => f.Field);

    [Fact]
    public async Task SendReminder_OwnersFee_StandsInTheLetter()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await SetAsync(shop, [], reminders: [new(1, "Friendly word", 3, 2.5m, 0m, 10)]);
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        shop.Shop.Clock.Advance(TimeSpan.FromDays(14 + 3));
        var letter = await shop.Shop.Get<SendReminder>().RunAsync(shop.Asked(), new ReminderInput(issued.Id));
        await using var context = await shop.Shop.ContextAsync();
        var kept = await context.Documents.AsNoTracking().FirstAsync(d => d.Id == letter.Value.Id);
        Assert.Equal((await shop.DetailAsync(issued.Number)).Outstanding + 2.5m, kept.Total);
    }

    /// <summary>What the letter asks for settles the invoice and the letter, by hand or from the bank; the invoice alone settles the invoice.</summary>
    [Fact]
    public async Task SendReminder_PaidWithFeeAndInterest_IsSettledAndNotTooMuch()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await SetAsync(shop, [], reminders: [new(1, "Friendly word", 3, 5.5m, 9m, 10)]);
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        shop.Shop.Clock.Advance(TimeSpan.FromDays(14 + 20));
        var letter = await shop.Shop.Get<SendReminder>().RunAsync(shop.Asked(), new ReminderInput(issued.Id));
        var before = await shop.DetailAsync(issued.Number);
        var interest = before.Asked - before.Outstanding - 5.5m;
        Assert.True(interest > 0m);
        var day = shop.Today.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        var sum = before.Asked.ToString("0.00", CultureInfo.InvariantCulture);
        var file = BankLines.Read($"date,amount,text\n{day},{sum},{issued.Number}\n").Value;
        Assert.Equal(BankFit.Exact, (await shop.Shop.Get<BankPreview>().LoadAsync(file)).Matches[0].Fit);
        async Task<InvoiceDetail> PaidAsync(decimal amount)
        {
            var input = new PaymentInput(issued.Id, null, amount, shop.Today, "transfer");
            Assert.True((await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), input)).IsOk);
            return await shop.DetailAsync(issued.Number);
        }
        var alone = await PaidAsync(before.Outstanding);
        Assert.Equal((0m, interest + 5.5m), (alone.Outstanding, alone.Asked));
        Assert.Empty(alone.Extras);
        var settled = await PaidAsync(interest + 5.5m);
        Assert.Equal((0m, 0m), (settled.Outstanding, settled.Asked));
        Assert.Equal([new InvoiceSum("Received for interest", interest), new("Received for the fee", 5.5m)], settled.Extras);
        Assert.DoesNotContain(
            (await shop.Shop.Get<InvoiceListView>().LoadAsync(null, InvoiceFilter.Open, null, 1)).Rows,
            r => r.Id == issued.Id
        );
        Assert.Equal(-1m, (await PaidAsync(1m)).Outstanding);
        Assert.True(letter.IsOk);
    }

    private static string Fault(IReadOnlyList<TaxRate> rates) =>
        new InvoiceSettings { Rates = rates }
            .Check()[0]
            .Code;

    private static TaxRate Rate(string code, decimal percent, DateOnly? from, DateOnly? to) =>
        new(code, code, TaxKind.Standard(percent), null, from ?? DateOnly.MinValue, to);

    private static async Task SetAsync(
        InvoicingShop shop,
        IReadOnlyList<TaxRate> rates,
        TaxUse? use = null,
        decimal cashStep = 0m,
        IReadOnlyList<DunningLevel>? reminders = null
    )
    {
        var settings = new InvoiceSettings
        {
            Rates = rates,
            Use = use ?? new TaxUse(),
            CashStep = cashStep,
        };
        settings = settings with { Reminders = reminders ?? settings.Reminders };
        var done = await shop.Shop.Get<ChangeInvoiceSettings>().RunAsync(shop.Asked(), settings);
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
    }

    /// <summary>An order with one line of several pieces, none invoiced.</summary>
    private static async Task<OrderId> OrderOfManyAsync(InvoicingShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return (await context.Orders.AsNoTracking().ToListAsync()).First(o => o.Lines is [{ Quantity: > 2 }] && o.Charges.Count == 0).Id;
    }

    private static async Task BecomeFirmAsync(InvoicingShop shop, OrderId order)
    {
        await using var context = await shop.Shop.ContextAsync();
        var customer = await context.Customers.FirstAsync(c => c.Id == context.Orders.First(o => o.Id == order).Customer);
        Assert.True(
            customer.Change(customer.Contact, "Torfhaus BV", new Address("Kade 1", "0000", "Veendam", "NL"), "NL000000000B00", "").IsOk
        );
        await context.SaveChangesAsync();
    }

    private static async Task<IssuedInvoice> DocumentAsync(InvoicingShop shop, DocumentIssued issued)
    {
        await using var context = await shop.Shop.ContextAsync();
        return OrderAccount.Read((await context.Documents.AsNoTracking().FirstAsync(d => d.Id == issued.Id)).Json);
    }
}
