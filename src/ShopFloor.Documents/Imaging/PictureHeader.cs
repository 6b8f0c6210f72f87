using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Imaging;

/// <summary>The kinds of picture files that are taken.</summary>
public enum PictureFormat
{
    /// <summary>JPEG.</summary>
    Jpeg,

    /// <summary>PNG, not animated.</summary>
    Png,

    /// <summary>WebP, not animated.</summary>
    Webp,

    /// <summary>HEIC, as many phones store photographs.</summary>
    Heic,
}

/// <summary>What the colours of a picture file are counted in.</summary>
public enum PictureColours
{
    /// <summary>Grey only.</summary>
    Grey,

    /// <summary>Red, green, blue.</summary>
    Rgb,

    /// <summary>Printing inks: cyan, magenta, yellow, black.</summary>
    Cmyk,
}

/// <summary>What the head of a picture file says, read before any pixel is decoded.</summary>
/// <param name="Format">Kind of file, told by its content and not by its name.</param>
/// <param name="StoredWidthPx">Pixels in a stored row.</param>
/// <param name="StoredHeightPx">Stored rows.</param>
/// <param name="Turn">How the stored rows must be turned to be looked at.</param>
/// <param name="Colours">What the colours are counted in.</param>
/// <param name="BitsPerChannel">Bits of each colour component.</param>
/// <param name="MayBeTransparent">The file can hold see-through pixels.</param>
public sealed record PictureHeader(
    PictureFormat Format,
    int StoredWidthPx,
    int StoredHeightPx,
    PictureTurn Turn,
    PictureColours Colours,
    int BitsPerChannel,
    bool MayBeTransparent
)
{
    /// <summary>Pixels across as looked at.</summary>
    public int WidthPx => Turn >= PictureTurn.Transpose ? StoredHeightPx : StoredWidthPx;

    /// <summary>Pixels down as looked at.</summary>
    public int HeightPx => Turn >= PictureTurn.Transpose ? StoredWidthPx : StoredHeightPx;

    /// <summary>Number of pixels.</summary>
    public long Pixels => (long)StoredWidthPx * StoredHeightPx;
}

/// <summary>How large a picture file may be.</summary>
/// <param name="MaxBytes">Size of the file.</param>
/// <param name="MaxPixels">Number of pixels.</param>
/// <param name="MaxSidePx">Longer side.</param>
public sealed record PictureLimits(long MaxBytes = 25 * 1024 * 1024, long MaxPixels = 40_000_000, int MaxSidePx = 12_000);

/// <summary>A file is not what its first bytes say, or ends too early. Never leaves this folder.</summary>
internal sealed class BadPictureException(string code, string text) : Exception(text)
{
    public string Code { get; } = code;

    public static BadPictureException Broken() =>
        new("picture-broken", "The picture is incomplete or damaged. Please choose the file again, or another copy of it.");
}
