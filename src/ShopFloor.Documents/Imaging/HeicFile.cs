using System.Buffers.Binary;
using System.Text;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Imaging;

/// <summary>The head of a HEIC file (ISO/IEC 23008-12): its brand, and the largest picture size that its properties name.</summary>
internal static class HeicFile
{
    private static readonly string[] Brands = ["heic", "heix", "heim", "heis", "mif1", "msf1", "hevc", "hevx"];

    public static bool Is(ReadOnlySpan<byte> file) =>
        file.Length >= 12
        && file[4..8].SequenceEqual("ftyp"u8)
        && Brands.Contains(Encoding.Latin1.GetString(file[8..12]), StringComparer.Ordinal);

    public static PictureHeader Header(ReadOnlySpan<byte> file)
    {
        var brand = Encoding.Latin1.GetString(file[8..12]);
        if (brand is "msf1" or "hevc" or "hevx")
            throw new BadPictureException("picture-animated", "This is a moving picture. Please choose a still one.");
        var meta = Find(file, "meta"u8);
        if (meta.Length <= 4)
            throw BadPictureException.Broken();
        var (width, height) = Largest(Find(Find(meta[4..], "iprp"u8), "ipco"u8));
        // The turn is a property of the picture that the decoder applies by itself.
        return new PictureHeader(PictureFormat.Heic, width, height, PictureTurn.None, PictureColours.Rgb, 8, MayBeTransparent: false);
    }

    private static (int Width, int Height) Largest(ReadOnlySpan<byte> properties)
    {
        var (width, height) = (0L, 0L);
        for (var at = 0; Length(properties, at) is > 0 and var length; at += length)
            if (properties.Slice(at + 4, 4).SequenceEqual("ispe"u8) && length >= 20)
            {
                width = Math.Max(width, BinaryPrimitives.ReadUInt32BigEndian(properties[(at + 12)..]));
                height = Math.Max(height, BinaryPrimitives.ReadUInt32BigEndian(properties[(at + 16)..]));
            }
        return width is > 0 and <= int.MaxValue && height is > 0 and <= int.MaxValue
            ? ((int)width, (int)height)
            : throw BadPictureException.Broken();
    }

    /// <summary>What the first box of a type holds, or nothing.</summary>
    private static ReadOnlySpan<byte> Find(ReadOnlySpan<byte> boxes, ReadOnlySpan<byte> type)
    {
        for (var at = 0; Length(boxes, at) is > 0 and var length; at += length)
            if (boxes.Slice(at + 4, 4).SequenceEqual(type))
                return boxes.Slice(at + 8, length - 8);
        return [];
    }

    /// <summary>Length of the box at a place with its head of eight bytes; 0 when there is none that fits.</summary>
    private static int Length(ReadOnlySpan<byte> boxes, int at)
    {
        if (at + 8 > boxes.Length)
            return 0;
        var length = BinaryPrimitives.ReadUInt32BigEndian(boxes[at..]);
        return length >= 8 && length <= boxes.Length - at ? (int)length : 0;
    }
}
