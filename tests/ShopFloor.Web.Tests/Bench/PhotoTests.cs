using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Photos;
using ShopFloor.Web.Bench.Tracing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Shared.Uploads;
using ShopFloor.Web.Tests.Support;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Photos at faults and inspection: through the door, without the place, in the piece's trace and nowhere else.</summary>
public sealed class PhotoTests
{
    private const string Place = "GPSLatitude-53.1";

    [Fact]
    public async Task Fault_WithAPhoto_IsInTheTraceWithoutThePlaceWhereItWasTaken()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.ReceiveAsync();
        var photo = await TakeAsync(shop, WithPlace());
        var report = new FaultReport(new Target(shop.Code), "run", "along the edge", new TimeDecision(TimeChoice.GoOn, ""), photo);
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), report));
        var trace = await shop.Shop.Get<TraceView>().ReadAsync("piece", shop.Code, withCustomers: false);
        Assert.Equal([PhotoView.Address(shop.Code, photo)], Assert.Single(trace.Value.Moves, m => m.Photos.Count > 0).Photos);
        Assert.NotNull(await shop.Shop.Get<PhotoView>().ReadAsync(shop.Code, photo.Value, default));
        foreach (var file in Directory.GetFiles(Path.Combine(shop.Shop.Folder, "pictures"), $"{photo.Value:N}.*"))
            Assert.DoesNotContain(Place, Encoding.Latin1.GetString(await File.ReadAllBytesAsync(file)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Inspect_WithPhotoAndMeasures_KeepsThemInTheJournal()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Inspect);
        var photo = await TakeAsync(shop, WithPlace());
        var findings = new Findings
        {
            CrossCutClass = 1,
            GlossUnits = 72.5m,
            GlossDegrees = 60,
            Photo = photo,
        };
        var step = (await shop.PiecesAsync())[0].NextAttended!.Number;
        BenchShop.Must(await shop.Shop.Get<InspectPieces>().RunAsync(shop.Ask(), new Inspection(new Target(shop.Code, step), findings)));
        await using var context = await shop.Shop.ContextAsync();
        var seen = (await context.Journal.ToListAsync()).Select(j => j.Read()).OfType<PieceInspected>().Single();
        Assert.Equal((1, 72.5m, photo), (seen.Findings.CrossCutClass, seen.Findings.GlossUnits, seen.Findings.Photo!.Value));
    }

    [Fact]
    public async Task Photo_OfAnotherPieceOrOfNoEvent_IsNotShown()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.ReceiveAsync();
        var photo = await TakeAsync(shop, WithPlace());
        Assert.Null(await shop.Shop.Get<PhotoView>().ReadAsync(shop.Code, photo.Value, default));
        Assert.Null(await shop.Shop.Get<PhotoView>().ReadAsync("NOTHING", photo.Value, default));
    }

    [Fact]
    public async Task Take_ThatIsNoPicture_IsRefusedInWords()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        var id = Guid.CreateVersion7();
        await shop.Shop.Get<IncomingFiles>().TakeAsync(id, new MemoryStream("no picture"u8.ToArray()), default);
        var answer = await shop.Shop.Get<TakePhoto>().RunAsync(shop.Ask(), new SentFile(id, "note.jpg"));
        Assert.False(answer.IsOk);
        Assert.Contains("picture", answer.Refusals[0].Text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Clear_LongAfter_KeepsWhatThePiecesJournalNamesAndTakesWhatNothingNames()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.ReceiveAsync();
        var (named, unnamed) = (await TakeAsync(shop, WithPlace()), await TakeAsync(shop, WithPlace()));
        var report = new FaultReport(new Target(shop.Code), "run", "", new TimeDecision(TimeChoice.Spoil, "no use"), named);
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), report));
        shop.Shop.Clock.Advance(TimeSpan.FromDays(3650));

        Assert.Contains(
            await shop.Shop.Get<KeepingView>().LoadAsync(),
            l => l is { What: "Pictures that nothing names any more", Count: 1 }
        );
        Assert.True((await shop.Shop.Get<ClearOldData>().RunAsync()).IsOk);

        Assert.NotNull(await shop.Shop.Get<PhotoView>().ReadAsync(shop.Code, named.Value, default));
        Assert.False(shop.Shop.Get<PictureFolder>().Has(unnamed));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal([named], await context.Pictures.Select(p => p.Id).ToListAsync());
    }

    [Fact]
    public async Task Book_OwnPieceWithPhotosOfItsCondition_KeepsThemInItsJournalUntilTheCustomerIsErased()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        var photo = await TakeAsync(shop, WithPlace());
        var order = ShopOrders.Plates(1, own: true);
        order = order with { Lines = [order.Lines[0] with { Photos = [photo] }] };
        var owner = await shop.Shop.WorkerAsync(WorkerRole.Owner);
        var booked = (await shop.Shop.Get<BookOrder>().RunAsync(Asked.By(owner), await shop.Shop.ShownAsync(order))).Value;
        var view = shop.Shop.Get<PhotoView>();
        Assert.NotNull(await view.ReadAsync(booked.Codes[0], photo.Value, default));

        BenchShop.Must(
            await shop.Shop.Get<ReturnPieces>().RunAsync(Asked.By(owner), new WithReason(new Target(booked.Codes[0]), "wanted back"))
        );
        await using var context = await shop.Shop.ContextAsync();
        var customer = (await context.Orders.SingleAsync(o => o.Id == booked.Order)).Customer;
        var erased = await shop.Shop.Get<EraseCustomer>().RunAsync(Asked.By(owner), new EraseInput(customer));
        Assert.True(erased.IsOk, erased.Refusals.FirstOrDefault()?.Text);
        Assert.Null(await view.ReadAsync(booked.Codes[0], photo.Value, default));
        Assert.False(shop.Shop.Get<PictureFolder>().Has(photo));
    }

    private static async Task<PictureId> TakeAsync(BenchShop shop, byte[] bytes)
    {
        var id = Guid.CreateVersion7();
        await shop.Shop.Get<IncomingFiles>().TakeAsync(id, new MemoryStream(bytes), default);
        var taken = await shop.Shop.Get<TakePhoto>().RunAsync(shop.Ask(id), new SentFile(id, "fault.jpg"));
        Assert.True(taken.IsOk, string.Join(' ', taken.Refusals.Select(r => r.Text)));
        Assert.True(shop.Shop.Get<PictureFolder>().Has(taken.Value));
        return taken.Value;
    }

    // A JPEG with a comment segment that stands for what a phone writes into it.
    private static byte[] WithPlace()
    {
        using var bitmap = new SKBitmap(new SKImageInfo(320, 240, SKColorType.Rgba8888, SKAlphaType.Opaque));
        bitmap.Erase(new SKColor(0xFF8899AA));
        using var coded = bitmap.Encode(SKEncodedImageFormat.Jpeg, 90);
        var jpeg = coded.ToArray();
        var words = Encoding.ASCII.GetBytes(Place);
        byte[] comment = [0xFF, 0xFE, 0, (byte)(words.Length + 2), .. words];
        return [.. jpeg[..2], .. comment, .. jpeg[2..]];
    }
}
