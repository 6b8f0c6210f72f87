using System.Text;
using System.Xml.Linq;
using ShopFloor.Documents.EInvoice;
using ShopFloor.Domain.Invoicing;
using Xunit.Abstractions;

namespace ShopFloor.Documents.Tests.EInvoice;

public sealed class UblInvoiceTests(ITestOutputHelper output) : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-einvoice").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    /// <summary>
    /// Some hundreds of documents against the official UBL 2.1 schema and all EN 16931 rules of release 1.3.16, warnings as errors, every amount
    /// recalculated. Without the outside validator every document is still read back and its own sums compared.
    /// </summary>
    [Fact]
    public void Write_EachKindAndManyDrawn_AreValidByTheOfficialRules()
    {
        var documents = SampleInvoices.EachKind().Concat(SampleInvoices.Drawn(120, seed: 20260504)).ToList();
        foreach (var document in documents)
        {
            var xml = UblInvoice.Write(document).Value;
            File.WriteAllBytes(Path.Combine(folder, $"{document.Number}.xml"), xml);
            AssertReadsBack(document, xml);
        }
        if (OutsideValidator.Find() is not { } validator)
        {
            output.WriteLine(
                "The outside validator is absent: only well-formedness and sums were checked. Set SHOPFLOOR_EINVOICE_VALIDATOR to its validate.sh."
            );
            return;
        }
        var (exitCode, said) = validator.Run(folder, Directory.CreateDirectory(Path.Combine(folder, "classes")).FullName);
        output.WriteLine($"{documents.Count} documents, exit code {exitCode}");
        Assert.True(exitCode == 0, $"Exit code {exitCode}\n{said[..Math.Min(said.Length, 4000)]}");
    }

    [Fact]
    public void Run_DocumentWithWrongSum_IsFoundByTheOutsideValidator()
    {
        if (OutsideValidator.Find() is not { } validator)
        {
            output.WriteLine("The outside validator is absent.");
            return;
        }
        var document = SampleInvoices.EachKind().First();
        var wrong = document with { Totals = document.Totals with { Due = document.Totals.Due + 0.01m } };
        File.WriteAllBytes(Path.Combine(folder, "wrong.xml"), UblInvoice.Write(wrong).Value);
        var (exitCode, said) = validator.Run(folder, Directory.CreateDirectory(Path.Combine(folder, "classes")).FullName);
        Assert.Equal(1, exitCode);
        Assert.Contains("BR-CO-16", said, StringComparison.Ordinal);
    }

    [Fact]
    public void Write_ReceiptOrOtherTax_IsRefused()
    {
        var draft = SampleInvoices.Draft(SampleInvoices.Line(1, 1m, 10m, 20m));
        Assert.Equal(
            "no-e-invoice",
            UblInvoice.Write(SampleInvoices.Issue(draft with { Kind = DocumentKind.Receipt, Buyer = null }, "K1")).Refusals[0].Code
        );
        var gst = draft with { Settings = draft.Settings with { Scheme = TaxScheme.Gst } };
        Assert.Equal("no-e-invoice", UblInvoice.Write(SampleInvoices.Issue(gst, "G1")).Refusals[0].Code);
    }

    [Fact]
    public void Write_TextThatXmlCannotCarry_IsWrittenWithoutIt()
    {
        var line = SampleInvoices.Line(1, 1m, 10m, 20m) with { Name = "Sla\u0001te \ud83d\udd25 \ud800 end" };
        var xml = UblInvoice.Write(SampleInvoices.Issue(SampleInvoices.Draft(line), "T1")).Value;
        var name = XDocument
            .Parse(Encoding.UTF8.GetString(xml))
            .Descendants()
            .First(e => e.Name.LocalName == "Item")
            .Elements()
            .First(e => e.Name.LocalName == "Name");
        Assert.Equal("Sla te \ud83d\udd25   end", name.Value);
    }

    [Fact]
    public void Write_CultureWithComma_WritesPoints()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = new CultureInfo("de-DE");
            var xml = Encoding.UTF8.GetString(UblInvoice.Write(SampleInvoices.EachKind().First()).Value);
            Assert.Contains(">300.00<", xml, StringComparison.Ordinal);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private static void AssertReadsBack(IssuedInvoice document, byte[] xml)
    {
        var tree = XDocument.Parse(Encoding.UTF8.GetString(xml));
        decimal Sum(string name) =>
            tree.Descendants()
                .Where(e => e.Name.LocalName == name && e.Parent!.Name.LocalName.EndsWith("Line", StringComparison.Ordinal))
                .Sum(e => decimal.Parse(e.Value, CultureInfo.InvariantCulture));
        Assert.Equal(document.Totals.Lines, Sum("LineExtensionAmount"));
        Assert.Equal(
            document.Totals.Due,
            decimal.Parse(tree.Descendants().Single(e => e.Name.LocalName == "PayableAmount").Value, CultureInfo.InvariantCulture)
        );
        Assert.Equal(
            document.Content.Lines.Count,
            tree.Root!.Elements().Count(e => e.Name.LocalName.EndsWith("Line", StringComparison.Ordinal))
        );
    }
}
