using System.Text;
using ShopFloor.Data;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Shared.Uploads;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Office.Invoices;
using ShopFloor.Web.Tests.Support;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The workshop's logo: what is taken, where it stands, that it stays and goes.</summary>
public sealed class LogoTests
{
    private const double PointsPerMm = 72 / 25.4;

    [Theory]
    [InlineData("A4", 620, 200)]
    [InlineData("Letter", 300, 300)]
    public async Task Quote_WithALogo_CarriesItsPixelsInTheBoxOfTheHead(string paper, int width, int height)
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var profile = (await shop.Get<SettingsView>().LoadAsync()).Profile with { Name = "Moorlight", Country = "DE", LettersOn = paper };
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile)).IsOk);
        Assert.True((await SendAsync(shop, owner, Png(width, height))).IsOk);

        var pdf = (await shop.Get<OrderLetterView>().MakeAsync(await NumberAsync(shop), OrderLetterKind.Quote, ""))!;

        Assert.Matches($@"image\s+{width}\s+{height}\s", Poppler.Images(pdf));
        using var read = UglyToad.PdfPig.PdfDocument.Open(pdf);
        var box = read.GetPage(1).GetImages().First().BoundingBox;
        Assert.True(box.Width <= 62 * PointsPerMm + 0.1 && box.Height <= 20 * PointsPerMm + 0.1, $"{box.Width} × {box.Height} pt");
        Assert.Equal((double)width / height, box.Width / box.Height, 0.01);
        Assert.InRange(box.Left, 20 * PointsPerMm, read.GetPage(1).Width / 2);
    }

    [Fact]
    public async Task Invoice_WithALogo_IsKeptWithItAndStaysAsIssuedWhenItGoes()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        var kept = (await shop.Shop.Get<InvoiceView>().PaperAsync(issued.Id, xml: false, default))!.Value.Bytes;
        Assert.Matches(@"image\s+900\s+400\s", Poppler.Images(kept));

        Assert.True((await shop.Shop.Get<RemoveLogo>().RunAsync(shop.Asked())).IsOk);

        Assert.Equal(kept, (await shop.Shop.Get<InvoiceView>().PaperAsync(issued.Id, xml: false, default))!.Value.Bytes);
        Assert.Equal("no-logo", (await shop.Shop.Get<RemoveLogo>().RunAsync(shop.Asked())).Refusals[0].Code);
        var note = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new(issued.Id, null, "Taken back"));
        var after = (await shop.Shop.Get<InvoiceView>().PaperAsync(note.Value.Id, xml: false, default))!.Value.Bytes;
        Assert.DoesNotMatch(@"image\s+\d", Poppler.Images(after));
        Assert.Contains("Moorlight Workshop", Poppler.Words(after), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("text", "picture-kind")]
    [InlineData("bytes", "logo-bytes")]
    [InlineData("pixels", "logo-pixels")]
    [InlineData("half", "picture-broken")]
    public async Task Keep_ABadFile_IsRefusedBesideTheFieldAndTheOldLogoStays(string what, string code)
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var first = (await SendAsync(shop, owner, Png(40, 20))).Value;

        var refused = await SendAsync(shop, owner, Bad(what));

        Assert.Equal((code, KeepLogo.Field), (refused.Refusals[0].Code, refused.Refusals[0].Field));
        Assert.Equal(first, (await shop.Get<SettingsView>().LoadAsync()).Logo.Picture);
        Assert.Equal(2, Directory.GetFiles(Path.Combine(shop.Folder, "pictures")).Length);
    }

    [Fact]
    public async Task Keep_LargerThanPaperNeeds_IsPrintedSmallerAndWhatCameIsNotKept()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var sent = Png(3000, 1000);
        var id = (await SendAsync(shop, owner, sent)).Value;
        var folder = shop.Get<PictureFolder>();
        using var onPaper = SKBitmap.Decode(folder.Clean(id));
        Assert.Equal((1500, 500), (onPaper.Width, onPaper.Height));
        var files = Directory.GetFiles(Path.Combine(shop.Folder, "pictures")).Select(Path.GetExtension).Order(StringComparer.Ordinal);
        Assert.Equal([".clean", ".screen"], files);
    }

    [Fact]
    public async Task Keep_Another_TakesTheFirstAwayAndBackupAndClearingKeepIt()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var first = (await SendAsync(shop, owner, Png(40, 20))).Value;
        var second = (await SendAsync(shop, owner, Png(60, 20))).Value;
        Assert.False(shop.Get<PictureFolder>().Has(first));

        shop.Clock.Advance(TimeSpan.FromDays(3650));
        _ = await shop.Get<ClearOldData>().RunAsync();
        var settings = new HostSettings { DataFolder = shop.Folder };
        var backup = new KeepBackup(settings, shop.Clock, Microsoft.Extensions.Logging.Abstractions.NullLogger<KeepBackup>.Instance);
        backup.RunNow();

        Assert.True(shop.Get<PictureFolder>().Has(second));
        Assert.True(File.Exists(Path.Combine(backup.Folder, "pictures", $"{second.Value:N}.clean")));
        await using var context = await shop.ContextAsync();
        Assert.Equal(second, Assert.Single(context.Pictures.ToList()).Id);
    }

    [Fact]
    public async Task Keep_WhenTheSaveFails_LeavesTheFilesOfTheFirst()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var first = (await SendAsync(shop, owner, Png(40, 20))).Value;
        await shop.IgnoreAsync("DELETE ON Pictures");

        Assert.Equal("changed-meanwhile", (await SendAsync(shop, owner, Png(60, 20))).Refusals[0].Code);

        Assert.True(shop.Get<PictureFolder>().Has(first));
        Assert.Equal(2, Directory.GetFiles(Path.Combine(shop.Folder, "pictures")).Length);
    }

    [Fact]
    public async Task Keep_NotTheOwner_IsRefusedAndLeavesNoFile()
    {
        await using var shop = await TestShop.EmptyAsync();
        Assert.False((await SendAsync(shop, await shop.WorkerAsync(WorkerRole.Bench), Png(40, 20))).IsOk);
        Assert.Empty(Directory.GetFiles(Path.Combine(shop.Folder, "pictures")));
    }

    private static async Task<Result<PictureId>> SendAsync(TestShop shop, Guid worker, byte[] file)
    {
        var id = Guid.CreateVersion7();
        Assert.True((await shop.Get<IncomingFiles>().TakeAsync(id, new MemoryStream(file), default)).IsOk);
        return await shop.Get<KeepLogo>().RunAsync(Asked.By(worker), new SentFile(id, "logo.png"));
    }

    private static async Task<int> NumberAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        return context.Orders.Single().Number;
    }

    private static byte[] Bad(string what) =>
        what switch
        {
            "bytes" => [.. Png(40, 20), .. new byte[2_000_000]],
            "pixels" => Png(5000, 4000),
            "half" => Png(400, 200)[..300],
            _ => Encoding.UTF8.GetBytes("<svg xmlns='http://www.w3.org/2000/svg'/>"),
        };

    private static byte[] Png(int width, int height)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        bitmap.Erase(new SKColor(0xFF1F4D4A));
        for (var x = 0; x < width; x++)
            bitmap.SetPixel(x, x * height / width, SKColors.White);
        using var png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return png.ToArray();
    }
}
