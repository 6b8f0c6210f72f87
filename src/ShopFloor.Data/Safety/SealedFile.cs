using System.Buffers.Binary;
using System.Security.Cryptography;

namespace ShopFloor.Data.Safety;

/// <summary>
/// A file that only a passphrase opens: AES-256-GCM in blocks of 64 KiB. Head: the letters SHOPSEAL, a version, the rounds and the salt of the key, eight
/// random bytes. The nonce of a block is these eight bytes and its number; head and "is this the last" are authenticated with each, so that nothing can be
/// changed, taken out, put in another order or cut off without being seen.
/// </summary>
public static class SealedFile
{
    /// <summary>Ending of sealed files.</summary>
    public const string Ending = ".sealed";

    private const int BlockBytes = 64 * 1024;
    private const int TagBytes = 16;
    private const int PrefixBytes = 8;
    private const int HeadBytes = 8 + 1 + 4 + SealKeys.SaltBytes + PrefixBytes;
    private const byte Version = 1;
    private static readonly byte[] Letters = "SHOPSEAL"u8.ToArray();

    /// <summary>True when the file is a sealed one by its name.</summary>
    public static bool IsSealed(string file) => file.EndsWith(Ending, StringComparison.Ordinal);

    /// <summary>Bytes of what is in a sealed file, or of a plain one as it is: by the length alone, to see whether it is whole.</summary>
    public static long PlainBytes(FileInfo file)
    {
        if (!IsSealed(file.Name))
            return file.Length;
        var body = Math.Max(0, file.Length - HeadBytes);
        return Math.Max(0, body - (body + BlockBytes + TagBytes - 1) / (BlockBytes + TagBytes) * TagBytes);
    }

    /// <summary>Seals a file: written aside, flushed, and only then given its name.</summary>
    /// <param name="from">What is sealed; it stays as it is.</param>
    /// <param name="to">The sealed file; one that is there already is replaced.</param>
    /// <param name="keys">The passphrase.</param>
    public static void Seal(string from, string to, SealKeys keys) =>
        Aside(
            to,
            target =>
            {
                using var source = File.OpenRead(from);
                var head = Head(keys.Salt);
                target.Write(head);
                using var cipher = new AesGcm(keys.For(keys.Salt, SealKeys.Rounds), TagBytes);
                var (plain, sealing, tag) = (new byte[BlockBytes], new byte[BlockBytes], new byte[TagBytes]);
                for (var number = 0u; ; number++)
                {
                    var count = source.ReadAtLeast(plain, BlockBytes, throwOnEndOfStream: false);
                    var isLast = source.Position == source.Length;
                    cipher.Encrypt(Nonce(head, number), plain.AsSpan(0, count), sealing.AsSpan(0, count), tag, Bound(head, isLast));
                    target.Write(sealing.AsSpan(0, count));
                    target.Write(tag);
                    if (isLast)
                        return;
                }
            }
        );

    /// <summary>Opens a sealed file into another.</summary>
    /// <param name="from">The sealed file.</param>
    /// <param name="to">Where to; nothing is left there when it cannot be opened.</param>
    /// <param name="keys">The passphrase.</param>
    /// <exception cref="InvalidDataException">The passphrase is another one, or the file is not as it was sealed.</exception>
    public static void Open(string from, string to, SealKeys keys) =>
        Aside(
            to,
            target =>
            {
                using var source = File.OpenRead(from);
                var head = new byte[HeadBytes];
                if (
                    source.ReadAtLeast(head, HeadBytes, throwOnEndOfStream: false) < HeadBytes
                    || !head.AsSpan().StartsWith(Letters)
                    || head[8] != Version
                )
                    throw new InvalidDataException($"{from} is no file that this program sealed.");
                var key = keys.For(head[13..(13 + SealKeys.SaltBytes)], BinaryPrimitives.ReadInt32BigEndian(head.AsSpan(9)));
                using var cipher = new AesGcm(key, TagBytes);
                var (block, plain) = (new byte[BlockBytes + TagBytes], new byte[BlockBytes]);
                for (var number = 0u; ; number++)
                {
                    var count = source.ReadAtLeast(block, block.Length, throwOnEndOfStream: false) - TagBytes;
                    var isLast = source.Position == source.Length;
                    Decrypt(cipher, (from, head, number, isLast), block, plain, count);
                    target.Write(plain.AsSpan(0, count));
                    if (isLast)
                        return;
                }
            }
        );

    private static void Decrypt(
        AesGcm cipher,
        (string File, byte[] Head, uint Number, bool IsLast) at,
        byte[] block,
        byte[] plain,
        int count
    )
    {
        try
        {
            if (count < 0)
                throw new InvalidDataException($"{at.File} is cut off.");
            var (nonce, bound) = (Nonce(at.Head, at.Number), Bound(at.Head, at.IsLast));
            cipher.Decrypt(nonce, block.AsSpan(0, count), block.AsSpan(count, TagBytes), plain.AsSpan(0, count), bound);
        }
        catch (AuthenticationTagMismatchException no)
        {
            throw new InvalidDataException($"{at.File} cannot be opened: the passphrase is another one, or the file was changed.", no);
        }
    }

    private static void Aside(string to, Action<FileStream> write)
    {
        var part = $"{to}.{Guid.NewGuid():N}.part";
        try
        {
            using (var target = new FileStream(part, FileMode.CreateNew, FileAccess.Write))
            {
                write(target);
                target.Flush(flushToDisk: true);
            }
            File.Move(part, to, overwrite: true);
            Backup.FlushFolder(Path.GetDirectoryName(Path.GetFullPath(to))!);
        }
        finally
        {
            File.Delete(part);
        }
    }

    private static byte[] Head(byte[] salt)
    {
        var head = new byte[HeadBytes];
        Letters.CopyTo(head, 0);
        head[8] = Version;
        BinaryPrimitives.WriteInt32BigEndian(head.AsSpan(9), SealKeys.Rounds);
        salt.CopyTo(head, 13);
        RandomNumberGenerator.Fill(head.AsSpan(HeadBytes - PrefixBytes));
        return head;
    }

    private static byte[] Nonce(byte[] head, uint number)
    {
        var nonce = new byte[PrefixBytes + 4];
        head.AsSpan(HeadBytes - PrefixBytes).CopyTo(nonce);
        BinaryPrimitives.WriteUInt32BigEndian(nonce.AsSpan(PrefixBytes), number);
        return nonce;
    }

    private static byte[] Bound(byte[] head, bool isLast) => [.. head, isLast ? (byte)1 : (byte)0];
}
