using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Text;
using ImageMagick;
using ShopFloor.Documents.Tests.Pdf;
using SkiaSharp;

namespace ShopFloor.Documents.Tests.Imaging;

/// <summary>Pictures made for tests: white with a red, green, blue and yellow block in its corners, so that any turn or mirror shows.</summary>
public static class TestPictures
{
    public static SKColor Red { get; } = new(220, 30, 30);
    public static SKColor Green { get; } = new(30, 160, 60);
    public static SKColor Blue { get; } = new(30, 60, 200);
    public static SKColor Yellow { get; } = new(240, 200, 40);

    public static SKBitmap Corners(int width = 240, int height = 160)
    {
        var bitmap = new SKBitmap(width, height);
        bitmap.Erase(SKColors.White);
        var (w, h) = (width * 3 / 8, height * 3 / 8);
        bitmap.Erase(Red, SKRectI.Create(0, 0, w, h));
        bitmap.Erase(Green, SKRectI.Create(width - w, 0, w, h));
        bitmap.Erase(Blue, SKRectI.Create(0, height - h, w, h));
        bitmap.Erase(Yellow, SKRectI.Create(width - w, height - h, w, h));
        return bitmap;
    }

    public static byte[] Jpeg(int width = 240, int height = 160) => Encoded(Corners(width, height), SKEncodedImageFormat.Jpeg, 92);

    public static byte[] Png(int width = 240, int height = 160) => Encoded(Corners(width, height), SKEncodedImageFormat.Png, 100);

    public static byte[] Webp() => Encoded(Corners(), SKEncodedImageFormat.Webp, 90);

    public static byte[] Heic() => File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Fixtures", "four-corners.heic"));

    /// <summary>A photograph-like JPEG: smooth light with grain, which packs about as badly as a camera's.</summary>
    public static byte[] Photo(int width, int height, int seed)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        var row = new byte[width * 4];
        var state = (uint)seed * 2654435761 + 12345;
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                state = state * 1664525 + 1013904223;
                var grain = (int)(state >> 28);
                row[x * 4] = (byte)(x * 200 / width + grain);
                row[x * 4 + 1] = (byte)(y * 200 / height + grain);
                row[x * 4 + 2] = (byte)((x + y) * 200 / (width + height) + grain);
                row[x * 4 + 3] = 255;
            }
            Marshal.Copy(row, 0, bitmap.GetPixels() + y * bitmap.RowBytes, row.Length);
        }
        return Encoded(bitmap, SKEncodedImageFormat.Jpeg, 90, keep: true);
    }

    public static byte[] Cmyk()
    {
        using var picture = new MagickImage(Png());
        picture.TransformColorSpace(ColorProfiles.SRGB, ColorProfiles.USWebCoatedSWOP);
        picture.Quality = 92;
        return picture.ToByteArray(MagickFormat.Jpeg);
    }

    /// <summary>A PNG with see-through pixels in straight alpha.</summary>
    public static SKBitmap Transparent()
    {
        var bitmap = new SKBitmap(new SKImageInfo(40, 30, SKColorType.Rgba8888, SKAlphaType.Unpremul));
        for (var y = 0; y < 30; y++)
        for (var x = 0; x < 40; x++)
            bitmap.SetPixel(x, y, new SKColor((byte)(x * 6), (byte)(y * 8), 90, (byte)(x * 255 / 39)));
        return bitmap;
    }

    public static byte[] Encoded(SKBitmap bitmap, SKEncodedImageFormat format, int quality, bool keep = false)
    {
        using var data = bitmap.Encode(format, quality);
        if (!keep)
            bitmap.Dispose();
        return data.ToArray();
    }

    /// <summary>The head of a PNG that claims a size, and hardly any data.</summary>
    public static byte[] PngClaiming(uint width, uint height)
    {
        var head = new byte[13];
        BinaryPrimitives.WriteUInt32BigEndian(head, width);
        BinaryPrimitives.WriteUInt32BigEndian(head.AsSpan(4), height);
        (head[8], head[9]) = (8, 2);
        return
        [
            .. new byte[] { 0x89, 0x50, 0x4E, 0x47, 13, 10, 26, 10 },
            .. Chunk("IHDR", head),
            .. Chunk("IDAT", [0x78, 0x9C, 3, 0, 0, 0, 0, 1]),
            .. Chunk("IEND", []),
        ];
    }

    /// <summary>The head of a JPEG that claims a size.</summary>
    public static byte[] JpegClaiming(ushort width, ushort height) =>
        [
            0xFF,
            0xD8,
            0xFF,
            0xC0,
            0,
            17,
            8,
            (byte)(height >> 8),
            (byte)height,
            (byte)(width >> 8),
            (byte)width,
            3,
            1,
            0x22,
            0,
            2,
            0x11,
            1,
            3,
            0x11,
            1,
            0xFF,
            0xD9,
        ];

    /// <summary>A still PNG made into a moving one by an animation control chunk.</summary>
    public static byte[] Apng()
    {
        var png = Png();
        return [.. png[..33], .. Chunk("acTL", [0, 0, 0, 99, 0, 0, 0, 0]), .. png[33..]];
    }

    public static byte[] AnimatedWebp() =>
        [
            .. "RIFF"u8,
            46,
            0,
            0,
            0,
            .. "WEBPVP8X"u8,
            10,
            0,
            0,
            0,
            2,
            0,
            0,
            0,
            99,
            0,
            0,
            99,
            0,
            0,
            .. "ANIM"u8,
            6,
            0,
            0,
            0,
            0,
            0,
            0,
            0,
            0,
            0,
            .. "VP8L"u8,
            2,
            0,
            0,
            0,
            0x2F,
            0,
        ];

    /// <summary>Writes tags with exiftool.</summary>
    public static byte[] Tagged(byte[] picture, string ending, params string[] tags)
    {
        using var folder = new TempFolder();
        var file = folder.File("picture" + ending);
        File.WriteAllBytes(file, picture);
        Tool.Run("exiftool", [.. tags, "-q", "-overwrite_original", file]);
        return File.ReadAllBytes(file);
    }

    /// <summary>All tags that exiftool finds, with their groups.</summary>
    public static string Tags(byte[] picture, string ending)
    {
        using var folder = new TempFolder();
        var file = folder.File("picture" + ending);
        File.WriteAllBytes(file, picture);
        return Tool.Run("exiftool", "-a", "-G1", "-s", "-n", file);
    }

    public static byte[] Chunk(string type, byte[] data)
    {
        byte[] body = [.. Encoding.ASCII.GetBytes(type), .. data];
        var chunk = new byte[body.Length + 8];
        BinaryPrimitives.WriteInt32BigEndian(chunk, data.Length);
        body.CopyTo(chunk, 4);
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(4 + body.Length), Crc(body));
        return chunk;
    }

    private static uint Crc(ReadOnlySpan<byte> data)
    {
        var crc = uint.MaxValue;
        foreach (var value in data)
        {
            crc ^= value;
            for (var bit = 0; bit < 8; bit++)
                crc = (crc & 1) != 0 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
        }
        return ~crc;
    }
}
