using System.Diagnostics;
using System.Runtime.InteropServices;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Recipes;
using SkiaSharp;

namespace ShopFloor.Benchmarks;

/// <summary>
/// A photograph of 12 megapixels shown on its ground at screen size, from the JPEG file as a page does it: decode, shrink, ground,
/// unreachable share, encode.
/// </summary>
internal static class PreviewCommand
{
    private const int Width = 4000;
    private const int Height = 3000;

    public static int Run(Arguments args)
    {
        var runs = (int)args.Number("runs", 9);
        var screen = (int)args.Number("screen", 1600);
        if (runs is < 1 or > 1000 || screen is < 16 or > Height)
            throw new InputFault($"--runs is 1 to 1000, --screen 16 to {Height} pixels.");
        var file = Jpeg(Photograph());
        var look = PrintLook.For(Finish.ShowThrough, GroundColours.Stainless);
        Console.WriteLine($"{Width} × {Height} pixels, shown with {screen} pixels on the longer side, {runs} runs, milliseconds");
        using var door = new PictureDoor();
        Report("from the JPEG file", runs, () => FromFile(door, file, look, screen));
        return 0;
    }

    private static ReachOfPicture FromFile(PictureDoor door, byte[] file, PrintLook look, int screen)
    {
        ReachOfPicture reach = default;
        var spec = new CopySpec(screen)
        {
            Work = (rgba, _, _) =>
            {
                reach = PictureReach.Of(rgba, look).Value.Value;
                new GroundPreview(look).Render(rgba, rgba);
            },
        };
        var copy = door.CopyAsync(file, spec, CancellationToken.None).GetAwaiter().GetResult();
        if (!copy.IsOk)
            throw new InputFault(copy.Refusals[0].Text);
        return reach;
    }

    private static void Report(string name, int runs, Func<ReachOfPicture> work)
    {
        // The first run also compiles the code and fills the tables; a page pays for that once.
        var first = Stopwatch.StartNew();
        var reach = work();
        first.Stop();
        double[] times = [.. Enumerable.Range(0, runs).Select(_ => Milliseconds(work)).Order()];
        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{name, -20} first {first.Elapsed.TotalMilliseconds, 7:F1}  median {times[runs / 2], 7:F1}  worst {times[^1], 7:F1}  unreachable {reach.UnreachableShare:P1}, mean ΔE {reach.MeanDeltaE:F2}, worst ΔE {reach.WorstDeltaE:F1}"
            )
        );
    }

    private static double Milliseconds(Func<ReachOfPicture> work)
    {
        var watch = Stopwatch.StartNew();
        work();
        return watch.Elapsed.TotalMilliseconds;
    }

    // An invented photograph: sky, ground, a bright sun and fine grain, so that many colours occur and the file does not compress to nothing.
    private static byte[] Photograph()
    {
        var pixels = new byte[Width * Height * 4];
        uint grain = 1;
        for (var y = 0; y < Height; y++)
        {
            for (var x = 0; x < Width; x++)
            {
                grain = (grain * 1664525) + 1013904223;
                var noise = (int)(grain >> 28) - 8;
                var down = y / (double)Height;
                var sun = 220 * Math.Exp(-((x - 2800.0) * (x - 2800.0) + (y - 700.0) * (y - 700.0)) / 160_000);
                var wave = 30 * Math.Sin(x / 90.0) * Math.Cos(y / 70.0);
                var at = ((y * Width) + x) * 4;
                pixels[at] = Byte((60 + (150 * down) + sun + wave + noise));
                pixels[at + 1] = Byte(110 + (40 * down) + sun + noise);
                pixels[at + 2] = Byte(200 - (160 * down) + (sun * 0.6) - wave + noise);
                pixels[at + 3] = 255;
            }
        }
        return pixels;
    }

    private static byte Byte(double value) => (byte)Math.Clamp(value, 0, 255);

    private static byte[] Jpeg(byte[] pixels)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(Width, Height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        Marshal.Copy(pixels, 0, bitmap.GetPixels(), pixels.Length);
        using var data = bitmap.Encode(SKEncodedImageFormat.Jpeg, 92);
        return data.ToArray();
    }
}
