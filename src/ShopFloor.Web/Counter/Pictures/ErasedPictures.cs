using System.Text;
using ShopFloor.Domain;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>
/// Ids of pictures that were taken away, in a file beside the database: only these go from the mirror beside the backups too. A picture that is
/// merely not there, because its disk or the whole data folder is missing, is needed there more than ever.
/// </summary>
internal sealed class ErasedPictures(string dataFolder)
{
    private static readonly Lock Gate = new();
    private readonly string file = Path.Combine(dataFolder, "erased-pictures.txt");

    /// <summary>Adds one, flushed to the disk.</summary>
    public void Add(PictureId picture)
    {
        lock (Gate)
        {
            using var stream = new FileStream(file, FileMode.Append, FileAccess.Write, FileShare.Read);
            stream.Write(Encoding.ASCII.GetBytes($"{picture.Value:N}\n"));
            stream.Flush(flushToDisk: true);
        }
    }

    /// <summary>All of them, as their files begin; a line that a crash broke is no file's name and harms nothing.</summary>
    public IReadOnlySet<string> Read()
    {
        lock (Gate)
            return File.Exists(file) ? File.ReadLines(file).Select(l => l.Trim()).ToHashSet(StringComparer.Ordinal) : [];
    }
}
