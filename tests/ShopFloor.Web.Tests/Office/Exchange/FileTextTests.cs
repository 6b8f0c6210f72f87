using System.Text;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Web.Office.Exchange;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Exchange;

/// <summary>A file is read as it was written, and the page says how it was read.</summary>
public sealed class FileTextTests
{
    private const string File = "external_id,name,email,country,city\nc1,Jürgen Groß,ida@example.org,DE,Köln\n";

    [Theory]
    [InlineData("utf-8", "UTF-8")]
    [InlineData("utf-16", "UTF-16")]
    [InlineData("windows-1252", FileText.Western)]
    public void Of_BytesOfAnEncoding_GiveTheTextAndSayHow(string name, string readAs)
    {
        var encoding = name == "windows-1252" ? CodePagesEncodingProvider.Instance.GetEncoding(1252)! : Encoding.GetEncoding(name);
        var read = FileText.Of([.. encoding.Preamble, .. encoding.GetBytes(File)]);
        Assert.Equal((File, readAs), (read.Text, read.ReadAs));
    }

    [Fact]
    public void Of_Utf8WithoutAMark_IsUtf8() => Assert.Equal(new FileText(File, "UTF-8"), FileText.Of(Encoding.UTF8.GetBytes(File)));

    [Fact]
    public async Task Check_FileOfAnOlderSpreadsheet_KeepsItsNamesAndSaysHowItWasRead()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var files = shop.Shop.Get<CheckedImport>();
        var asked = shop.Asked();
        using var body = new MemoryStream(CodePagesEncodingProvider.Instance.GetEncoding(1252)!.GetBytes(File));

        var found = await files.CheckAsync(
            asked.Worker!.Value,
            ImportKind.Customers,
            new FormFile(body, 0, body.Length, "File", "customers.csv")
        );

        Assert.Equal(FileText.Western, found.Value.File!.ReadAs);
        Assert.Equal(["Jürgen", "Groß", "Köln"], found.Value.File.Samples);
        Assert.True((await files.TakeAsync(asked, ImportKind.Customers, found.Value.Mark, false)).IsOk);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal("Jürgen Groß", (await context.Customers.SingleAsync(c => c.ExternalId == "c1")).Contact.Name);
    }
}
