using System.Buffers.Binary;
using System.Text;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Imaging;

/// <summary>The chunks of a WebP file (RFC 9649), found without decoding.</summary>
internal sealed class WebpFile
{
    private const byte AnimationFlag = 0x02;
    private const byte XmpFlag = 0x04;
    private const byte ExifFlag = 0x08;
    private const byte AlphaFlag = 0x10;

    private readonly ReadOnlyMemory<byte> file;
    private readonly List<(string Type, int Start, int Length)> chunks = [];

    private WebpFile(ReadOnlyMemory<byte> file) => this.file = file;

    public static bool Is(ReadOnlySpan<byte> file) => file.Length >= 12 && file.StartsWith("RIFF"u8) && file[8..12].SequenceEqual("WEBP"u8);

    public static WebpFile Read(ReadOnlyMemory<byte> file)
    {
        var webp = new WebpFile(file);
        webp.FindChunks();
        if (webp.chunks.Count == 0)
            throw BadPictureException.Broken();
        if (webp.chunks.Exists(c => c.Type is "ANIM" or "ANMF"))
            throw new BadPictureException("picture-animated", "This is a moving picture. Please choose a still one.");
        return webp;
    }

    public PictureHeader Header()
    {
        var (width, height, alpha) = Size();
        var exif = chunks.Find(c => c.Type == "EXIF");
        var turn = exif.Length > 0 ? ExifTurn.Read(WithoutExifMark(Data(exif).Span)) : PictureTurn.None;
        return new PictureHeader(PictureFormat.Webp, width, height, turn, PictureColours.Rgb, 8, alpha);
    }

    /// <summary>Throws unless the file is as long as it says and has its picture data.</summary>
    public void MustBeWhole()
    {
        var announced = BinaryPrimitives.ReadUInt32LittleEndian(file.Span[4..]) + 8L;
        if (announced > file.Length + 1 || !chunks.Exists(c => c.Type is "VP8 " or "VP8L"))
            throw BadPictureException.Broken();
    }

    /// <summary>The same coded picture without EXIF and XMP but for the turn, and without what hangs behind the end.</summary>
    public byte[] Clean(PictureTurn turn)
    {
        using var clean = new MemoryStream();
        clean.Write("RIFF\0\0\0\0WEBP"u8);
        foreach (var chunk in chunks.Where(c => c.Type is "VP8X" or "ICCP" or "ALPH" or "VP8 " or "VP8L"))
        {
            var data = Data(chunk).ToArray();
            if (chunk.Type == "VP8X")
                data[0] = (byte)((data[0] & ~(XmpFlag | ExifFlag | AnimationFlag)) | (turn == PictureTurn.None ? 0 : ExifFlag));
            WriteChunk(clean, chunk.Type, data);
        }
        if (turn != PictureTurn.None)
            WriteChunk(clean, "EXIF", ExifTurn.Write(turn));
        var bytes = clean.ToArray();
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(4), bytes.Length - 8);
        return bytes;
    }

    private (int Width, int Height, bool Alpha) Size()
    {
        var (type, start, length) = chunks[0];
        var data = file.Span.Slice(start, length);
        switch (type)
        {
            case "VP8X" when length >= 10:
                return (1 + U24(data[4..]), 1 + U24(data[7..]), (data[0] & AlphaFlag) != 0);
            case "VP8L" when length >= 5 && data[0] == 0x2F:
                var bits = BinaryPrimitives.ReadUInt32LittleEndian(data[1..]);
                return (1 + (int)(bits & 0x3FFF), 1 + (int)((bits >> 14) & 0x3FFF), (bits & 0x10000000) != 0);
            case "VP8 " when length >= 10 && data[3] == 0x9D && data[4] == 0x01 && data[5] == 0x2A:
                return (
                    BinaryPrimitives.ReadUInt16LittleEndian(data[6..]) & 0x3FFF,
                    BinaryPrimitives.ReadUInt16LittleEndian(data[8..]) & 0x3FFF,
                    false
                );
            default:
                throw BadPictureException.Broken();
        }
    }

    private static int U24(ReadOnlySpan<byte> at) => at[0] | (at[1] << 8) | (at[2] << 16);

    private static ReadOnlySpan<byte> WithoutExifMark(ReadOnlySpan<byte> exif) => exif.StartsWith("Exif\0\0"u8) ? exif[6..] : exif;

    private ReadOnlyMemory<byte> Data((string Type, int Start, int Length) chunk) => file.Slice(chunk.Start, chunk.Length);

    private void FindChunks()
    {
        var span = file.Span;
        for (var at = 12; at + 8 <= span.Length; )
        {
            var length = BinaryPrimitives.ReadUInt32LittleEndian(span[(at + 4)..]);
            if (length > span.Length - at - 8)
                return;
            chunks.Add((Encoding.Latin1.GetString(span.Slice(at, 4)), at + 8, (int)length));
            at += 8 + (int)(length + (length & 1));
        }
    }

    private static void WriteChunk(Stream target, string type, byte[] data)
    {
        Span<byte> head = stackalloc byte[8];
        Encoding.ASCII.GetBytes(type, head);
        BinaryPrimitives.WriteInt32LittleEndian(head[4..], data.Length);
        target.Write(head);
        target.Write(data);
        if ((data.Length & 1) != 0)
            target.WriteByte(0);
    }
}
