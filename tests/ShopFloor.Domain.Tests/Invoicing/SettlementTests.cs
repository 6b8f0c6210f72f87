using ShopFloor.Domain.Invoicing;
using static ShopFloor.Domain.Tests.Invoicing.InvoicingExamples;

namespace ShopFloor.Domain.Tests.Invoicing;

/// <summary>Payments, reminders, rates over time and numbers.</summary>
public sealed class SettlementTests
{
    private static readonly IssuedInvoice Invoice = Draft(Line("1", 1m, 100m)).Issued();

    private static readonly DunningLevel[] Levels = [new(1, "Reminder", 7, 0m, 0m, 10), new(2, "Second reminder", 21, 5m, 8m, 7)];

    [Theory]
    [InlineData(0, OpenState.Unpaid, 120)]
    [InlineData(50, OpenState.PartlyPaid, 70)]
    [InlineData(120, OpenState.Settled, 0)]
    [InlineData(130, OpenState.Overpaid, -10)]
    public void State_Received_TellsHowItStands(int received, OpenState state, int outstanding)
    {
        var item = Item(received);
        Assert.Equal((state, outstanding), (item.State, (int)item.Outstanding));
    }

    [Fact]
    public void Outstanding_CreditedInPartAndPaid_IsSettled()
    {
        var note = CreditNotes
            .Part(Draft(Line("1", 2m, 50m)).Issued(), [], new Dictionary<string, decimal> { ["1"] = 1m }, "Chipped", "Set off.")
            .Value.Issued("C1");
        Assert.Equal(OpenState.Settled, new OpenItem(Invoice, [new(Day, 60m, "58")], [note]).State);
    }

    [Theory]
    [InlineData(0, 0, "payment-amount")]
    [InlineData(1.005, 0, "payment-amount")]
    [InlineData(-5, 0, "payment-back")]
    [InlineData(5, 1, "payment-day")]
    [InlineData(5, -31, "payment-day")]
    public void CheckPayment_Bad_IsRefused(double amount, int daysAhead, string code) =>
        Assert.Equal(code, Assert.Single(Item(0).CheckPayment(new(Day.AddDays(daysAhead), (decimal)amount, "58"), Day)).Code);

    [Fact]
    public void CheckPayment_BeforeTheInvoiceAndAfterTheOrder_IsTaken()
    {
        Assert.Empty(Item(0).CheckPayment(new(Day.AddDays(-30), 5m, "58"), Day));
        Assert.Empty(Item(0).CheckPayment(new(Day.AddDays(-60), 5m, "58"), Day, Day.AddDays(-60)));
        Assert.Single(Item(0).CheckPayment(new(Day.AddDays(-61), 5m, "58"), Day, Day.AddDays(-60)));
    }

    [Theory]
    [InlineData(7, 21, null)]
    [InlineData(21, 21, "Days2")]
    [InlineData(30, 21, "Days2")]
    public void Check_StepsOfReminding_GoOutOneAfterTheOther(int first, int second, string? field)
    {
        DunningLevel[] levels = [Levels[1] with { DaysLate = second }, Levels[0] with { DaysLate = first }];
        Assert.Equal(field, Dunning.Check(levels).SingleOrDefault()?.Field);
    }

    [Fact]
    public void Gaps_OfTheRates_AreTheDaysWithoutOne()
    {
        static TaxRate Rate(string code, DateOnly from, DateOnly? to) => new(code, code, TaxKind.Standard(19m), null, from, to);
        DateOnly june = new(2026, 6, 30);
        var sound = new InvoiceSettings { Rates = [Rate("normal", june.AddDays(1), null), Rate("normal", DateOnly.MinValue, june)] };
        Assert.Empty(sound.Gaps());
        var gap = sound with { Rates = [Rate("normal", june.AddDays(4), null), Rate("normal", DateOnly.MinValue, june)] };
        Assert.Equal([new RateGap("normal", june.AddDays(1), june.AddDays(3))], gap.Gaps());
        var ends = sound with { Rates = [Rate("normal", DateOnly.MinValue, june), Rate("old", DateOnly.MinValue, june)] };
        Assert.Equal([new RateGap("normal", june.AddDays(1), null)], ends.Gaps());
    }

    [Fact]
    public void Next_Late_GoesThroughTheLevelsWithTimeToPay()
    {
        var due = Invoice.Content.DueDate!.Value;
        Assert.Null(Dunning.Next(Item(0), Levels, [], due.AddDays(6)));
        Assert.Equal(1, Dunning.Next(Item(0), Levels, [], due.AddDays(7))!.Level.Level);
        ReminderSent[] sent = [new(1, due.AddDays(15))];
        Assert.Null(Dunning.Next(Item(0), Levels, sent, due.AddDays(25)));
        var second = Dunning.Next(Item(0), Levels, sent, due.AddDays(26))!;
        // 120 × 8 % × 26 ÷ 365 = 0.6838
        Assert.Equal((2, 26, 0.68m, 125.68m), (second.Level.Level, second.DaysLate, second.Interest, second.Total));
        Assert.Null(Dunning.Next(Item(120), Levels, [], due.AddDays(60)));
        Assert.Null(Dunning.Next(Item(0), Levels, [new(2, due)], due.AddDays(60)));
    }

    /// <summary>120 with 0.68 interest and 5.00 fee: the invoice first, then interest, then the fee; the last letter says what is asked for.</summary>
    [Theory]
    [InlineData(0, 120, 125.68, 0, 0)]
    [InlineData(50, 70, 75.68, 0, 0)]
    [InlineData(120, 0, 5.68, 0, 0)]
    [InlineData(121, 0, 4.68, 0.68, 0.32)]
    [InlineData(125.68, 0, 0, 0.68, 5)]
    [InlineData(126, -0.32, 0, 0.68, 5)]
    public void Outstanding_ReminderWithFeeAndInterest_CountsMoneyForTheInvoiceFirst(
        double received,
        double outstanding,
        double asked,
        double interest,
        double fee
    )
    {
        ReminderSent[] sent = [new(1, Day.AddDays(30)) { Fee = 2m }, new(2, Day.AddDays(45)) { Fee = 5m, Interest = 0.68m }];
        var item = new OpenItem(Invoice, received == 0 ? [] : [new(Day, (decimal)received, "58")], []) { Sent = sent };
        Assert.Equal(
            ((decimal)outstanding, (decimal)asked, (decimal)interest, (decimal)fee),
            (item.Outstanding, item.Asked, item.InterestReceived, item.FeeReceived)
        );
    }

    [Fact]
    public void On_TaxChangedInMidMonth_DayOfSupplyDecides()
    {
        TaxRate old = new("normal", "Normal", TaxKind.Standard(20), null, new(2020, 1, 1), new(2026, 5, 14));
        var next = old with { Kind = TaxKind.Standard(21), ValidFrom = new(2026, 5, 15), ValidTo = null };
        Assert.Equal(20m, TaxRate.On([old, next], "normal", new(2026, 5, 14)).Value.Kind.Percent);
        Assert.Equal(21m, TaxRate.On([old, next], "normal", new(2026, 5, 15)).Value.Kind.Percent);
        Assert.Equal("no-tax-rate", TaxRate.On([old, next], "normal", new(2019, 12, 31)).Refusals[0].Code);
        Assert.Equal("tax-rate-twice", TaxRate.On([old with { ValidTo = null }, next], "normal", new(2026, 6, 1)).Refusals[0].Code);
    }

    [Theory]
    [InlineData(TaxCategory.Standard, 0, "BR-S-05")]
    [InlineData(TaxCategory.Standard, -5, "BR-S-05")]
    [InlineData(TaxCategory.Export, 5, "BR-G-05")]
    public void Check_RateThatCannotBe_IsRefused(TaxCategory category, int percent, string code) =>
        Assert.Contains(code, new TaxRate("x", "X", new(category, percent), null, Day, null).Check().Select(r => r.Code));

    [Fact]
    public void Format_Series_CountsPerYearOrForEver()
    {
        NumberSeries yearly = new("invoice", "", PerYear: true, 4);
        Assert.Equal(("2026-0007", "invoice/2026"), (yearly.Format(7, Day), yearly.CounterKey(Day)));
        Assert.Equal("C12345", new NumberSeries("credit", "C", PerYear: false, 4).Format(12345, Day));
        Assert.Equal("series-prefix", Assert.Single(new NumberSeries("x", "A B", true, 4).Check()).Code);
    }

    private static OpenItem Item(int received) => new(Invoice, received == 0 ? [] : [new(Day, received, "58")], []);
}
