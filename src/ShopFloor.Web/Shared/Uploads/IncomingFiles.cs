using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Shared.Uploads;

/// <summary>A file that was sent and waits for a use case to take it over.</summary>
/// <param name="Id">Its only name on disk.</param>
/// <param name="Bytes">Its size.</param>
public sealed record IncomingFile(Guid Id, long Bytes);

/// <summary>
/// Files that came in by plain HTTP, outside the web root, under names of ours. What they are is judged by the use case
/// that takes them, before anything decodes them.
/// </summary>
public sealed class IncomingFiles(HostSettings settings, TimeProvider time)
{
    private static readonly TimeSpan Life = TimeSpan.FromHours(24);
    private readonly string folder = Path.Combine(settings.DataFolder, "incoming");

    /// <summary>The most bytes of one file.</summary>
    public long Limit => settings.UploadBytes;

    /// <summary>Writes what arrives to disk, flushed, and refuses it when it is empty or larger than the limit.</summary>
    /// <remarks>The id is the sender's: the same upload sent again replaces itself, also while the first try has not ended yet.</remarks>
    public async Task<Result<IncomingFile>> TakeAsync(Guid id, Stream source, CancellationToken cancel)
    {
        var part = $"{PathOf(id)}.{Guid.NewGuid():N}.part";
        try
        {
            DropOld();
            await using (var target = new FileStream(part, FileMode.Create, FileAccess.Write, FileShare.None))
            {
                if (!await CopyAsync(source, target, cancel))
                    return new Refusal("file-too-large", $"This file is larger than {settings.UploadMegabytes} MB. Send a smaller one.");
                if (target.Length == 0)
                    return new Refusal("file-empty", "This file is empty. Choose another one.");
                target.Flush(flushToDisk: true);
            }
            File.Move(part, PathOf(id), overwrite: true);
            return new IncomingFile(id, new FileInfo(PathOf(id)).Length);
        }
        catch (IOException barred) when (CannotWrite.Of(barred) is not null)
        {
            return CannotWrite.Of(barred)!;
        }
        finally
        {
            File.Delete(part);
        }
    }

    /// <summary>Opens a file that waits, or refuses when it is not there (any more).</summary>
    public Result<Stream> Open(Guid id)
    {
        DropOld();
        return File.Exists(PathOf(id))
            ? Result<Stream>.Ok(new FileStream(PathOf(id), FileMode.Open, FileAccess.Read, FileShare.Read))
            : new Refusal("file-gone", "The file is no longer here. Please send it again.");
    }

    /// <summary>Forgets a file that was taken over; no fault when it is already gone.</summary>
    public void Drop(Guid id) => File.Delete(PathOf(id));

    private async Task<bool> CopyAsync(Stream source, Stream target, CancellationToken cancel)
    {
        var buffer = new byte[81_920];
        long total = 0;
        while (await source.ReadAsync(buffer, cancel) is var read and > 0)
        {
            total += read;
            if (total > Limit)
                return false;
            await target.WriteAsync(buffer.AsMemory(0, read), cancel);
        }
        return true;
    }

    private void DropOld()
    {
        Directory.CreateDirectory(folder);
        var before = (time.GetUtcNow() - Life).UtcDateTime;
        foreach (var old in Directory.EnumerateFiles(folder).Where(f => File.GetLastWriteTimeUtc(f) < before))
            File.Delete(old);
    }

    private string PathOf(Guid id) => Path.Combine(folder, id.ToString("N"));
}
