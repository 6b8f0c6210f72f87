using System.IO.Compression;
using System.Text;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Imaging;

/// <summary>Turns clean picture files into pictures for paper. Bytes are read when the document is saved, one picture at a time.</summary>
public static class PrintPicture
{
    private const string Start = "/Type/XObject/Subtype/Image/Interpolate false";

    /// <summary>A picture whose file is in memory.</summary>
    public static PdfPicture Of(AdmittedPicture picture) => Of(picture.CleanHeader, () => picture.Clean);

    /// <summary>A picture whose file is read when it is needed.</summary>
    /// <param name="header">What its head says.</param>
    /// <param name="read">Reads the whole clean file; must give the file that the head was read from.</param>
    public static PdfPicture Of(PictureHeader header, Func<ReadOnlyMemory<byte>> read) =>
        new(header.StoredWidthPx, header.StoredHeightPx, header.Turn, () => Body(header, read()));

    /// <summary>A picture from a clean file in memory, such as a logo.</summary>
    /// <exception cref="ArgumentException">The file is no picture that went through the door.</exception>
    public static PdfPicture Of(ReadOnlyMemory<byte> clean)
    {
        try
        {
            return Of(PictureSniffer.Header(clean), () => clean);
        }
        catch (BadPictureException bad)
        {
            throw new ArgumentException(bad.Message, nameof(clean), bad);
        }
    }

    private static PictureBody Body(PictureHeader header, ReadOnlyMemory<byte> file)
    {
        if (header.Format == PictureFormat.Jpeg)
            return JpegBody(header, file);
        if (header.Format == PictureFormat.Png && PngFile.Read(file) is { Interlaced: false, HasTransparency: false } png)
            return PngBody(header, png);
        return DecodedBody(header, file);
    }

    /// <summary>The file itself is the stream: PDF reads JPEG as it is.</summary>
    private static PictureBody JpegBody(PictureHeader header, ReadOnlyMemory<byte> file)
    {
        var jpeg = JpegFile.Read(file);
        var (space, parts) = ColourSpace(header.Colours, jpeg.ColourProfile());
        var inverted = header.Colours == PictureColours.Cmyk && jpeg.HasAdobeMarker ? "/Decode[1 0 1 0 1 0 1 0]" : "";
        var entries = $"{Start}{Size(header)}/BitsPerComponent 8/ColorSpace {space}/Filter/DCTDecode{inverted}";
        return new PictureBody(entries, file.Length, target => target.Write(file.Span)) { Parts = parts };
    }

    /// <summary>The compressed rows of a PNG are what PDF calls predictor 15.</summary>
    private static PictureBody PngBody(PictureHeader header, PngFile png)
    {
        var (space, parts) = ColourSpace(header.Colours, PngProfile(png));
        if (png.ColourType == 3)
            space = $"[/Indexed {space} {png.Data("PLTE").Length / 3 - 1} <{Convert.ToHexString(png.Data("PLTE").Span)}>]";
        var colours = png.ColourType == 2 ? 3 : 1;
        var entries = new StringBuilder($"{Start}{Size(header)}/BitsPerComponent {png.BitDepth}/ColorSpace {space}/Filter/FlateDecode");
        entries.Append(
            CultureInfo.InvariantCulture,
            $"/DecodeParms<</Predictor 15/Colors {colours}/BitsPerComponent {png.BitDepth}/Columns {header.StoredWidthPx}>>"
        );
        return PictureBody.Of(entries.ToString(), png.PictureData()) with { Parts = parts };
    }

    /// <summary>Everything else: all pixels unchanged, newly packed without loss, transparency as a mask of its own.</summary>
    private static PictureBody DecodedBody(PictureHeader header, ReadOnlyMemory<byte> file)
    {
        using var bitmap = PictureCopy.DecodeExact(file, header);
        var pixels = bitmap.GetPixelSpan();
        var count = header.StoredWidthPx * header.StoredHeightPx;
        var colours = new byte[count * 3];
        var alpha = new byte[count];
        for (var i = 0; i < count; i++)
        {
            pixels.Slice(i * 4, 3).CopyTo(colours.AsSpan(i * 3));
            alpha[i] = pixels[i * 4 + 3];
        }
        var packed = $"{Start}{Size(header)}/BitsPerComponent 8/Filter/FlateDecode";
        var mask = PictureBody.Of($"{packed}/ColorSpace/DeviceGray", Deflate(alpha));
        return header.MayBeTransparent
            ? PictureBody.Of($"{packed}/ColorSpace[/ICCBased {{rgb}}]/SMask {{0}}", Deflate(colours)) with
            {
                Parts = [mask],
            }
            : PictureBody.Of($"{packed}/ColorSpace[/ICCBased {{rgb}}]", Deflate(colours));
    }

    private static string Size(PictureHeader header) =>
        string.Create(CultureInfo.InvariantCulture, $"/Width {header.StoredWidthPx}/Height {header.StoredHeightPx}");

    /// <summary>The picture's own profile where it has one that fits, else sRGB.</summary>
    private static (string Space, IReadOnlyList<PictureBody> Parts) ColourSpace(PictureColours colours, byte[] profile)
    {
        var components = colours switch
        {
            PictureColours.Grey => 1,
            PictureColours.Rgb => 3,
            _ => 4,
        };
        if (IccProfile.Components(profile) == components)
            return ("[/ICCBased {0}]", [PictureBody.Of($"/N {components}/Filter/FlateDecode", Deflate(profile))]);
        return (
            components switch
            {
                1 => "[/ICCBased {grey}]",
                3 => "[/ICCBased {rgb}]",
                _ => "/DeviceCMYK",
            },
            []
        );
    }

    /// <summary>An iCCP chunk holds a name, a zero, a method byte and the packed profile.</summary>
    private static byte[] PngProfile(PngFile png)
    {
        if (!png.Has("iCCP"))
            return [];
        var chunk = png.Data("iCCP");
        var name = chunk.Span.IndexOf((byte)0);
        if (name < 0 || name + 2 > chunk.Length)
            return [];
        using var unpacked = new MemoryStream();
        try
        {
            using var zip = new ZLibStream(new MemoryStream(chunk[(name + 2)..].ToArray()), CompressionMode.Decompress);
            CopyAtMost(zip, unpacked, 4 * 1024 * 1024);
        }
        catch (InvalidDataException)
        {
            // A broken profile counts as none: the picture is then taken as sRGB, as every viewer does.
            return [];
        }
        return unpacked.ToArray();
    }

    private static void CopyAtMost(Stream from, Stream to, int limit)
    {
        var buffer = new byte[8192];
        while (to.Length < limit && from.Read(buffer) is > 0 and var count)
            to.Write(buffer, 0, count);
    }

    private static byte[] Deflate(byte[] data)
    {
        using var packed = new MemoryStream();
        using (var zip = new ZLibStream(packed, CompressionLevel.Fastest, leaveOpen: true))
            zip.Write(data);
        return packed.ToArray();
    }
}
