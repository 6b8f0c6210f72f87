using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using SkiaSharp;

namespace ShopFloor.Web.Background.Demo;

/// <summary>Pictures for the demo, drawn by the program itself; each comes through the same door as a customer's.</summary>
public sealed class DemoPictures(PictureDoor door, PictureFolder folder) : IUseCase
{
    private const int Width = 1800;
    private const int Height = 1200;

    /// <summary>Number of the photo of a fault.</summary>
    public const int Blistered = 5;
    private readonly Dictionary<int, PictureId> kept = [];

    /// <summary>Keeps the picture of that number, or finds it when it was kept before.</summary>
    public async Task<PictureId?> AddToAsync(CommandWork work, int number, CancellationToken cancel)
    {
        if (kept.TryGetValue(number, out var known))
            return known;
        var name = $"{Motif(number).Name}.jpg";
        var admitted = (await door.AdmitAsync(Draw(number), name, cancel)).Value;
        var screen = (await door.CopyAsync(admitted.Clean, new CopySpec(1600, CopyFormat.Webp, 88), cancel)).Value;
        var id = new PictureId(Guid.CreateVersion7());
        await folder.SaveAsync(id, admitted, screen, cancel);
        work.Context.Pictures.Add(new KeptPicture(id, "jpeg", Width, Height, admitted.Original.Length, admitted.Sha256, name, work.Now));
        return kept[number] = id;
    }

    private static byte[] Draw(int number)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(Width, Height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using var canvas = new SKCanvas(bitmap);
        var (_, sky, ground, draw) = Motif(number);
        using var shade = SKShader.CreateLinearGradient(new SKPoint(0, 0), new SKPoint(0, Height), [sky, ground], SKShaderTileMode.Clamp);
        using var back = new SKPaint { Shader = shade };
        canvas.DrawRect(0, 0, Width, Height, back);
        draw(canvas);
        canvas.Flush();
        using var jpeg = bitmap.Encode(SKEncodedImageFormat.Jpeg, 90);
        return jpeg.ToArray();
    }

    private static (string Name, SKColor Sky, SKColor Ground, Action<SKCanvas> Draw) Motif(int number) =>
        number switch
        {
            Blistered => ("blistered plate", new SKColor(0xFFDADDE0), new SKColor(0xFFA8AEB4), Blisters),
            0 => ("boat", new SKColor(0xFFBFDDE8), new SKColor(0xFF2F6F8F), Boat),
            1 => ("hills", new SKColor(0xFFF3D9A8), new SKColor(0xFF7A9B5C), Hills),
            2 => ("cups", new SKColor(0xFFF6EFE2), new SKColor(0xFFD8B98C), Cups),
            3 => ("leaves", new SKColor(0xFFEAF2E3), new SKColor(0xFFA9C79B), Leaves),
            _ => ("night", new SKColor(0xFF172238), new SKColor(0xFF4A5F86), Night),
        };

    private static void Blisters(SKCanvas canvas)
    {
        Fill(canvas, 0xC4C9CE, "M150 200 L1650 200 L1650 1000 L150 1000 Z");
        for (var i = 0; i < 14; i++)
        {
            var (x, y, r) = (260 + i * 97, 880 + (i * 37 % 70), 18 + (i * 13 % 26));
            Fill(canvas, 0x8D949B, $"M{x - r} {y} A{r} {r} 0 1 0 {x + r} {y} A{r} {r} 0 1 0 {x - r} {y} Z");
            Fill(
                canvas,
                0xEEF1F3,
                $"M{x - r / 2} {y - 4} A{r / 2} {r / 2} 0 1 0 {x + r / 2} {y - 4} A{r / 2} {r / 2} 0 1 0 {x - r / 2} {y - 4} Z"
            );
        }
    }

    private static void Boat(SKCanvas canvas)
    {
        Fill(canvas, 0xF7F3EA, "M900 250 L900 800 L560 800 Z M930 330 L930 800 L1180 800 Z");
        Fill(canvas, 0x8C3B2E, "M480 840 L1260 840 L1120 990 L600 990 Z");
    }

    private static void Hills(SKCanvas canvas)
    {
        Circle(canvas, 0xE58A3C, 1320, 340, 130);
        Fill(canvas, 0x4F7443, "M0 900 Q450 520 900 840 T1800 760 L1800 1200 L0 1200 Z");
        Fill(canvas, 0x2F5230, "M0 1050 Q600 780 1100 1010 T1800 960 L1800 1200 L0 1200 Z");
    }

    private static void Cups(SKCanvas canvas)
    {
        Fill(canvas, 0x6B3E26, "M500 480 L900 480 L860 860 Q700 920 540 860 Z");
        Fill(canvas, 0x2E5E63, "M980 560 L1320 560 L1290 860 Q1150 910 1010 860 Z");
    }

    private static void Leaves(SKCanvas canvas)
    {
        for (var i = 0; i < 7; i++)
        {
            canvas.Save();
            canvas.Translate(250 + i * 220, 620 + i % 2 * 130);
            canvas.RotateDegrees(-40 + i * 13);
            Fill(canvas, i % 2 == 0 ? 0x3F7A45u : 0x88A84Bu, "M0 -240 Q130 -60 0 240 Q-130 -60 0 -240 Z");
            canvas.Restore();
        }
    }

    private static void Night(SKCanvas canvas)
    {
        Circle(canvas, 0xF4EFD6, 1250, 330, 150);
        for (var i = 0; i < 40; i++)
            Circle(canvas, 0xE8ECF5, 90 + i * 397 % 1640, 60 + i * 211 % 560, 4 + i % 4 * 2);
        Fill(canvas, 0x0D1526, "M0 1200 L0 860 L320 700 L520 880 L800 640 L1060 900 L1300 760 L1800 980 L1800 1200 Z");
    }

    private static void Fill(SKCanvas canvas, uint colour, string outline)
    {
        using var path = SKPath.ParseSvgPathData(outline);
        using var paint = Paint(colour);
        canvas.DrawPath(path, paint);
    }

    private static void Circle(SKCanvas canvas, uint colour, float x, float y, float radius)
    {
        using var paint = Paint(colour);
        canvas.DrawCircle(x, y, radius, paint);
    }

    private static SKPaint Paint(uint colour) => new() { Color = new SKColor(colour | 0xFF000000), IsAntialias = true };
}
