using ShopFloor.Web.Office.Exchange;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Tests.Office.Exchange;

/// <summary>An amount that one reads as thousands and another as a fraction is asked about, not guessed.</summary>
public sealed class AmountTests
{
    [Theory]
    [InlineData("1.250", "Write 1250 or 1.25.")]
    [InlineData("1,250", "Write 1250 or 1.25.")]
    [InlineData("-12.500", "Write -12500 or -12.50.")]
    [InlineData(" 1 .255", "Write 1255 or 1.2550.")]
    public void Money_ThreeDigitsAfterASingleMark_IsRefusedAndSaysBothWays(string typed, string says)
    {
        var read = NumberText.Money(typed, "Amount");
        Assert.Equal(("amount-ambiguous", "Amount"), (read.Refusals[0].Code, read.Refusals[0].Field));
        Assert.EndsWith(says, read.Refusals[0].Text, StringComparison.Ordinal);
        Assert.Equal("amount-ambiguous", PaymentEntry.Read(typed, "2026-03-04").Refusals[0].Code);
    }

    [Theory]
    [InlineData("1250", 1250)]
    [InlineData("1.25", 1.25)]
    [InlineData("1.2500", 1.25)]
    [InlineData("0.125", 0.125)]
    [InlineData("1250.125", 1250.125)]
    [InlineData("1.250,00", 1250)]
    [InlineData("1,250.50", 1250.5)]
    [InlineData("1.250.000", 1250000)]
    [InlineData("-12.50", -12.5)]
    public void Money_WhatHasOneMeaning_IsRead(string typed, double amount) => Assert.Equal((decimal)amount, NumberText.Money(typed).Value);

    [Theory]
    [InlineData("1,2.3")]
    [InlineData("1.2,3")]
    [InlineData("1.2.3")]
    [InlineData("1,2345.6")]
    [InlineData("1.250,000.5")]
    [InlineData("1234.567.890")]
    [InlineData(",250.5")]
    public void Read_GroupsThatHaveNotThreeDigits_AreNoNumber(string typed) =>
        Assert.Equal("number-unread", NumberText.Read(typed).Refusals[0].Code);

    [Theory]
    [InlineData("2,450", "Write 2450 or 2.45.")]
    [InlineData("2.000", "Write 2000 or 2.")]
    [InlineData("12,125", "Write 12125 or 12.1250.")]
    public void Clear_WhatIsCountedWithThreeDigitsAfterASingleMark_IsRefusedAndSaysBothWays(string typed, string says)
    {
        var read = NumberText.Clear(typed, "amount");
        Assert.Equal(("number-ambiguous", "amount"), (read.Refusals[0].Code, read.Refusals[0].Field));
        Assert.EndsWith(says, read.Refusals[0].Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("2450", 2450)]
    [InlineData("2.45", 2.45)]
    [InlineData("0.125", 0.125)]
    [InlineData("2,450,000", 2450000)]
    [InlineData("2,450.5", 2450.5)]
    public void Clear_WhatHasOneMeaning_IsRead(string typed, double number) => Assert.Equal((decimal)number, NumberText.Clear(typed).Value);

    private sealed record Some(decimal Days, decimal Factor);

    /// <summary>A factor may have three decimals, and what stands in a field as it was offered is not asked about.</summary>
    [Fact]
    public void Entries_OfACountAndAFactor_AskOnlyAboutTheCountThatWasTyped()
    {
        NumberOf<Some>[] fields =
        [
            new("days", "Days", "", s => s.Days, (s, v) => s with { Days = v!.Value }, IsCount: true),
            new("factor", "Factor", "", s => s.Factor, (s, v) => s with { Factor = v!.Value }),
        ];
        var entries = new NumberEntries<Some>(fields, new Some(1.125m, 1)) { ["factor"] = "1.002" };
        Assert.Equal(new Some(1.125m, 1.002m), entries.Read().Value);
        entries["days"] = "1.440";
        Assert.Equal(("number-ambiguous", "days"), (entries.Read().Refusals[0].Code, entries.Read().Refusals[0].Field));
    }

    [Fact]
    public void BankLine_ThatCanBeTwoAmounts_IsToldAndNotRead()
    {
        var file = BankLines.Read("date;amount;text\n2026-03-04;1.250;D2026-0001\n2026-03-04;1.250,00;D2026-0002\n").Value;
        Assert.Equal(1250m, Assert.Single(file.Lines).Amount);
        Assert.Equal(2, Assert.Single(file.Bad).Row);
    }

    [Theory]
    [InlineData("12.125", "12.1250")]
    [InlineData("12.500", "12.5000")]
    [InlineData("1250.00", "1250.00")]
    [InlineData("0.0125", "0.0125")]
    public void Amount_InAFile_NeverHasThreeDecimals(string amount, string written)
    {
        var value = decimal.Parse(amount, CultureInfo.InvariantCulture);
        Assert.Equal(written, CsvText.Amount(value));
        Assert.Equal(value, NumberText.Money(written).Value);
    }
}
