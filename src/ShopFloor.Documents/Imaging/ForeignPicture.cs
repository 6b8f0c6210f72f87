using ImageMagick;

namespace ShopFloor.Documents.Imaging;

/// <summary>
/// The door for what the ordinary decoder does not read right: HEIC, and JPEG in printing inks.
/// The larger library behind it is only ever told to read these two kinds, under hard limits.
/// </summary>
internal static class ForeignPicture
{
    private static readonly Lazy<bool> Limited = new(SetLimits);

    public static byte[] ToPng(ReadOnlyMemory<byte> file, PictureHeader header, PictureLimits limits)
    {
        _ = Limited.Value;
        try
        {
            using var picture = new MagickImage();
            picture.Read(
                file.Span,
                new MagickReadSettings { Format = header.Format == PictureFormat.Heic ? MagickFormat.Heic : MagickFormat.Jpeg }
            );
            if ((long)picture.Width * picture.Height > limits.MaxPixels)
                throw BadPictureException.Broken();
            picture.AutoOrient();
            if (picture.ColorSpace == ColorSpace.CMYK)
                picture.TransformColorSpace(ColorProfiles.USWebCoatedSWOP, ColorProfiles.SRGB);
            else if (picture.GetColorProfile() is not null)
                picture.TransformColorSpace(ColorProfiles.SRGB);
            picture.Strip();
            picture.Depth = 8;
            return picture.ToByteArray(MagickFormat.Png24);
        }
        catch (MagickException)
        {
            throw header.Format == PictureFormat.Heic
                ? new BadPictureException(
                    "picture-heic",
                    "This HEIC picture cannot be read here. On the phone, share it as JPEG (\"most compatible\") and choose it again."
                )
                : BadPictureException.Broken();
        }
    }

    private static bool SetLimits()
    {
        var defaults = new PictureLimits();
        ResourceLimits.Width = (ulong)defaults.MaxSidePx;
        ResourceLimits.Height = (ulong)defaults.MaxSidePx;
        ResourceLimits.Area = (ulong)defaults.MaxPixels;
        ResourceLimits.Memory = 400UL * 1024 * 1024;
        ResourceLimits.Disk = 0;
        ResourceLimits.ListLength = 4;
        ResourceLimits.Thread = 1;
        return true;
    }
}
