using System.Text;
using ShopFloor.Domain;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>
/// Ids of pictures that were taken away, in a file beside the database: only these go from the mirror beside the backups too. A picture that is
/// merely not there, because its disk or the whole data folder is missing, is needed there more than ever. A line of its own says whose the
/// mirror was when it was first looked through for what was erased before there was this list.
/// </summary>
internal sealed class ErasedPictures(string dataFolder)
{
    /// <summary>The line of a mirror that was found to be this shop's, or empty.</summary>
    public const string Own = "mirror of this shop";

    /// <summary>The line of a mirror in which nothing was this shop's.</summary>
    public const string Other = "mirror of another shop";

    private static readonly Lock Gate = new();
    private readonly string file = Path.Combine(dataFolder, "erased-pictures.txt");

    /// <summary>Adds one, flushed to the disk.</summary>
    public void Add(PictureId picture) => Write([$"{picture.Value:N}"]);

    /// <summary>Adds those that were erased before there was the list, and that the mirror was looked through for them.</summary>
    /// <param name="whose"><see cref="Own"/> or <see cref="Other"/>.</param>
    /// <param name="pictures">As their files begin.</param>
    public void Settle(string whose, IEnumerable<string> pictures) => Write([.. pictures, whose]);

    /// <summary>All of them, as their files begin; a line that a crash broke is no file's name and harms nothing.</summary>
    public IReadOnlySet<string> Read()
    {
        lock (Gate)
            return File.Exists(file) ? File.ReadLines(file).Select(l => l.Trim()).ToHashSet(StringComparer.Ordinal) : [];
    }

    private void Write(IEnumerable<string> lines)
    {
        lock (Gate)
        {
            using var stream = new FileStream(file, FileMode.Append, FileAccess.Write, FileShare.Read);
            stream.Write(Encoding.ASCII.GetBytes(string.Concat(lines.Select(l => l + "\n"))));
            stream.Flush(flushToDisk: true);
        }
    }
}
