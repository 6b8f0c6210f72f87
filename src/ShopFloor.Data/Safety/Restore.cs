using Microsoft.Data.Sqlite;

namespace ShopFloor.Data.Safety;

/// <summary>Puts a backup in the place of the database. The caller holds the <see cref="ProcessLock"/> of the data folder.</summary>
public static class Restore
{
    private const string Coming = ".restoring";
    private const string Aside = "before-restore-";

    /// <summary>Checks the backup, keeps the database that is there beside it, and puts the backup in its place.</summary>
    /// <param name="backup">The file to restore.</param>
    /// <param name="dataFolder">The data folder.</param>
    /// <param name="now">For the name of what is put aside.</param>
    /// <returns>Where the former database lies now; null when there was none.</returns>
    /// <exception cref="FileNotFoundException">There is no such backup.</exception>
    /// <exception cref="InvalidDataException">The backup is not sound; nothing was changed, or what is in its place now is not.</exception>
    public static string? Put(string backup, string dataFolder, DateTimeOffset now)
    {
        if (!File.Exists(backup))
            throw new FileNotFoundException($"There is no file {backup}.", backup);
        Backup.Verify(backup);
        SqliteConnection.ClearAllPools();
        var live = ShopDatabase.FileIn(dataFolder);
        var part = live + Coming;
        File.Copy(backup, part, overwrite: true);
        Backup.Flush(part);
        Backup.Verify(part);
        // What is to come lies safely there before anything is moved aside.
        Backup.FlushFolder(dataFolder);
        var aside = Path.Combine(dataFolder, $"{Aside}{now.UtcDateTime:yyyyMMdd-HHmmss}.db");
        var hadOne = File.Exists(live);
        // The log of what is not yet in the main file goes along, or the former database would lose its last changes. It goes too where
        // the main file is gone already: SQLite would play the log of another database into the backup. The main file goes first:
        // broken off after it, the next start refuses; broken off after its log alone, it would begin without the last changes.
        foreach (var end in new[] { "", "-wal", "-shm" })
            if (File.Exists(live + end))
                File.Move(live + end, aside + end);
        File.Move(part, live);
        Backup.FlushFolder(dataFolder);
        Backup.Verify(live);
        return hadOne ? aside : null;
    }

    /// <summary>A restore was broken off between moving the database aside and putting the backup in its place: the file that shows it; null: none.</summary>
    internal static string? BrokenOff(string dataFolder) =>
        Directory.Exists(dataFolder)
            ? Directory
                .EnumerateFiles(dataFolder, "*" + Coming)
                .Concat(Directory.EnumerateFiles(dataFolder, Aside + "*.db"))
                .Order(StringComparer.Ordinal)
                .LastOrDefault()
            : null;
}
