using System.Text;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Invoices;

public sealed class BankImportTests
{
    [Fact]
    public void Read_TenThousandRowsOfWhichSeventeenAreBad_TellsEachWithItsLine()
    {
        var text = new StringBuilder("Date;Text;Amount\n");
        for (var row = 2; row <= 10_001; row++)
            text.Append(
                CultureInfo.InvariantCulture,
                $"{(row % 588 == 0 ? "31.02.2026" : "04.03.2026")};invoice 2026-{row:0000};1.234,{row % 100:00}\n"
            );
        var file = BankLines.Read(text.ToString()).Value;
        Assert.Equal((9_983, 17), (file.Lines.Count, file.Bad.Count));
        Assert.Equal(Enumerable.Range(1, 17).Select(i => i * 588), file.Bad.Select(b => b.Row));
        Assert.Contains("31.02.2026", file.Bad[0].Reason, StringComparison.Ordinal);
        Assert.Equal((2, 1234.02m, new DateOnly(2026, 3, 4)), (file.Lines[0].Row, file.Lines[0].Amount, file.Lines[0].Day));
    }

    [Theory]
    [InlineData("", "bank-empty")]
    [InlineData("who,what\nA,B\n", "bank-heading")]
    public void Read_NoSuchList_IsRefused(string text, string code) => Assert.Equal(code, BankLines.Read(text).Refusals[0].Code);

    [Fact]
    public void Read_QuotesCommasAndMinus_AreUnderstood()
    {
        var file = BankLines
            .Read("\uFEFFamount,date,text\n\"1,234.50\",2026-03-01,\"Fenn, Orla; \"\"slate\"\"\"\n-3,2026-03-02,fee\n0,2026-03-02,nil\n")
            .Value;
        Assert.Equal([1234.50m, -3m], file.Lines.Select(l => l.Amount));
        Assert.Equal("Fenn, Orla; \"slate\"", file.Lines[0].Text);
        Assert.Single(file.Bad);
    }

    /// <summary>Some banks write no sign but S and H beside the amount: what went out is not what came in.</summary>
    [Theory]
    [InlineData("50,00;S", -50)]
    [InlineData("50,00;H", 50)]
    [InlineData("-50,00;S", -50)]
    [InlineData("50,00;Soll", -50)]
    public void Read_AmountWithoutASign_IsTurnedByItsLetter(string amount, int read) =>
        Assert.Equal(read, BankLines.Read($"Datum;Name;Umsatz;\n04.03.2026;Ida Sandberg;{amount}\n").Value.Lines.Single().Amount);

    /// <summary>As German banks write their lists, with words about the account before the heading.</summary>
    [Theory]
    [InlineData("\"Buchungstag\";\"Valuta\";\"Auftraggeber/Empfänger\";\"Verwendungszweck\";\"Betrag (EUR)\"")]
    [InlineData("Buchungsdatum;Wertstellung;Name;Verwendungszweck;Umsatz")]
    [InlineData("Umsätze des Kontos DE00;;\n\nZeitraum;01.03.2026 - 31.03.2026\nDatum;Valutadatum;Name;Zweck;Betrag in EUR")]
    public void Read_GermanBank_IsUnderstood(string heading)
    {
        var file = BankLines
            .Read($"\uFEFF{heading}\r\n04.03.2026;05.03.2026;Ida Sandberg;Rechnung 2026-0001;1.234,50\r\n06.03.26;;x;y;z\r\n")
            .Value;
        var line = Assert.Single(file.Lines);
        Assert.Equal(
            (new DateOnly(2026, 3, 4), 1234.50m, "05.03.2026 Ida Sandberg Rechnung 2026-0001"),
            (line.Day, line.Amount, line.Text)
        );
        var row = heading.Count(c => c == '\n') + 2;
        Assert.Equal((row, row + 1), (line.Row, Assert.Single(file.Bad).Row));
    }

    [Fact]
    public void Read_LongTextCutAtASpace_IsAsItIsKept()
    {
        var long1 = new string('x', 499) + " and more";
        Assert.Equal(new string('x', 499), BankLines.Read($"date,amount,text\n2026-03-01,5,{long1}\n").Value.Lines[0].Text);
    }

    [Fact]
    public async Task RunAsync_ListWithEverySort_EntersWhatIsSureAndTheSameFileTwiceOnlyOnce()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        var open = (await shop.DetailAsync(issued.Number)).Outstanding;
        string Cents(decimal amount) => amount.ToString("0.00", CultureInfo.InvariantCulture);
        var text =
            $"date,amount,text\n2026-03-03,1.00,{issued.Number} first part\n2026-03-04,{Cents(open - 1m)},Order {issued.Number}\n2026-03-04,9.99,{issued.Number}9 other\n"
            + $"2026-03-04,-4.00,fee\n2027-01-01,2.00,{issued.Number}\n2026-03-04,5.00,hello\n";
        var file = BankLines.Read(text).Value;
        var preview = await shop.Shop.Get<BankPreview>().LoadAsync(file);
        Assert.Equal(
            [BankFit.Part, BankFit.Exact, BankFit.ByHand, BankFit.Outgoing, BankFit.Future, BankFit.ByHand],
            preview.Matches.Select(m => m.Fit)
        );
        Assert.Equal(open, (await shop.DetailAsync(issued.Number)).Outstanding);

        var import = shop.Shop.Get<ImportBankLines>();
        Assert.Equal(2, (await import.RunAsync(shop.Asked(), file)).Value.Matches.Count(m => m.IsEntered));
        Assert.Equal(0m, (await shop.DetailAsync(issued.Number)).Outstanding);
        Assert.DoesNotContain((await import.RunAsync(shop.Asked(), file)).Value.Matches, m => m.IsEntered);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(2, await context.Payments.CountAsync());
    }

    /// <summary>One payment for two invoices pays both; what comes after it is told why it pays nothing, and the file again enters nothing.</summary>
    [Fact]
    public async Task RunAsync_OnePaymentForTwoInvoices_PaysBothOnce()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var first = await shop.InvoiceAsync(await shop.OrderAsync());
        var second = await shop.InvoiceAsync(await shop.OrderAsync());
        var (one, two) = ((await shop.DetailAsync(first.Number)).Outstanding, (await shop.DetailAsync(second.Number)).Outstanding);
        string Cents(decimal amount) => amount.ToString("0.00", CultureInfo.InvariantCulture);
        var both = $"{first.Number} and {second.Number}";
        var text =
            $"date,amount,text\n2026-03-04,{Cents(one + two - 1m)},{both}\n2026-03-04,{Cents(one + two)},{both}\n2026-03-04,{Cents(one)},{first.Number}\n"
            + $"2025-03-04,3.00,{first.Number}\n2026-03-04,3.00,hello\n";
        var file = BankLines.Read(text).Value;
        var import = shop.Shop.Get<ImportBankLines>();
        var done = (await import.RunAsync(shop.Asked(), file)).Value.Matches;
        Assert.Equal([BankFit.Several, BankFit.Exact, BankFit.Paid, BankFit.Early, BankFit.ByHand], done.Select(m => m.Fit));
        Assert.Equal([one, two], done[1].Parts.Select(p => p.Amount));
        Assert.Equal(first.Number, done[2].Number);
        Assert.Equal(0m, (await shop.DetailAsync(first.Number)).Outstanding);
        Assert.Equal(0m, (await shop.DetailAsync(second.Number)).Outstanding);
        var again = (await import.RunAsync(shop.Asked(), file)).Value.Matches;
        Assert.Equal(BankFit.Known, again[1].Fit);
        Assert.DoesNotContain(again, m => m.IsEntered);
    }

    /// <summary>Of what no line names nothing but its number is read, however many lines there are.</summary>
    [Fact]
    public async Task LoadAsync_ManyLines_ReadWhatIsLeftOnlyOfTheInvoicesThatTheyName()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var named = await shop.InvoiceAsync(await shop.OrderAsync());
        await shop.InvoiceAsync(await shop.OrderAsync());
        async Task<int> AskedAsync(int lines)
        {
            var text = string.Concat(Enumerable.Range(1, lines).Select(n => $"2026-03-04,{n}.00,{named.Number}\n"));
            shop.Shop.Reads.Clear();
            var found = await shop.Shop.Get<BankPreview>().LoadAsync(BankLines.Read("date,amount,text\n" + text).Value);
            Assert.Equal(lines, found.Matches.Count);
            Assert.Equal(1, shop.Shop.Reads.Rows("FROM \"Documents\"", "\"Total\""));
            return shop.Shop.Reads.Asked("FROM");
        }
        Assert.Equal(await AskedAsync(1), await AskedAsync(200));
    }

    [Fact]
    public async Task LoadAsync_MoreThanIsOpen_IsEnteredButDoesNotFit()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        var open = (await shop.DetailAsync(issued.Number)).Outstanding;
        var sum = (open + 1m).ToString("0.00", CultureInfo.InvariantCulture);
        var file = BankLines.Read($"date,amount,text\n2026-03-04,{sum},{issued.Number}\n").Value;
        var match = (await shop.Shop.Get<BankPreview>().LoadAsync(file)).Matches[0];
        Assert.Equal((BankFit.Over, true, false), (match.Fit, match.IsEntered, match.Fits));
    }

    [Theory]
    [InlineData("thank you 2026-0004", "2026-0004")]
    [InlineData("R2026-0001", "2026-0004")]
    [InlineData("your letter R 2026-0001", "2026-0004")]
    [InlineData("D 2026-0004", "D2026-0004")]
    [InlineData("d2026-0004,2026-0004", "2026-0004 D2026-0004")]
    [InlineData("X 2026-0004", "2026-0004")]
    [InlineData("C 2026-0004", "")]
    [InlineData("2026-00041", "")]
    [InlineData("Rechnung 2026 0004", "2026-0004")]
    [InlineData("D 2026 0004", "D2026-0004")]
    [InlineData("D2026 0004", "D2026-0004")]
    [InlineData("C2026 0004", "")]
    public void In_WordsOfAPayer_FindsInvoicesByTheirNumbersAndTheirReminders(string text, string found)
    {
        var ids = new[] { "2026-0004", "D2026-0004" }.ToDictionary(n => n, _ => Guid.NewGuid());
        var numbers = new BankNumbers(
            [.. ids.Select(i => (i.Key, i.Value)), ("R2026-0001", ids["2026-0004"])],
            [.. ids.Keys, "R2026-0001", "C2026-0004"]
        );
        var named = numbers.In(text);
        Assert.Equal(found, string.Join(' ', ids.Where(i => named.Contains(i.Value)).Select(i => i.Key)));
    }

    /// <summary>The list that was checked is entered without being sent again, once, and by whoever had it checked.</summary>
    [Fact]
    public async Task Checked_ThenEntered_IsTheListOfTheCheck()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        var lists = shop.Shop.Get<CheckedBankList>();
        var asked = shop.Asked();
        var bytes = Encoding.UTF8.GetBytes($"date,amount,text\n2026-03-03,1.00,{issued.Number} Zoë\n2026-03-04,5.00,hello\n");
        using var body = new MemoryStream(bytes);
        var found = await lists.CheckAsync(asked.Worker!.Value, new FormFile(body, 0, bytes.Length, "File", "bank.csv"));
        Assert.Equal(1, found.Value.Report.Matches.Count(m => m.IsEntered));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(0, await context.Payments.CountAsync());
        Assert.Equal(
            "file-gone",
            (await lists.TakeAsync(ShopFloor.Web.Commands.Asked.By(Guid.NewGuid()), found.Value.Mark)).Refusals[0].Code
        );
        Assert.Equal(1, (await lists.TakeAsync(asked, found.Value.Mark)).Value.Matches.Count(m => m.IsEntered));
        Assert.Equal("file-gone", (await lists.TakeAsync(shop.Asked(), found.Value.Mark)).Refusals[0].Code);
        Assert.Equal(1, await context.Payments.CountAsync());
        Assert.Equal("file", (await lists.CheckAsync(asked.Worker!.Value, null)).Refusals[0].Code);
    }
}
