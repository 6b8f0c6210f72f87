using ShopFloor.Domain;
using SkiaSharp;
using ZXing;
using ZXing.Common;
using ZXing.QrCode;

namespace ShopFloor.Documents.Imaging;

/// <summary>Reads a QR code out of a frame that a camera took.</summary>
public static class QrReader
{
    private static readonly PictureLimits FrameLimits = new(MaxBytes: 2 * 1024 * 1024, MaxPixels: 4_000_000, MaxSidePx: 4_000);

    /// <summary>The text of the code in a JPEG, PNG or WebP frame of at most 2 MB and 4 million pixels.</summary>
    public static Result<string> Read(ReadOnlyMemory<byte> frame)
    {
        if (frame.IsEmpty || frame.Length > FrameLimits.MaxBytes)
            return NoFrame();
        try
        {
            var header = PictureSniffer.Header(frame);
            if (header.Pixels > FrameLimits.MaxPixels || header.Format == PictureFormat.Heic || header.Colours == PictureColours.Cmyk)
                return NoFrame();
            using var bitmap = PictureCopy.DecodeExact(frame, header);
            return Read(bitmap) is { } text
                ? text
                : new Refusal("code-not-found", "No code was found. Hold the camera still, closer, and let light fall on the label.");
        }
        catch (BadPictureException)
        {
            return NoFrame();
        }
    }

    /// <summary>The text of the code in a bitmap, or null when there is none.</summary>
    public static string? Read(SKBitmap bitmap)
    {
        using var rgba = bitmap.ColorType == SKColorType.Rgba8888 ? null : bitmap.Copy(SKColorType.Rgba8888);
        var pixels = (rgba ?? bitmap).GetPixelSpan().ToArray();
        var source = new RGBLuminanceSource(pixels, bitmap.Width, bitmap.Height, RGBLuminanceSource.BitmapFormat.RGBA32);
        var hints = new Dictionary<DecodeHintType, object> { [DecodeHintType.TRY_HARDER] = true };
        return new QRCodeReader().decode(new BinaryBitmap(new HybridBinarizer(source)), hints)?.Text;
    }

    private static Refusal NoFrame() => new("frame-unreadable", "The camera picture could not be read. Please try again or type the code.");
}
