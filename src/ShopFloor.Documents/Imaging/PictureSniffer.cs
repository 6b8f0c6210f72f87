namespace ShopFloor.Documents.Imaging;

/// <summary>Tells what a file is by its first bytes, whatever its name says.</summary>
internal static class PictureSniffer
{
    private const string TakenKinds = "Please choose a JPEG, PNG, WebP or HEIC picture.";

    public static PictureHeader Header(ReadOnlyMemory<byte> file)
    {
        var span = file.Span;
        if (JpegFile.Is(span))
            return JpegFile.Read(file).Header();
        if (PngFile.Is(span))
            return PngFile.Read(file).Header();
        if (WebpFile.Is(span))
            return WebpFile.Read(file).Header();
        if (HeicFile.Is(span))
            return HeicFile.Header(span);
        throw new BadPictureException("picture-kind", $"{Named(span)} {TakenKinds}");
    }

    private static string Named(ReadOnlySpan<byte> file)
    {
        if (file.StartsWith("GIF8"u8))
            return "GIF pictures are not taken, they have too few colours.";
        if (file.StartsWith("%PDF"u8))
            return "This is a PDF document, not a picture.";
        if (file.StartsWith("II*\0"u8) || file.StartsWith("MM\0*"u8))
            return "TIFF pictures are not taken.";
        if (file.StartsWith("BM"u8))
            return "BMP pictures are not taken.";
        if (file[..Math.Min(file.Length, 1024)].IndexOf("<svg"u8) >= 0)
            return "SVG drawings are not taken.";
        return "This file is not a picture that can be read here.";
    }
}
