using ShopFloor.Documents.Pdf;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Documents;

/// <summary>
/// Writes papers into files of the data folder, from which they are sent: a day's transfers can be larger than the memory. A file is gone
/// when it is closed, and a paper that cannot be made is known before the first byte of it leaves the house.
/// </summary>
public sealed class PaperSpool(HostSettings settings, TimeProvider time)
{
    private static readonly TimeSpan Life = TimeSpan.FromHours(1);
    private readonly string folder = Path.Combine(settings.DataFolder, "papers");

    /// <summary>The whole file, at its beginning. Closing it takes it away.</summary>
    /// <param name="paper">The paper; it is saved by this.</param>
    /// <param name="cancel">Stops it before it begins.</param>
    public async Task<Stream> WriteAsync(PdfPaper paper, CancellationToken cancel)
    {
        Directory.CreateDirectory(folder);
        DropOld();
        var file = new FileStream(
            Path.Combine(folder, $"{Guid.CreateVersion7():N}.pdf"),
            FileMode.CreateNew,
            FileAccess.ReadWrite,
            FileShare.None,
            bufferSize: 1 << 16,
            FileOptions.DeleteOnClose
        );
        try
        {
            // Drawing and copying hundreds of megabytes is no work for the thread of a request.
            await Task.Run(() => paper.SaveTo(file), cancel);
            file.Position = 0;
            return file;
        }
        catch
        {
            await file.DisposeAsync();
            throw;
        }
    }

    // Only what a broken end of the program left behind is that old.
    private void DropOld()
    {
        var before = (time.GetUtcNow() - Life).UtcDateTime;
        foreach (var old in Directory.EnumerateFiles(folder).Where(f => File.GetLastWriteTimeUtc(f) < before))
            File.Delete(old);
    }
}
