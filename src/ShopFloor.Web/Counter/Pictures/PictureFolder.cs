using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>
/// The files of the kept pictures: in the data folder, outside of what is served, named by id alone. Of each the
/// clean copy to print from, without places and times, and a small copy for screens. The file as it came is not kept: nothing needs it, and it
/// may say where the customer lives.
/// </summary>
public sealed class PictureFolder(HostSettings settings)
{
    // Was kept once; those that are left go with the sweep.
    private const string Original = "original";
    private const string CleanCopy = "clean";
    private const string Screen = "screen";
    private const string Half = ".part";
    private readonly string folder = Path.Combine(settings.DataFolder, "pictures");
    private readonly PicturesUnderway underway = new(settings.DataFolder);

    /// <summary>Their files come now and what names them after them, or what names them goes now and their files after it.</summary>
    internal void Begin(params IEnumerable<PictureId> pictures)
    {
        foreach (var id in pictures)
            underway.Begin(id);
    }

    /// <summary>It is named, or was named all the time.</summary>
    internal void Settle(PictureId id) => underway.End(id);

    /// <summary>Those that were on their way, or were going, before that.</summary>
    internal IReadOnlyList<PictureId> LeftUnderway(DateTimeOffset before) => underway.LeftBefore(before);

    /// <summary>Writes the files of a picture; each is whole under its name or not there.</summary>
    public async Task SaveAsync(PictureId id, AdmittedPicture picture, ReadOnlyMemory<byte> screen, CancellationToken cancel)
    {
        Directory.CreateDirectory(folder);
        await WriteAsync(id, CleanCopy, picture.Clean, cancel);
        await WriteAsync(id, Screen, screen, cancel);
    }

    /// <summary>The file to print from.</summary>
    public Task<byte[]> CleanAsync(PictureId id, CancellationToken cancel) => File.ReadAllBytesAsync(PathOf(id, CleanCopy), cancel);

    /// <summary>The file to print from, read at once: a print run reads it only when its page is written.</summary>
    /// <exception cref="FileNotFoundException">It is not there; ask <see cref="Has"/> first.</exception>
    public byte[] Clean(PictureId id) => File.ReadAllBytes(PathOf(id, CleanCopy));

    /// <summary>The small copy for screens.</summary>
    public Task<byte[]> ScreenAsync(PictureId id, CancellationToken cancel) => File.ReadAllBytesAsync(PathOf(id, Screen), cancel);

    /// <summary>True when the picture's files are there.</summary>
    public bool Has(PictureId id) => File.Exists(PathOf(id, CleanCopy)) && File.Exists(PathOf(id, Screen));

    /// <summary>Takes the files away, at the next backup also beside the backups.</summary>
    public void Delete(PictureId id)
    {
        new ErasedPictures(settings.DataFolder).Add(id);
        Drop(id);
    }

    /// <summary>Takes away the files of one that nothing ever named.</summary>
    internal void Drop(PictureId id)
    {
        if (Directory.Exists(folder))
            foreach (var kind in (string[])[Original, CleanCopy, Screen])
            {
                File.Delete(PathOf(id, kind));
                File.Delete(PathOf(id, kind) + Half);
            }
        underway.End(id);
    }

    /// <summary>Takes away halves of files that were broken off, and files as they came that an earlier version kept beside their clean copy.</summary>
    /// <param name="before">What is younger may still be written.</param>
    /// <returns>How many files.</returns>
    internal int SweepFiles(DateTimeOffset before)
    {
        if (!Directory.Exists(folder))
            return 0;
        var all = new DirectoryInfo(folder);
        List<FileInfo> left =
        [
            .. all.GetFiles("*" + Half).Where(f => f.LastWriteTimeUtc < before.UtcDateTime),
            .. all.GetFiles("*." + Original).Where(f => File.Exists(Path.ChangeExtension(f.FullName, CleanCopy))),
        ];
        left.ForEach(f => f.Delete());
        return left.Count;
    }

    private async Task WriteAsync(PictureId id, string kind, ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        var path = PathOf(id, kind);
        var half = path + Half;
        await using (var file = new FileStream(half, FileMode.Create, FileAccess.Write, FileShare.None, 81_920, FileOptions.Asynchronous))
        {
            await file.WriteAsync(bytes, cancel);
            file.Flush(flushToDisk: true);
        }
        File.Move(half, path, overwrite: true);
    }

    private string PathOf(PictureId id, string kind) => Path.Combine(folder, $"{id.Value:N}.{kind}");
}
