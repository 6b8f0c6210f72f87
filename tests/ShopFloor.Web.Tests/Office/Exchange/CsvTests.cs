using CsCheck;
using CsvHelper;
using ShopFloor.Web.Office.Exchange;

namespace ShopFloor.Web.Tests.Office.Exchange;

/// <summary>CSV that opens without running anything and comes back as it was.</summary>
public sealed class CsvTests
{
    private static readonly Gen<string> Texts = Gen.String[Gen.Char["=+-@'\t\r\nab,;\"| ü€"], 0, 12];

    // Characters that begin a formula: CWE-1236 and the OWASP page on CSV injection.
    [Fact]
    public void Safe_AnyText_BeginsNoFormulaAndComesBack() =>
        Texts.Sample(text =>
        {
            var cell = CsvText.Safe(text);
            return !(cell is [('=' or '+' or '-' or '@' or '\t' or '\r'), ..]) && CsvText.Plain(cell) == text;
        });

    [Fact]
    public void Write_AnyTexts_AreReadBackByTheLibrary() =>
        Texts
            .Array[3]
            .Array[1, 5]
            .Sample(rows =>
            {
                var text = CsvText.Write(["a", "b", "c"], rows);
                using var csv = CsvReader.FromText(text, new CsvReaderOptions { HasHeader = false });
                List<string[]> read = [];
                while (csv.Read())
                    read.Add([.. Enumerable.Range(0, csv.FieldCount).Select(i => CsvText.Plain(csv.GetString(i)))]);
                return read.Count == rows.Length + 1 && read.Skip(1).Zip(rows).All(p => p.First.SequenceEqual(p.Second));
            });

    [Fact]
    public void Write_NumbersAndDays_StayWhatTheyAre()
    {
        var text = CsvText.Write(
            ["n", "d", "y"],
            [
                [-1234.5m, new DateOnly(2026, 5, 4), true],
            ]
        );
        Assert.Equal("n,d,y\r\n-1234.5,2026-05-04,yes\r\n", text);
    }

    [Theory]
    [InlineData("", "file-empty")]
    [InlineData("name\r\n", "column-missing")]
    [InlineData("external_id,name,shoe_size\r\n", "column-unknown")]
    [InlineData("external_id,name,name\r\n", "column-twice")]
    [InlineData("external_id,name\r\n", "file-empty")]
    public void Read_BadHeading_IsRefusedWithTheColumn(string text, string code) =>
        Assert.Contains(CsvSheet.Read(text, ImportRows.Columns(ImportKind.Customers)).Refusals, r => r.Code == code);

    [Theory]
    [InlineData("external_id;name\nc1;Ida", "Ida")]
    [InlineData("\uFEFFexternal_id\tname\r\nc1\tIda\r\n\r\n", "Ida")]
    [InlineData("Name, External_Id\n\"Sandberg, Ida\",c1", "Sandberg, Ida")]
    public void Read_SeparatorsAndMarks_AreFound(string text, string name)
    {
        var row = Assert.Single(CsvSheet.Read(text, ImportRows.Columns(ImportKind.Customers)).Value);
        Assert.Equal(("c1", name, 2), (row.Cells["external_id"], row.Cells["name"], row.Number));
    }
}
