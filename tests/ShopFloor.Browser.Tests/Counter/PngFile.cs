using System.Buffers.Binary;

namespace ShopFloor.Browser.Tests.Counter;

/// <summary>Writes a PNG (ISO/IEC 15948) of 8-bit red, green, blue, so that the tests need no imaging library.</summary>
internal static class PngFile
{
    internal static byte[] Of(int wide, int high, byte[] packedRows)
    {
        var head = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(head, wide);
        BinaryPrimitives.WriteInt32BigEndian(head.AsSpan(4), high);
        (head[8], head[9]) = (8, 2);
        return [0x89, .. "PNG\r\n\u001a\n"u8, .. Chunk("IHDR"u8, head), .. Chunk("IDAT"u8, packedRows), .. Chunk("IEND"u8, [])];
    }

    private static byte[] Chunk(ReadOnlySpan<byte> type, byte[] data)
    {
        byte[] body = [.. type, .. data];
        var (length, check) = (new byte[4], new byte[4]);
        BinaryPrimitives.WriteInt32BigEndian(length, data.Length);
        BinaryPrimitives.WriteUInt32BigEndian(check, Crc(body));
        return [.. length, .. body, .. check];
    }

    private static uint Crc(ReadOnlySpan<byte> bytes)
    {
        var crc = uint.MaxValue;
        foreach (var b in bytes)
        {
            crc ^= b;
            for (var i = 0; i < 8; i++)
                crc = (crc >> 1) ^ (0xEDB88320 & (uint)-(int)(crc & 1));
        }
        return ~crc;
    }
}
