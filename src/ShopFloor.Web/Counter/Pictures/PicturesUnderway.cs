using ShopFloor.Data.Safety;
using ShopFloor.Domain;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>
/// Marks pictures whose files and row are about to come or to go together, in a folder beside them. A mark that stays was left by a program
/// that was ended in between: only then a picture without a row is litter. One that a restored backup does not know yet is not marked and stays.
/// </summary>
internal sealed class PicturesUnderway(string dataFolder)
{
    private readonly string folder = Path.Combine(dataFolder, "underway");

    /// <summary>Marks it, flushed to the disk.</summary>
    public void Begin(PictureId picture)
    {
        Directory.CreateDirectory(folder);
        using (var mark = new FileStream(PathOf(picture), FileMode.Create, FileAccess.Write))
            mark.Flush(flushToDisk: true);
        Backup.FlushFolder(folder);
    }

    /// <summary>Files and row are both there, or both gone.</summary>
    public void End(PictureId picture)
    {
        if (Directory.Exists(folder))
            File.Delete(PathOf(picture));
    }

    /// <summary>Those whose mark is older than that.</summary>
    public IReadOnlyList<PictureId> LeftBefore(DateTimeOffset at) =>
        Directory.Exists(folder)
            ?
            [
                .. new DirectoryInfo(folder)
                    .GetFiles()
                    .Where(f => f.LastWriteTimeUtc < at.UtcDateTime)
                    .Select(f => Guid.TryParseExact(f.Name, "N", out var id) ? new PictureId(id) : (PictureId?)null)
                    .OfType<PictureId>(),
            ]
            : [];

    private string PathOf(PictureId picture) => Path.Combine(folder, $"{picture.Value:N}");
}
