using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;
using UglyToad.PdfPig;

namespace ShopFloor.Web.Tests.Documents;

/// <summary>A printer's papers and its true size, from the owner's form to the sheets.</summary>
public sealed class PrinterTests
{
    private const string Host = "http://shop.example/";

    [Fact]
    public async Task Measured_ArrowsTooShort_StretchEverySheetFromThenOnAndAreWrittenDown()
    {
        await using var bench = await BenchShop.OpenAsync(1, texts: ["Ada"]);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var before = (await shop.Get<CalibrationView>().LoadAsync("printer-1"))!;
        var should = before.Papers.Single(p => p.Name == "A4");
        var form = new CalibrationForm
        {
            Paper = "A4",
            Across = "179,4",
            Along = "250.5",
        };

        Assert.True((await shop.Get<CalibratePrinter>().RunAsync(Asked.By(owner), form.Read(before).Value)).IsOk);

        var after = (await shop.Get<CalibrationView>().LoadAsync("printer-1"))!;
        Assert.Equal((180, 250), (should.AcrossMm, should.AlongMm));
        Assert.Equal(180 / 179.4, (double)after.ScaleX, 0.00001);
        Assert.Equal(250 / 250.5, (double)after.ScaleY, 0.00001);
        Assert.NotNull(after.Last);
        Assert.Equal(BarPoints * 180 / 179.4, await BarAsync(shop), 0.1);
        await using var context = await shop.ContextAsync();
        Assert.Equal(owner.ToString(), (await context.Audit.SingleAsync(a => a.What == CalibratePrinter.What)).By);
    }

    [Theory]
    [InlineData("150", "250", "measure-far-off", "across")]
    [InlineData("180", "0", "measure-missing", "along")]
    public async Task Measured_Impossible_IsRefusedAtItsField(string across, string along, string code, string field)
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        var printer = (await bench.Shop.Get<CalibrationView>().LoadAsync("printer-1"))!;
        var form = new CalibrationForm
        {
            Paper = "A4",
            Across = across,
            Along = along,
        };

        var done = await bench.Shop.Get<CalibratePrinter>().RunAsync(Asked.By(owner), form.Read(printer).Value);

        Assert.Equal((code, field), (Assert.Single(done.Refusals).Code, done.Refusals[0].Field));
        Assert.Equal(
            ["across", "along"],
            new CalibrationForm { Across = "wide" }
                .Read(printer)
                .Refusals.Select(r => r.Field)
        );
    }

    [Fact]
    public async Task Papers_OwnSizesAndARollTyped_AreWhatSheetsAreLaidOn()
    {
        await using var bench = await BenchShop.OpenAsync(3, texts: ["Ada"]);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var form = new StationForm((await shop.Get<StationListView>().LoadAsync()).Single(s => s.Code == "printer-1"));
        form.Numbers["rimLeft"] = "12";
        form.Printer!.Add(PrinterForm.Roll);
        var roll = form.Printer.Papers[^1];
        (roll.Name, roll.Width, roll.Length) = ("roll 300", "300", "long");
        Assert.Equal("paper-3-length", Assert.Single(form.Read(shop.Clock.GetUtcNow()).Refusals).Field);
        roll.Length = "900,5";
        form.Printer.Add("B4");

        Assert.True((await shop.Get<ChangeStation>().RunAsync(Asked.By(owner), form.Read(shop.Clock.GetUtcNow()).Value)).IsOk);

        var number = await NumberAsync(shop);
        var made = (await shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Sheets, number, "roll 300"), Host)).Value;
        using var pdf = PdfDocument.Open(made.Paper.ToBytes());
        Assert.Equal(300 * 72 / 25.4, pdf.GetPage(1).Width, 0.1);
        Assert.InRange(pdf.GetPage(1).Height, 80, 900 * 72 / 25.4);
        Assert.Equal(
            ("roll 300", (decimal)Math.Round(pdf.GetPage(1).Height / 72 * 0.0254, 3)),
            (made.Transfers[0].Size, made.Transfers[0].Count)
        );
        Assert.True(pdf.GetPage(1).Letters.Min(l => l.BoundingBox.Left) > 12 * 72 / 25.4);
        // Sheets come before rolls where nobody chose.
        var best = (await shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Sheets, number), Host)).Value;
        Assert.Equal("A4", Assert.Single(best.Transfers).Size);
        var none = await shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Sheets, number, "A9"), Host);
        Assert.Equal("paper-unknown", Assert.Single(none.Refusals).Code);
    }

    [Fact]
    public async Task Papers_OnlyAnotherOnTheStockList_IsTakenUnlessSomebodyChooses()
    {
        await using var bench = await BenchShop.OpenAsync(3, texts: ["Ada"]);
        var shop = bench.Shop;
        await using (var context = await shop.ContextAsync())
        {
            context.StockItems.RemoveRange(context.StockItems.Where(i => i.Kind == StockItem.Paper));
            context.StockItems.Add(new StockItem("paper-a3", "Large", StockItem.Paper, "sheets", 20, 5, 1) { PaperSize = "A3" });
            await context.SaveChangesAsync();
        }
        var number = await NumberAsync(shop);

        var best = (await shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Sheets, number), Host)).Value;
        var chosen = (await shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Sheets, number, "A4"), Host)).Value;

        Assert.Equal("A3", Assert.Single(best.Transfers).Size);
        Assert.Equal("A4", Assert.Single(chosen.Transfers).Size);
    }

    [Fact]
    public void Faults_PapersTwiceNamelessOrTooSmall_AreNamedAtTheirFields()
    {
        var a4 = PrinterPapers.Iso("A4");
        var small = new PrinterPaper(" ", Length.FromMillimetres(10), Length.FromMillimetres(4901), IsRoll: true);
        var settings = new PrinterSettings("A4", false, 1, 1)
        {
            Papers = [a4, a4 with { Name = "a4" }, small],
            Rim = PrinterRim.All(Length.FromMillimetres(51)),
        };
        Assert.Equal(
            ["rimLeft", "rimTop", "rimRight", "rimBottom", "paper-1-name", "paper-2-name", "paper-2-width", "paper-2-length"],
            settings.Faults().Select(f => f.Field)
        );
    }

    /// <summary>The check bar in the foot of a sheet is 50 mm.</summary>
    private const double BarPoints = 50 * 72 / 25.4;

    private static async Task<double> BarAsync(TestShop shop)
    {
        var made = await shop.Get<PaperView>().MakeAsync(new PaperWish(PaperKind.Sheets, await NumberAsync(shop)), Host);
        using var pdf = PdfDocument.Open(made.Value.Paper.ToBytes());
        var lines = pdf.GetPage(1).Paths.Select(p => p.GetBoundingRectangle()).Where(b => b is { Width: > 100, Height: < 1 });
        return lines.Min(b => b!.Value.Width);
    }

    private static async Task<string> NumberAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        return (await context.Orders.Select(o => o.Number).MaxAsync()).ToString(CultureInfo.InvariantCulture);
    }
}
