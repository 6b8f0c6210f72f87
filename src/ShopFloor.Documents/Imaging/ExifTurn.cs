using System.Buffers.Binary;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Imaging;

/// <summary>The one EXIF entry that matters for looking at a picture: Orientation, tag 0x0112 (CIPA DC-008).</summary>
internal static class ExifTurn
{
    private const ushort Orientation = 0x0112;

    /// <summary>Reads the tag out of a TIFF block; anything odd counts as "as stored".</summary>
    public static PictureTurn Read(ReadOnlySpan<byte> tiff)
    {
        if (tiff.Length < 14)
            return PictureTurn.None;
        var little = tiff[0] == 'I';
        if (!little && tiff[0] != 'M')
            return PictureTurn.None;
        var directory = U32(tiff[4..], little);
        if (directory > tiff.Length - 2)
            return PictureTurn.None;
        var entries = U16(tiff[(int)directory..], little);
        for (var i = 0; i < entries; i++)
        {
            var at = (int)directory + 2 + 12 * i;
            if (at + 12 > tiff.Length)
                return PictureTurn.None;
            if (U16(tiff[at..], little) == Orientation)
                return U16(tiff[(at + 8)..], little) is >= 1 and <= 8 and var turn ? (PictureTurn)turn : PictureTurn.None;
        }
        return PictureTurn.None;
    }

    /// <summary>A TIFF block that says the turn and nothing else.</summary>
    public static byte[] Write(PictureTurn turn) =>
        [(byte)'M', (byte)'M', 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, (byte)turn, 0, 0, 0, 0, 0, 0];

    private static ushort U16(ReadOnlySpan<byte> at, bool little) =>
        little ? BinaryPrimitives.ReadUInt16LittleEndian(at) : BinaryPrimitives.ReadUInt16BigEndian(at);

    private static uint U32(ReadOnlySpan<byte> at, bool little) =>
        little ? BinaryPrimitives.ReadUInt32LittleEndian(at) : BinaryPrimitives.ReadUInt32BigEndian(at);
}
