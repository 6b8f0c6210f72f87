using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Documents;

/// <summary>
/// The bytes of kept pictures, outside the web root, under their ids: the original as it came, which is never handed out, and the
/// clean copy that is printed and shown.
/// </summary>
public sealed class PictureFiles(HostSettings settings)
{
    private readonly string folder = Path.Combine(settings.DataFolder, "pictures");

    /// <summary>Writes both files, flushed, before the command that names them commits.</summary>
    public void Keep(PictureId id, AdmittedPicture picture)
    {
        Directory.CreateDirectory(folder);
        Write(PathOf(id, "original"), picture.Original.Span);
        Write(PathOf(id, "clean"), picture.Clean.Span);
    }

    /// <summary>True when the clean copy is there.</summary>
    public bool Has(PictureId id) => File.Exists(PathOf(id, "clean"));

    /// <summary>The clean copy.</summary>
    /// <exception cref="FileNotFoundException">It is not there; ask <see cref="Has"/> first.</exception>
    public byte[] Clean(PictureId id) => File.ReadAllBytes(PathOf(id, "clean"));

    /// <summary>Forgets a picture; no fault when it is gone already.</summary>
    public void Drop(PictureId id)
    {
        File.Delete(PathOf(id, "original"));
        File.Delete(PathOf(id, "clean"));
    }

    private static void Write(string path, ReadOnlySpan<byte> bytes)
    {
        var part = path + ".part";
        using (var file = new FileStream(part, FileMode.Create, FileAccess.Write, FileShare.None))
        {
            file.Write(bytes);
            file.Flush(flushToDisk: true);
        }
        File.Move(part, path, overwrite: true);
    }

    private string PathOf(PictureId id, string which) => Path.Combine(folder, $"{id.Value:N}.{which}");
}
