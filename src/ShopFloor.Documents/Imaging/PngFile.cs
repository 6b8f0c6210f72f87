using System.Buffers.Binary;
using System.Text;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Imaging;

/// <summary>The chunks of a PNG file (ISO/IEC 15948), found without decoding.</summary>
internal sealed class PngFile
{
    private static readonly byte[] Magic = [0x89, (byte)'P', (byte)'N', (byte)'G', 13, 10, 26, 10];

    /// <summary>Chunks that change how pixels look; all others are left out of clean copies.</summary>
    private static readonly string[] Kept =
    [
        "IHDR",
        "PLTE",
        "IDAT",
        "IEND",
        "tRNS",
        "gAMA",
        "cHRM",
        "sRGB",
        "iCCP",
        "sBIT",
        "cICP",
        "pHYs",
    ];

    private readonly ReadOnlyMemory<byte> file;
    private readonly List<Chunk> chunks = [];

    private readonly record struct Chunk(string Type, int Start, int Length)
    {
        public int DataStart => Start + 8;

        public int End => DataStart + Length + 4;
    }

    private PngFile(ReadOnlyMemory<byte> file) => this.file = file;

    public int BitDepth => Data("IHDR").Span[8];

    public int ColourType => Data("IHDR").Span[9];

    public bool Interlaced => Data("IHDR").Span[12] != 0;

    public bool HasTransparency => ColourType is 4 or 6 || Has("tRNS");

    public static bool Is(ReadOnlySpan<byte> file) => file.StartsWith(Magic);

    public static PngFile Read(ReadOnlyMemory<byte> file)
    {
        var png = new PngFile(file);
        png.FindChunks();
        if (png.chunks.Count == 0 || png.chunks[0] is not { Type: "IHDR", Length: 13 })
            throw BadPictureException.Broken();
        if (png.Has("acTL"))
            throw new BadPictureException("picture-animated", "This is a moving picture. Please choose a still one.");
        return png;
    }

    public PictureHeader Header()
    {
        var head = Data("IHDR").Span;
        var (width, height) = (BinaryPrimitives.ReadUInt32BigEndian(head), BinaryPrimitives.ReadUInt32BigEndian(head[4..]));
        if (width is 0 or > int.MaxValue || height is 0 or > int.MaxValue || ColourType is not (0 or 2 or 3 or 4 or 6))
            throw BadPictureException.Broken();
        var colours = ColourType is 0 or 4 ? PictureColours.Grey : PictureColours.Rgb;
        var turn = Has("eXIf") ? ExifTurn.Read(Data("eXIf").Span) : PictureTurn.None;
        return new PictureHeader(PictureFormat.Png, (int)width, (int)height, turn, colours, BitDepth, HasTransparency);
    }

    /// <summary>Throws unless the file has its picture data and its end.</summary>
    public void MustBeWhole()
    {
        if (!Has("IDAT") || !Has("IEND"))
            throw BadPictureException.Broken();
    }

    /// <summary>The same pixels, bit for bit, without texts, times, places and what hangs behind the end.</summary>
    public byte[] Clean(PictureTurn turn)
    {
        using var clean = new MemoryStream();
        clean.Write(Magic);
        foreach (var chunk in chunks.Where(c => Kept.Contains(c.Type)))
        {
            if (chunk.Type == "IDAT" && turn != PictureTurn.None && clean.Length > 0)
            {
                WriteChunk(clean, "eXIf", ExifTurn.Write(turn));
                turn = PictureTurn.None;
            }
            clean.Write(file.Span[chunk.Start..chunk.End]);
            if (chunk.Type == "IEND")
                break;
        }
        return clean.ToArray();
    }

    public bool Has(string type) => chunks.Exists(c => c.Type == type);

    public ReadOnlyMemory<byte> Data(string type)
    {
        var chunk = chunks.Find(c => c.Type == type);
        return file.Slice(chunk.DataStart, chunk.Length);
    }

    /// <summary>The compressed rows, joined.</summary>
    public byte[] PictureData()
    {
        var parts = chunks.Where(c => c.Type == "IDAT").ToList();
        var joined = new byte[parts.Sum(c => c.Length)];
        var at = 0;
        foreach (var part in parts)
        {
            file.Span.Slice(part.DataStart, part.Length).CopyTo(joined.AsSpan(at));
            at += part.Length;
        }
        return joined;
    }

    private void FindChunks()
    {
        var span = file.Span;
        for (var at = Magic.Length; at + 12 <= span.Length; )
        {
            var length = BinaryPrimitives.ReadUInt32BigEndian(span[at..]);
            if (length > span.Length - at - 12)
                return;
            var chunk = new Chunk(Encoding.Latin1.GetString(span.Slice(at + 4, 4)), at, (int)length);
            chunks.Add(chunk);
            if (chunk.Type == "IEND")
                return;
            at = chunk.End;
        }
    }

    private static void WriteChunk(Stream target, string type, byte[] data)
    {
        var chunk = new byte[12 + data.Length];
        BinaryPrimitives.WriteInt32BigEndian(chunk, data.Length);
        Encoding.ASCII.GetBytes(type, chunk.AsSpan(4));
        data.CopyTo(chunk, 8);
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(8 + data.Length), Crc(chunk.AsSpan(4, 4 + data.Length)));
        target.Write(chunk);
    }

    /// <summary>CRC-32 as ISO/IEC 15948, annex D.</summary>
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
