using System.Buffers.Binary;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Imaging;

/// <summary>The segments of a JPEG file (ITU-T T.81, annex B), found without decoding.</summary>
internal sealed class JpegFile
{
    private const byte App0 = 0xE0;
    private const byte App1 = 0xE1;
    private const byte App2 = 0xE2;
    private const byte App14 = 0xEE;
    private const byte Comment = 0xFE;
    private const byte StartOfScan = 0xDA;
    private const byte EndOfImage = 0xD9;

    private readonly ReadOnlyMemory<byte> file;
    private readonly List<Segment> segments = [];

    /// <summary>From the 0xFF of the marker up to where the next one begins.</summary>
    private readonly record struct Segment(byte Marker, int Start, int End);

    private JpegFile(ReadOnlyMemory<byte> file) => this.file = file;

    /// <summary>An Adobe marker says that ink values stand inverted.</summary>
    public bool HasAdobeMarker => segments.Exists(s => s.Marker == App14 && Payload(s).Span.StartsWith("Adobe"u8));

    public static bool Is(ReadOnlySpan<byte> file) => file.Length > 3 && file[0] == 0xFF && file[1] == 0xD8 && file[2] == 0xFF;

    public static JpegFile Read(ReadOnlyMemory<byte> file)
    {
        var jpeg = new JpegFile(file);
        jpeg.FindSegments();
        return jpeg;
    }

    public PictureHeader Header()
    {
        var frame = segments.Find(s => IsFrame(s.Marker));
        if (frame.End - frame.Start < 11)
            throw BadPictureException.Broken();
        var head = Payload(frame).Span;
        int height = BinaryPrimitives.ReadUInt16BigEndian(head[1..]);
        int width = BinaryPrimitives.ReadUInt16BigEndian(head[3..]);
        if (width == 0 || height == 0)
            throw BadPictureException.Broken();
        if (frame.Marker > 0xC2 || head[0] != 8 || head[5] is not (1 or 3 or 4))
            throw new BadPictureException(
                "picture-kind",
                "This is an unusual kind of JPEG that is not read here. Please save it as an ordinary JPEG or PNG."
            );
        var colours = head[5] switch
        {
            1 => PictureColours.Grey,
            3 => PictureColours.Rgb,
            _ => PictureColours.Cmyk,
        };
        return new PictureHeader(PictureFormat.Jpeg, width, height, Turn(), colours, 8, MayBeTransparent: false);
    }

    /// <summary>Throws unless the file has a scan and its end.</summary>
    public void MustBeWhole()
    {
        if (!segments.Exists(s => s.Marker == StartOfScan) || !segments.Exists(s => s.Marker == EndOfImage))
            throw BadPictureException.Broken();
    }

    /// <summary>The same coded picture, bit for bit, without comments, times, places, inner previews and what hangs behind the end.</summary>
    public byte[] Clean()
    {
        using var clean = new MemoryStream();
        clean.Write([0xFF, 0xD8]);
        var turn = Turn();
        foreach (var segment in segments)
        {
            if (turn != PictureTurn.None && segment.Marker != App0)
            {
                WriteTurn(clean, turn);
                turn = PictureTurn.None;
            }
            if (IsKept(segment))
                clean.Write(file.Span[segment.Start..segment.End]);
            if (segment.Marker == EndOfImage)
                break;
        }
        return clean.ToArray();
    }

    /// <summary>The colour profile, joined from its parts (ICC.1, annex B.4), or empty.</summary>
    public byte[] ColourProfile()
    {
        var parts = segments.Where(IsProfile).Select(s => Payload(s)).OrderBy(p => p.Span[12]).ToList();
        using var joined = new MemoryStream();
        foreach (var part in parts)
            joined.Write(part.Span[14..]);
        return joined.ToArray();
    }

    private bool IsKept(Segment segment) =>
        segment.Marker switch
        {
            App0 => Payload(segment).Span.StartsWith("JFIF\0"u8),
            App2 => IsProfile(segment),
            App14 => Payload(segment).Span.StartsWith("Adobe"u8),
            >= 0xE0 and <= 0xEF or Comment => false,
            _ => true,
        };

    private bool IsProfile(Segment segment) =>
        segment.Marker == App2 && segment.End - segment.Start > 18 && Payload(segment).Span.StartsWith("ICC_PROFILE\0"u8);

    private PictureTurn Turn()
    {
        var exif = segments.Find(s => s.Marker == App1 && Payload(s).Span.StartsWith("Exif\0\0"u8));
        return exif.End == 0 ? PictureTurn.None : ExifTurn.Read(Payload(exif).Span[6..]);
    }

    private ReadOnlyMemory<byte> Payload(Segment segment) =>
        segment.End - segment.Start <= 4 ? ReadOnlyMemory<byte>.Empty : file[(segment.Start + 4)..segment.End];

    private static bool IsFrame(byte marker) => marker is >= 0xC0 and <= 0xCF and not (0xC4 or 0xC8 or 0xCC);

    private void FindSegments()
    {
        var span = file.Span;
        for (var at = 2; at + 2 <= span.Length; )
        {
            if (span[at] != 0xFF)
                return;
            var marker = span[at + 1];
            if (marker == 0xFF)
            {
                at++;
                continue;
            }
            var end = marker == EndOfImage ? at + 2 : SegmentEnd(span, at);
            if (end > span.Length)
                return;
            if (marker == StartOfScan)
                end = ScanEnd(span, end);
            segments.Add(new Segment(marker, at, end));
            if (marker == EndOfImage)
                return;
            at = end;
        }
    }

    private static int SegmentEnd(ReadOnlySpan<byte> span, int at)
    {
        if (at + 4 > span.Length)
            return int.MaxValue;
        int length = BinaryPrimitives.ReadUInt16BigEndian(span[(at + 2)..]);
        return length < 2 ? int.MaxValue : at + 2 + length;
    }

    /// <summary>Coded data goes on until a marker that is neither a stuffed zero nor a restart.</summary>
    private static int ScanEnd(ReadOnlySpan<byte> span, int at)
    {
        while (true)
        {
            var next = at >= span.Length ? -1 : span[at..].IndexOf((byte)0xFF);
            if (next < 0 || at + next + 1 >= span.Length)
                return span.Length;
            at += next;
            if (span[at + 1] is not (0 or (>= 0xD0 and <= 0xD7)))
                return at;
            at += 2;
        }
    }

    private static void WriteTurn(Stream target, PictureTurn turn)
    {
        var tiff = ExifTurn.Write(turn);
        target.Write([0xFF, App1, 0, (byte)(2 + 6 + tiff.Length)]);
        target.Write("Exif\0\0"u8);
        target.Write(tiff);
    }
}
