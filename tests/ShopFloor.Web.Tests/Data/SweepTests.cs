using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Shared.Uploads;
using ShopFloor.Web.Tests.Support;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Data;

/// <summary>What an upload or an erasure that was broken off left in the folder of pictures goes; nothing else does.</summary>
public sealed class SweepTests
{
    [Fact]
    public async Task Sweep_UploadEndedBeforeItWasSaved_TakesItsFilesAfterADay()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        shop.CommitFails = new InvalidOperationException("the program was ended");
        await Assert.ThrowsAsync<InvalidOperationException>(() => SendLogoAsync(shop, owner));
        shop.CommitFails = null;
        Assert.NotEmpty(Files(shop));

        Assert.Equal((0, 0), await SweepAsync(shop, hours: 23));
        Assert.NotEmpty(Files(shop));
        Assert.Equal((1, 0), await SweepAsync(shop, hours: 25));
        Assert.Empty(Files(shop));
    }

    [Fact]
    public async Task Sweep_ErasureEndedBeforeItsFilesWent_TakesThem()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var logo = (await SendLogoAsync(shop, owner)).Value;
        // A folder cannot be deleted as a file: the row goes and the files stay, as when the program ends in between.
        var inTheWay = Directory.CreateDirectory(Path.Combine(shop.Folder, "pictures", $"{logo.Value:N}.original.part")).FullName;
        await Assert.ThrowsAsync<UnauthorizedAccessException>(() => shop.Get<RemoveLogo>().RunAsync(Asked.By(owner)));
        Directory.Delete(inTheWay);
        await using var context = await shop.ContextAsync();
        Assert.Equal(0, await context.Pictures.CountAsync());
        Assert.NotEmpty(Files(shop));

        Assert.Equal((1, 0), await SweepAsync(shop, hours: 25));
        Assert.Empty(Files(shop));
    }

    /// <summary>What the database names stays, and so does what only a later database knew: an older backup may lie in its place.</summary>
    [Fact]
    public async Task Sweep_PictureThatIsNamedOrOnlyUnknown_StaysAndHalvesAndOriginalsGo()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var logo = (await SendLogoAsync(shop, owner)).Value;
        var folder = Path.Combine(shop.Folder, "pictures");
        var unknown = Path.Combine(folder, $"{Guid.CreateVersion7():N}.clean");
        await File.WriteAllTextAsync(unknown, "known to a later database");
        var half = Path.Combine(folder, $"{Guid.CreateVersion7():N}.clean.part");
        await File.WriteAllTextAsync(half, "half");
        // As an earlier version kept it.
        await File.WriteAllTextAsync(Path.Combine(folder, $"{logo.Value:N}.original"), "where the customer lives");
        // Taking a logo off that could not be saved: the picture was marked, and is still named.
        shop.CommitFails = new InvalidOperationException("the program was ended");
        await Assert.ThrowsAsync<InvalidOperationException>(() => shop.Get<RemoveLogo>().RunAsync(Asked.By(owner)));
        shop.CommitFails = null;

        Assert.Equal((0, 2), await SweepAsync(shop, hours: 25));
        Assert.True(shop.Get<PictureFolder>().Has(logo) && File.Exists(unknown));
        Assert.Equal([".clean", ".clean", ".screen"], Files(shop).Select(Path.GetExtension).Order(StringComparer.Ordinal));
        Assert.Empty(Directory.GetFiles(Path.Combine(shop.Folder, "underway")));
    }

    private static string[] Files(TestShop shop) => Directory.GetFiles(Path.Combine(shop.Folder, "pictures"));

    // Files are stamped by the system's clock, not by the test's.
    private static async Task<(int Pictures, int Files)> SweepAsync(TestShop shop, double hours)
    {
        var marked = File.GetLastWriteTimeUtc(
            Directory.GetFiles(Path.Combine(shop.Folder, "underway")).Order(StringComparer.Ordinal).Last()
        );
        var clock = new Microsoft.Extensions.Time.Testing.FakeTimeProvider(new DateTimeOffset(marked, TimeSpan.Zero).AddHours(hours));
        var sweep = new SweepPictures(
            shop.Get<PictureFolder>(),
            shop.Get<IDbContextFactory<ShopContext>>(),
            clock,
            NullLogger<SweepPictures>.Instance
        );
        return await sweep.RunAsync();
    }

    private static async Task<Result<PictureId>> SendLogoAsync(TestShop shop, Guid owner)
    {
        var id = Guid.CreateVersion7();
        await shop.Get<IncomingFiles>().TakeAsync(id, new MemoryStream(Png()), default);
        return await shop.Get<KeepLogo>().RunAsync(Asked.By(owner), new SentFile(id, "logo.png"));
    }

    private static byte[] Png()
    {
        using var bitmap = new SKBitmap(new SKImageInfo(64, 32, SKColorType.Rgba8888, SKAlphaType.Opaque));
        bitmap.Erase(new SKColor(0xFF336699));
        using var png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return png.ToArray();
    }
}
