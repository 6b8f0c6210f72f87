using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Background.Rounds;

/// <summary>Makes a backup a day: the database as a sound copy, the pictures beside it, and takes the oldest ones away.</summary>
public sealed partial class KeepBackup(HostSettings settings, TimeProvider time, ILogger<KeepBackup> logger)
{
    private const string Prefix = "shopfloor-";

    /// <summary>Where backups lie.</summary>
    public string Folder => settings.BackupFolder.Length > 0 ? settings.BackupFolder : Path.Combine(settings.DataFolder, "backups");

    /// <summary>When the last one was made; null: none yet.</summary>
    public DateTimeOffset? Last => Files().MaxBy(f => f.LastWriteTimeUtc)?.LastWriteTimeUtc;

    /// <summary>The file of the last one; null: none yet.</summary>
    public string? Newest => Files().MaxBy(f => f.LastWriteTimeUtc)?.FullName;

    /// <summary>Makes today's when its hour has come and it is not there yet.</summary>
    /// <returns>What was made; null when there was nothing to do.</returns>
    public BackupResult? RunIfDue()
    {
        var now = time.GetLocalNow();
        var name = Name(now);
        return now.Hour < settings.BackupHour || File.Exists(Path.Combine(Folder, name + ".db")) ? null : Run(name);
    }

    /// <summary>Makes one now.</summary>
    public BackupResult RunNow() => Run($"{Name(time.GetLocalNow())}-{time.GetLocalNow():HHmmss}");

    private static string Name(DateTimeOffset at) => Prefix + at.ToString("yyyyMMdd", CultureInfo.InvariantCulture);

    private BackupResult Run(string name)
    {
        var made = Backup.Make(ShopDatabase.FileIn(settings.DataFolder), Folder, name);
        // The digest lies beside it, so that a copy on another disk can be checked.
        File.WriteAllText(made.File + ".sha256", $"{made.Sha256}  {Path.GetFileName(made.File)}\n");
        MirrorPictures();
        foreach (var old in Files().OrderByDescending(f => f.Name, StringComparer.Ordinal).Skip(settings.BackupsKept))
        {
            File.Delete(old.FullName + ".sha256");
            old.Delete();
        }
        LogMade(logger, made.File, made.Bytes);
        return made;
    }

    /// <summary>Pictures never change: only new ones are copied, and erased ones go here too.</summary>
    private void MirrorPictures()
    {
        var (from, to) = (
            Path.Combine(settings.DataFolder, "pictures"),
            Directory.CreateDirectory(Path.Combine(Folder, "pictures")).FullName
        );
        var live = Directory.Exists(from)
            ? Directory.GetFiles(from).Select(Path.GetFileName).OfType<string>().ToHashSet(StringComparer.Ordinal)
            : [];
        foreach (var name in live.Where(n => !n.EndsWith(".part", StringComparison.Ordinal) && !File.Exists(Path.Combine(to, n))))
        {
            File.Copy(Path.Combine(from, name), Path.Combine(to, name + ".part"), overwrite: true);
            File.Move(Path.Combine(to, name + ".part"), Path.Combine(to, name));
        }
        foreach (var gone in Directory.GetFiles(to).Where(f => !live.Contains(Path.GetFileName(f))))
            File.Delete(gone);
    }

    private IEnumerable<FileInfo> Files() => Directory.Exists(Folder) ? new DirectoryInfo(Folder).GetFiles(Prefix + "*.db") : [];

    [LoggerMessage(Level = LogLevel.Information, Message = "Backup {File} made, {Bytes} bytes")]
    private static partial void LogMade(ILogger logger, string file, long bytes);
}
