using System.IO.Compression;
using ShopFloor.Data.Safety;

namespace ShopFloor.Web.Office.Backups;

/// <summary>A backup, its digest and the pictures in one zip, laid out as <c>restore</c> finds them once it is unpacked.</summary>
public static class WholeBackup
{
    /// <summary>Writes it.</summary>
    /// <param name="backup">The backup's file.</param>
    /// <param name="to">Where to.</param>
    /// <param name="cancel">Stops it.</param>
    public static async Task WriteAsync(FileInfo backup, Stream to, CancellationToken cancel)
    {
        await using var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true);
        await AddAsync(zip, backup.FullName, backup.Name, CompressionLevel.Fastest, cancel);
        if (File.Exists(backup.FullName + ".sha256"))
            await AddAsync(zip, backup.FullName + ".sha256", backup.Name + ".sha256", CompressionLevel.Fastest, cancel);
        // Pictures are packed already.
        foreach (var picture in PicturesBack.Beside(backup.FullName))
            await AddAsync(zip, picture.FullName, $"{PicturesBack.Folder}/{picture.Name}", CompressionLevel.NoCompression, cancel);
    }

    private static async Task AddAsync(ZipArchive zip, string file, string name, CompressionLevel level, CancellationToken cancel)
    {
        await using var from = File.OpenRead(file);
        await using var entry = await zip.CreateEntry(name, level).OpenAsync(cancel);
        await from.CopyToAsync(entry, cancel);
    }
}
