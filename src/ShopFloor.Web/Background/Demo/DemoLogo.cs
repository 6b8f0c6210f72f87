using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using SkiaSharp;

namespace ShopFloor.Web.Background.Demo;

/// <summary>The invented workshop's logo, drawn by the program itself: a moon over the moor.</summary>
public sealed class DemoLogo(PictureDoor door, PictureFolder folder) : IUseCase
{
    private const int Width = 900;
    private const int Height = 400;
    private const string Name = "moorlight.png";

    /// <summary>Keeps it as any logo is kept, from the first day on.</summary>
    public async Task<Result<Done>> AddToAsync(CommandWork work, CancellationToken cancel)
    {
        var admitted = (await door.AdmitAsync(Draw(), Name, cancel)).Value;
        var screen = (await door.CopyAsync(admitted.Clean, new CopySpec(Width, CopyFormat.Webp, 88), cancel)).Value;
        var id = new PictureId(Guid.CreateVersion7());
        await folder.SaveAsync(id, admitted, screen, cancel);
        work.Context.Pictures.Add(new KeptPicture(id, "png", Width, Height, admitted.Original.Length, admitted.Sha256, Name, work.Now));
        var json = JsonSerializer.Serialize(new WorkshopLogo { Picture = id, Name = Name }, JsonForms.Default);
        work.Context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), SettingKeys.Logo, DateTimeOffset.UnixEpoch, json, work.By));
        return default(Done);
    }

    private static byte[] Draw()
    {
        using var bitmap = new SKBitmap(new SKImageInfo(Width, Height, SKColorType.Rgba8888, SKAlphaType.Unpremul));
        bitmap.Erase(SKColors.Transparent);
        using (var canvas = new SKCanvas(bitmap))
        {
            // The crescent is the moon without the disc that covers it.
            using var moon = SKPath.ParseSvgPathData("M450 30 A120 120 0 1 0 450 270 A120 120 0 1 0 450 30 Z");
            using var cover = SKPath.ParseSvgPathData("M505 5 A105 105 0 1 0 505 215 A105 105 0 1 0 505 5 Z");
            using var crescent = moon.Op(cover, SKPathOp.Difference);
            Fill(canvas, crescent, 0xFF8A6A1F);
            Fill(canvas, "M20 300 Q180 230 330 290 T640 282 T880 292 L880 312 Q700 286 560 306 T240 308 T20 316 Z", 0xFF1F4D4A);
            Fill(canvas, "M90 338 Q280 318 450 338 T810 334 L810 346 Q640 356 450 350 T90 350 Z", 0xFF2F6F6A);
            Fill(canvas, "M230 372 Q350 360 450 372 T670 370 L670 380 Q560 388 450 384 T230 384 Z", 0xFF5A9A94);
            for (var i = 0; i < 5; i++)
                Fill(canvas, $"M{120 + i * 26} 300 L{128 + i * 22} {140 + i * 23 % 60} L{127 + i * 26} 300 Z", 0xFF1F4D4A);
        }
        using var png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return png.ToArray();
    }

    private static void Fill(SKCanvas canvas, string outline, uint colour)
    {
        using var path = SKPath.ParseSvgPathData(outline);
        Fill(canvas, path, colour);
    }

    private static void Fill(SKCanvas canvas, SKPath path, uint colour)
    {
        using var paint = new SKPaint { Color = new SKColor(colour), IsAntialias = true };
        canvas.DrawPath(path, paint);
    }
}
