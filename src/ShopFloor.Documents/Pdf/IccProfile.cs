using System.Buffers.Binary;
using System.Text;

namespace ShopFloor.Documents.Pdf;

/// <summary>
/// Colour profiles written by us: sRGB and its grey axis, as ICC version 2 (ICC.1:2001-04).
/// Primaries and white are those of IEC 61966-2-1 adapted to D50 (the usual rounded values), the curve is its transfer function.
/// </summary>
public static class IccProfile
{
    private const int CurveLength = 1024;

    /// <summary>sRGB, three components.</summary>
    public static byte[] Srgb { get; } =
        Build(
            "mntr",
            "RGB ",
            [
                ("desc", Description("sRGB, IEC 61966-2-1")),
                ("cprt", Text("No copyright")),
                ("wtpt", Xyz(0.9642, 1.0, 0.8249)),
                ("rXYZ", Xyz(0.43607, 0.22249, 0.01392)),
                ("gXYZ", Xyz(0.38515, 0.71687, 0.09708)),
                ("bXYZ", Xyz(0.14307, 0.06061, 0.71410)),
                ("rTRC", Curve()),
                ("gTRC", Curve()),
                ("bTRC", Curve()),
            ]
        );

    /// <summary>Grey with the sRGB transfer function, one component.</summary>
    public static byte[] SrgbGrey { get; } =
        Build(
            "mntr",
            "GRAY",
            [
                ("desc", Description("Grey with sRGB curve")),
                ("cprt", Text("No copyright")),
                ("wtpt", Xyz(0.9642, 1.0, 0.8249)),
                ("kTRC", Curve()),
            ]
        );

    /// <summary>Number of colour components of a profile for input or display, or 0 when the bytes are no profile that fits a picture.</summary>
    public static int Components(ReadOnlySpan<byte> profile)
    {
        if (
            profile.Length < 132
            || !profile[36..40].SequenceEqual("acsp"u8)
            || BinaryPrimitives.ReadUInt32BigEndian(profile) > profile.Length
        )
            return 0;
        return Encoding.ASCII.GetString(profile[16..20]) switch
        {
            "RGB " => 3,
            "GRAY" => 1,
            "CMYK" => 4,
            _ => 0,
        };
    }

    private static byte[] Build(string deviceClass, string space, (string Tag, byte[] Data)[] tags)
    {
        var offset = 128 + 4 + 12 * tags.Length;
        var size = offset + tags.Sum(t => Padded(t.Data.Length));
        var file = new byte[size];
        var head = file.AsSpan();
        BinaryPrimitives.WriteInt32BigEndian(head, size);
        BinaryPrimitives.WriteInt32BigEndian(head[8..], 0x02100000);
        Ascii(head[12..], deviceClass + space + "XYZ ");
        BinaryPrimitives.WriteInt16BigEndian(head[24..], 2026);
        BinaryPrimitives.WriteInt16BigEndian(head[26..], 1);
        BinaryPrimitives.WriteInt16BigEndian(head[28..], 1);
        Ascii(head[36..], "acsp");
        Xyz(0.9642, 1.0, 0.8249).AsSpan(8).CopyTo(head[68..]);
        BinaryPrimitives.WriteInt32BigEndian(head[128..], tags.Length);
        for (var i = 0; i < tags.Length; i++)
        {
            var entry = head[(132 + 12 * i)..];
            Ascii(entry, tags[i].Tag);
            BinaryPrimitives.WriteInt32BigEndian(entry[4..], offset);
            BinaryPrimitives.WriteInt32BigEndian(entry[8..], tags[i].Data.Length);
            tags[i].Data.CopyTo(head[offset..]);
            offset += Padded(tags[i].Data.Length);
        }
        return file;
    }

    private static int Padded(int length) => (length + 3) / 4 * 4;

    private static void Ascii(Span<byte> at, string text) => Encoding.ASCII.GetBytes(text, at);

    private static byte[] Xyz(double x, double y, double z)
    {
        var data = new byte[20];
        Ascii(data, "XYZ ");
        BinaryPrimitives.WriteInt32BigEndian(data.AsSpan(8), Fixed(x));
        BinaryPrimitives.WriteInt32BigEndian(data.AsSpan(12), Fixed(y));
        BinaryPrimitives.WriteInt32BigEndian(data.AsSpan(16), Fixed(z));
        return data;
    }

    private static int Fixed(double value) => (int)Math.Round(value * 65536, MidpointRounding.AwayFromZero);

    private static byte[] Text(string text)
    {
        var data = new byte[8 + text.Length + 1];
        Ascii(data, "text");
        Ascii(data.AsSpan(8), text);
        return data;
    }

    private static byte[] Description(string text)
    {
        // ASCII part, then an empty Unicode part (8 bytes) and an empty script part (3 + 67 bytes).
        var data = new byte[12 + text.Length + 1 + 8 + 70];
        Ascii(data, "desc");
        BinaryPrimitives.WriteInt32BigEndian(data.AsSpan(8), text.Length + 1);
        Ascii(data.AsSpan(12), text);
        return data;
    }

    private static byte[] Curve()
    {
        var data = new byte[12 + 2 * CurveLength];
        Ascii(data, "curv");
        BinaryPrimitives.WriteInt32BigEndian(data.AsSpan(8), CurveLength);
        for (var i = 0; i < CurveLength; i++)
        {
            var coded = i / (CurveLength - 1d);
            var linear = coded <= 0.04045 ? coded / 12.92 : Math.Pow((coded + 0.055) / 1.055, 2.4);
            BinaryPrimitives.WriteUInt16BigEndian(
                data.AsSpan(12 + 2 * i),
                (ushort)Math.Round(linear * 65535, MidpointRounding.AwayFromZero)
            );
        }
        return data;
    }
}
