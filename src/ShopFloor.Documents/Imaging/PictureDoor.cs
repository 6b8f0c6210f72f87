using System.Security.Cryptography;
using ShopFloor.Domain;

namespace ShopFloor.Documents.Imaging;

/// <summary>A picture file that was looked at and taken.</summary>
/// <param name="Header">Kind, size, turn and colours of the original.</param>
/// <param name="Sha256">Fingerprint of the original, 64 hexadecimal digits in lower case.</param>
/// <param name="Original">The file as it came, never kept and never served.</param>
/// <param name="Clean">
/// The file to print from and to hand out: the same pixels without places, times, texts and what hung behind the end.
/// For HEIC and for printing inks a PNG in sRGB.
/// </param>
/// <param name="CleanHeader">What the head of <paramref name="Clean"/> says.</param>
/// <param name="Notes">Plain sentences that the customer should read, such as that ink colours were turned to screen colours.</param>
public sealed record AdmittedPicture(
    PictureHeader Header,
    string Sha256,
    ReadOnlyMemory<byte> Original,
    ReadOnlyMemory<byte> Clean,
    PictureHeader CleanHeader,
    IReadOnlyList<string> Notes
);

/// <summary>
/// The only way for a picture into the house. The head is read and held against the limits before anything is decoded;
/// at most two pictures are decoded at a time, so that the program stays quick on a small machine.
/// </summary>
public sealed class PictureDoor(PictureLimits? limits = null) : IDisposable
{
    private const string FileField = "file";

    private static readonly string[] Endings = [".jpg", ".jpeg", ".jpe", ".jfif", ".png", ".webp", ".heic", ".heif", ".hif"];

    private readonly SemaphoreSlim gate = new(2);

    /// <summary>How large a picture may be.</summary>
    public PictureLimits Limits { get; } = limits ?? new PictureLimits();

    /// <summary>Reads a stream up to the limit and admits what it holds; a longer one is refused without being read to its end.</summary>
    public async Task<Result<AdmittedPicture>> AdmitAsync(Stream upload, string? fileName, CancellationToken cancel)
    {
        using var held = new MemoryStream();
        var buffer = new byte[81_920];
        while (await upload.ReadAsync(buffer, cancel) is > 0 and var count)
        {
            if (held.Length + count > Limits.MaxBytes)
                return TooManyBytes();
            held.Write(buffer, 0, count);
        }
        return await AdmitAsync(held.ToArray(), fileName, cancel);
    }

    /// <summary>Looks at a picture file and takes it, or says in a plain sentence why not.</summary>
    /// <param name="file">The whole file.</param>
    /// <param name="fileName">The name the user gave it; only its ending is looked at. May be null.</param>
    /// <param name="cancel">Stops waiting for a free place.</param>
    public async Task<Result<AdmittedPicture>> AdmitAsync(ReadOnlyMemory<byte> file, string? fileName, CancellationToken cancel)
    {
        await gate.WaitAsync(cancel);
        try
        {
            return await Task.Run(() => Admit(file, fileName), cancel);
        }
        finally
        {
            gate.Release();
        }
    }

    /// <summary>Makes a copy to look at, waiting for a free place first.</summary>
    public async Task<Result<byte[]>> CopyAsync(ReadOnlyMemory<byte> clean, CopySpec spec, CancellationToken cancel)
    {
        await gate.WaitAsync(cancel);
        try
        {
            return await Task.Run(() => Guarded(() => PictureCopy.Make(clean, HeaderWithinLimits(clean), spec)), cancel);
        }
        finally
        {
            gate.Release();
        }
    }

    /// <summary>Reads the head of a picture file and holds it against the limits; nothing is decoded.</summary>
    public Result<PictureHeader> Head(ReadOnlyMemory<byte> file) => Guarded(() => HeaderWithinLimits(file));

    /// <inheritdoc />
    public void Dispose() => gate.Dispose();

    private Result<AdmittedPicture> Admit(ReadOnlyMemory<byte> file, string? fileName)
    {
        if (file.IsEmpty)
            return new Refusal("picture-empty", "The file is empty. Please choose the picture again.", FileField);
        if (file.Length > Limits.MaxBytes)
            return TooManyBytes();
        var ending = Path.GetExtension(fileName ?? "");
        if (ending.Length > 0 && !Endings.Contains(ending, StringComparer.OrdinalIgnoreCase) && ending.Length <= 6)
            return new Refusal(
                "picture-ending",
                $"A file ending in {ending} is not taken. Please choose a JPEG, PNG, WebP or HEIC picture.",
                FileField
            );
        return Guarded(() => Take(file));
    }

    private AdmittedPicture Take(ReadOnlyMemory<byte> file)
    {
        var header = HeaderWithinLimits(file);
        var notes = new List<string>();
        byte[] clean;
        if (header.Format == PictureFormat.Heic || header.Colours == PictureColours.Cmyk)
        {
            MustBeWhole(file, header);
            clean = ForeignPicture.ToPng(file, header, Limits);
            if (header.Colours == PictureColours.Cmyk)
                notes.Add(
                    "The picture came in printing inks (CMYK). It was turned to screen colours, so please look at the colours of the proof."
                );
        }
        else
        {
            MustBeWhole(file, header);
            PictureCopy.MustDecode(file, header);
            clean = CleanCopy(file, header);
        }
        var cleanHeader = PictureSniffer.Header(clean);
        return new AdmittedPicture(header, Convert.ToHexStringLower(SHA256.HashData(file.Span)), file, clean, cleanHeader, notes);
    }

    private PictureHeader HeaderWithinLimits(ReadOnlyMemory<byte> file)
    {
        var header = PictureSniffer.Header(file);
        if (Math.Max(header.StoredWidthPx, header.StoredHeightPx) > Limits.MaxSidePx || header.Pixels > Limits.MaxPixels)
            throw new BadPictureException(
                "picture-too-many-pixels",
                $"The picture has {header.WidthPx} × {header.HeightPx} pixels. At most {Limits.MaxPixels / 1_000_000} million pixels and {Limits.MaxSidePx} on a side are taken; please save it smaller."
            );
        return header;
    }

    private static void MustBeWhole(ReadOnlyMemory<byte> file, PictureHeader header)
    {
        switch (header.Format)
        {
            case PictureFormat.Jpeg:
                JpegFile.Read(file).MustBeWhole();
                break;
            case PictureFormat.Png:
                PngFile.Read(file).MustBeWhole();
                break;
            case PictureFormat.Webp:
                WebpFile.Read(file).MustBeWhole();
                break;
            case PictureFormat.Heic:
                break;
        }
    }

    private static byte[] CleanCopy(ReadOnlyMemory<byte> file, PictureHeader header) =>
        header.Format switch
        {
            PictureFormat.Jpeg => JpegFile.Read(file).Clean(),
            PictureFormat.Png => PngFile.Read(file).Clean(header.Turn),
            _ => WebpFile.Read(file).Clean(header.Turn),
        };

    private static Result<T> Guarded<T>(Func<T> look)
    {
        try
        {
            return look();
        }
        catch (BadPictureException bad)
        {
            return new Refusal(bad.Code, bad.Message, FileField);
        }
    }

    private Refusal TooManyBytes() =>
        new(
            "picture-too-large",
            $"The file is larger than {Limits.MaxBytes / 1024 / 1024} MB. Please save the picture smaller or choose another.",
            FileField
        );
}
