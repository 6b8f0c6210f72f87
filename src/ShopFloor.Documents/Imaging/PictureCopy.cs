using System.Runtime.InteropServices;
using ShopFloor.Documents.Pdf;
using SkiaSharp;

namespace ShopFloor.Documents.Imaging;

/// <summary>Works on pixels in place: red, green, blue, alpha, one byte each in sRGB, rows from the top, alpha not multiplied in.</summary>
public delegate void PixelWork(Span<byte> rgba, int widthPx, int heightPx);

/// <summary>File formats of copies.</summary>
public enum CopyFormat
{
    /// <summary>Small; see-through areas become white.</summary>
    Jpeg,

    /// <summary>Exact.</summary>
    Png,

    /// <summary>Smallest; keeps see-through areas.</summary>
    Webp,
}

/// <summary>A part of a picture as looked at, in shares of its width and height from the top left.</summary>
public readonly record struct CropShare(double Left, double Top, double Width, double Height)
{
    /// <summary>All of it.</summary>
    public static CropShare Whole => new(0, 0, 1, 1);
}

/// <summary>What a copy to look at shall be.</summary>
/// <param name="MaxSidePx">Longer side in pixels; a smaller picture is not blown up.</param>
/// <param name="Format">File format.</param>
/// <param name="Quality">1–100, for JPEG and WebP.</param>
public sealed record CopySpec(int MaxSidePx, CopyFormat Format = CopyFormat.Jpeg, int Quality = 85)
{
    /// <summary>The part to copy.</summary>
    public CropShare Crop { get; init; } = CropShare.Whole;

    /// <summary>Changes the pixels of the copy, such as to how they look on bare metal.</summary>
    public PixelWork? Work { get; init; }
}

/// <summary>Copies to look at: turned, in sRGB, freshly coded, so that nothing of the original file but its looks gets through.</summary>
internal static class PictureCopy
{
    private static readonly SKSamplingOptions Smooth = new(SKFilterMode.Linear, SKMipmapMode.Linear);

    /// <summary>Throws unless all pixels can be decoded.</summary>
    public static void MustDecode(ReadOnlyMemory<byte> file, PictureHeader header)
    {
        using var bitmap = Decode(file, header, 64);
    }

    public static byte[] Make(ReadOnlyMemory<byte> file, PictureHeader header, CopySpec spec)
    {
        var wantedWidth = Math.Max(1, spec.Crop.Width * header.WidthPx);
        var wantedHeight = Math.Max(1, spec.Crop.Height * header.HeightPx);
        var shrink = Math.Min(1, spec.MaxSidePx / Math.Max(wantedWidth, wantedHeight));
        using var stored = Decode(file, header, (int)Math.Ceiling(Math.Max(header.StoredWidthPx, header.StoredHeightPx) * shrink));
        var info = new SKImageInfo(
            Math.Max(1, (int)Math.Round(wantedWidth * shrink)),
            Math.Max(1, (int)Math.Round(wantedHeight * shrink)),
            SKColorType.Rgba8888,
            SKAlphaType.Premul,
            SKColorSpace.CreateSrgb()
        );
        using var copy = new SKBitmap(info);
        using (var canvas = new SKCanvas(copy))
        using (var image = SKImage.FromPixels(stored.PeekPixels()))
        {
            canvas.Clear(spec.Format == CopyFormat.Jpeg ? SKColors.White : SKColors.Transparent);
            canvas.Scale((float)(info.Width / spec.Crop.Width), (float)(info.Height / spec.Crop.Height));
            canvas.Translate((float)-spec.Crop.Left, (float)-spec.Crop.Top);
            canvas.Concat(IntoUnitSquare(header.Turn));
            canvas.DrawImage(image, new SKRect(0, 0, 1, 1), Smooth);
        }
        return Encode(copy, spec);
    }

    /// <summary>All pixels as stored, straight alpha, colours untouched.</summary>
    public static SKBitmap DecodeExact(ReadOnlyMemory<byte> file, PictureHeader header)
    {
        using var codec = Open(file);
        var bitmap = new SKBitmap(
            new SKImageInfo(header.StoredWidthPx, header.StoredHeightPx, SKColorType.Rgba8888, SKAlphaType.Unpremul, null)
        );
        Fill(codec, bitmap);
        return bitmap;
    }

    private static SKBitmap Decode(ReadOnlyMemory<byte> file, PictureHeader header, int enoughPx)
    {
        using var codec = Open(file);
        if (codec.Info.Width != header.StoredWidthPx || codec.Info.Height != header.StoredHeightPx)
            throw BadPictureException.Broken();
        if (codec.FrameCount > 1)
            throw new BadPictureException("picture-animated", "This is a moving picture. Please choose a still one.");
        var scale = Math.Min(1f, enoughPx / (float)Math.Max(header.StoredWidthPx, header.StoredHeightPx));
        var size = codec.GetScaledDimensions(scale);
        if (Math.Max(size.Width, size.Height) < enoughPx)
            size = codec.GetScaledDimensions(Math.Min(1f, scale * 2));
        var bitmap = new SKBitmap(
            new SKImageInfo(size.Width, size.Height, SKColorType.Rgba8888, SKAlphaType.Premul, SKColorSpace.CreateSrgb())
        );
        Fill(codec, bitmap);
        return bitmap;
    }

    private static SKCodec Open(ReadOnlyMemory<byte> file) =>
        SKCodec.Create(new MemoryStream(file.ToArray(), writable: false)) ?? throw BadPictureException.Broken();

    private static void Fill(SKCodec codec, SKBitmap bitmap)
    {
        if (codec.GetPixels(bitmap.Info, bitmap.GetPixels()) == SKCodecResult.Success)
            return;
        bitmap.Dispose();
        throw BadPictureException.Broken();
    }

    /// <summary>Takes the unit square of the stored picture to the unit square of the picture as looked at.</summary>
    private static SKMatrix IntoUnitSquare(PictureTurn turn)
    {
        var (xx, yx, dx, xy, yy, dy) = turn switch
        {
            PictureTurn.MirrorAcross => (-1, 0, 1, 0, 1, 0),
            PictureTurn.Half => (-1, 0, 1, 0, -1, 1),
            PictureTurn.MirrorDown => (1, 0, 0, 0, -1, 1),
            PictureTurn.Transpose => (0, 1, 0, 1, 0, 0),
            PictureTurn.Right => (0, -1, 1, 1, 0, 0),
            PictureTurn.Transverse => (0, -1, 1, -1, 0, 1),
            PictureTurn.Left => (0, 1, 0, -1, 0, 1),
            _ => (1, 0, 0, 0, 1, 0),
        };
        return new SKMatrix(xx, yx, dx, xy, yy, dy, 0, 0, 1);
    }

    private static byte[] Encode(SKBitmap copy, CopySpec spec)
    {
        var info = copy.Info.WithAlphaType(SKAlphaType.Unpremul);
        using var straight = new SKBitmap(info);
        if (!copy.PeekPixels().ReadPixels(info, straight.GetPixels(), info.RowBytes, 0, 0))
            throw new InvalidOperationException("The pixels of a copy could not be read.");
        var pixels = MemoryMarshal.CreateSpan(ref MemoryMarshal.GetReference(straight.GetPixelSpan()), info.BytesSize);
        spec.Work?.Invoke(pixels, info.Width, info.Height);
        var format = spec.Format switch
        {
            CopyFormat.Jpeg => SKEncodedImageFormat.Jpeg,
            CopyFormat.Png => SKEncodedImageFormat.Png,
            _ => SKEncodedImageFormat.Webp,
        };
        using var data =
            straight.Encode(format, spec.Quality) ?? throw new InvalidOperationException($"A copy could not be coded as {format}.");
        return data.ToArray();
    }
}
