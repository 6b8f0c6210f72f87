using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;

namespace ShopFloor.Data.Safety;

/// <summary>What a rehearsal brought back.</summary>
/// <param name="File">The backup.</param>
/// <param name="Orders">Orders in it.</param>
/// <param name="Pieces">Pieces in it.</param>
/// <param name="Pictures">Pictures in it, all of whose files lie beside it.</param>
public sealed record RehearsedBackup(string File, int Orders, int Pieces, int Pictures);

/// <summary>
/// Restores a backup into a folder of its own and starts on it, by the very steps that an emergency would take: a backup that was never
/// put back is only a hope.
/// </summary>
public static class Rehearsal
{
    /// <summary>Does it; the folder is gone afterwards.</summary>
    /// <param name="backup">The backup's file.</param>
    /// <param name="data">The data folder: the backup is put back aside in it.</param>
    /// <param name="keys">The passphrase of sealed backups; null: none is set.</param>
    /// <param name="now">For names inside the folder.</param>
    /// <param name="cancel">Stops it.</param>
    /// <exception cref="InvalidDataException">The backup is not what was written, not sound, of a newer program, or lacks pictures.</exception>
    /// <exception cref="FileNotFoundException">There is no such file.</exception>
    public static async Task<RehearsedBackup> RunAsync(
        string backup,
        string data,
        SealKeys? keys,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        await CheckDigestAsync(backup, cancel);
        using var aside = AsideFolder.New(data, "rehearsal");
        var folder = aside.Path;
        using (var opened = OpenedBackup.Of(backup, folder, keys))
            Restore.Put(opened.File, folder, now);
        await using var context = Open(ShopDatabase.FileIn(folder));
        await GuardedStart.RunAsync(context, folder, now, cancel);
        Backup.Verify(ShopDatabase.FileIn(folder));
        var pictures = await context.Pictures.AsNoTracking().Select(p => p.Id).ToListAsync(cancel);
        var kept = Path.Combine(Path.GetDirectoryName(backup)!, "pictures");
        string Kept(Domain.PictureId p) => Path.Combine(kept, $"{p.Value:N}.clean{(SealedFile.IsSealed(backup) ? SealedFile.Ending : "")}");
        var missing = pictures.Count(p => !File.Exists(Kept(p)));
        if (missing > 0)
            throw new InvalidDataException($"{missing} of {pictures.Count} pictures are not in the backup.");
        FileInfo Live(Domain.PictureId p) => new(Path.Combine(data, PicturesBack.Folder, $"{p.Value:N}.clean"));
        var cut = pictures.Count(p => Live(p) is { Exists: true } live && PicturesBack.IsCutOff(live, Kept(p)));
        if (cut > 0)
            throw new InvalidDataException($"{cut} of {pictures.Count} pictures are not whole in the backup.");
        if (SealedFile.IsSealed(backup) && pictures.Count > 0)
            SealedFile.Open(Kept(pictures[0]), Path.Combine(folder, "picture"), keys!);
        var found = (await context.Orders.CountAsync(cancel), await context.Pieces.CountAsync(cancel));
        return new RehearsedBackup(Path.GetFileName(backup), found.Item1, found.Item2, pictures.Count);
    }

    /// <summary>The file is still the one whose digest was written beside it.</summary>
    /// <exception cref="InvalidDataException">It is not.</exception>
    public static async Task CheckDigestAsync(string backup, CancellationToken cancel)
    {
        var written = backup + ".sha256";
        if (!File.Exists(written))
            return;
        await using var stream = File.OpenRead(backup);
        var digest = Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, cancel));
        if (!(await File.ReadAllTextAsync(written, cancel)).StartsWith(digest, StringComparison.Ordinal))
            throw new InvalidDataException("The file is not the one that was written: its SHA-256 differs.");
    }

    // Without a pool, so that the file is let go before its folder is deleted.
    private static ShopContext Open(string file)
    {
        var options = new DbContextOptionsBuilder<ShopContext>();
        options.UseSqlite(
            ShopDatabase.ConnectionString(file) + ";Pooling=False",
            sqlite => sqlite.UseQuerySplittingBehavior(QuerySplittingBehavior.SplitQuery)
        );
        return new ShopContext(options.Options);
    }
}
