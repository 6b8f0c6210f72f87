using Microsoft.Data.Sqlite;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Background.Rounds;

/// <summary>Makes a backup a day: the database as a sound copy, the pictures beside it, sealed where a passphrase is set, and takes the oldest ones away. One that is dated in the future was made while the clock was ahead: it counts for nothing until then.</summary>
public sealed partial class KeepBackup(HostSettings settings, TimeProvider time, ILogger<KeepBackup> logger)
{
    private const string Prefix = "shopfloor-";
    private const int DailyLetters = 18;
    private static readonly TimeSpan Slack = TimeSpan.FromHours(1);

    // What is younger may still be on its way.
    private static readonly TimeSpan PartLife = TimeSpan.FromDays(1);
    private readonly Lock running = new();
    private bool isMirrored;
    private readonly Lazy<SealKeys?> keys = new(() => settings.ReadPassphrase() is { } passphrase ? new SealKeys(passphrase) : null);

    /// <summary>Where backups lie.</summary>
    public string Folder => settings.BackupFolder.Length > 0 ? settings.BackupFolder : Path.Combine(settings.DataFolder, "backups");

    /// <summary>Where the shop's own files lie.</summary>
    public string DataFolder => settings.DataFolder;

    /// <summary>The passphrase of sealed backups; null: none is set.</summary>
    public SealKeys? Keys => keys.Value;

    /// <summary>Days whose backup is kept before the oldest go, and as many that were made by hand.</summary>
    public int Kept => settings.BackupsKept;

    /// <summary>All of them, newest first; those of a time to come stand last, as they are no newest.</summary>
    public IReadOnlyList<FileInfo> All => [.. Files().OrderBy(IsAhead).ThenByDescending(f => f.LastWriteTimeUtc)];

    /// <summary>When the last one was made; null: none yet.</summary>
    public DateTimeOffset? Last => Past().MaxBy(f => f.LastWriteTimeUtc)?.LastWriteTimeUtc;

    /// <summary>The file of the last one; null: none yet.</summary>
    public string? Newest => Past().MaxBy(f => f.LastWriteTimeUtc)?.FullName;

    /// <summary>How many are dated in the future.</summary>
    public int Ahead => Files().Count(IsAhead);

    /// <summary>Pictures that lie beside the backups and were missing in the data folder at the last backup, though nobody erased them.</summary>
    public int Lacking { get; private set; }

    /// <summary>Why the pictures beside the last backup are not up to date; null: they are, or nothing was tried since the start.</summary>
    public string? PictureTrouble { get; private set; }

    /// <summary>Makes today's when its hour has come and it is not there yet; where only its pictures are not up to date, brings these up to date.</summary>
    /// <returns>What was made; null when there was no backup to make.</returns>
    public BackupResult? RunIfDue()
    {
        var now = time.GetLocalNow();
        if (now.Hour < settings.BackupHour)
            return null;
        var name = Name(now) + ".db";
        lock (running)
        {
            if (!Files().Any(f => f.Name == name || f.Name == name + SealedFile.Ending))
                return Run(Name(now));
            if (!isMirrored)
                MirrorPictures();
            return null;
        }
    }

    /// <summary>Makes one now.</summary>
    public BackupResult RunNow()
    {
        // One at a time: the day's own may be on its way.
        lock (running)
            return Run($"{Name(time.GetLocalNow())}-{time.GetLocalNow():HHmmss}");
    }

    private static string Name(DateTimeOffset at) => Prefix + at.ToString("yyyyMMdd", CultureInfo.InvariantCulture);

    private BackupResult Run(string name)
    {
        isMirrored = false;
        SweepParts();
        // Old ones go whatever happens: a disk that they have filled would take no new one ever again. As many as are kept stay.
        try
        {
            var made = Make(name);
            File.SetLastWriteTimeUtc(made.File, time.GetUtcNow().UtcDateTime);
            // The digest lies beside it, so that a copy on another disk can be checked.
            File.WriteAllText(made.File + ".sha256", $"{made.Sha256}  {Path.GetFileName(made.File)}\n");
            LogMade(logger, made.File, made.Bytes);
            MirrorPictures();
            return made;
        }
        finally
        {
            Prune();
        }
    }

    /// <summary>The database is safe whatever becomes of the pictures: that is said, and tried again with the next round.</summary>
    private void MirrorPictures()
    {
        try
        {
            Lacking = new PictureMirror(settings.DataFolder, Path.Combine(Folder, PicturesBack.Folder), Keys).Update();
            (isMirrored, PictureTrouble) = (true, null);
            if (Lacking > 0)
                LogLacking(logger, Lacking, settings.DataFolder);
        }
        catch (Exception no) when (no is IOException or UnauthorizedAccessException or InvalidDataException or SqliteException)
        {
            PictureTrouble = no.Message;
            LogPictureTrouble(logger, no);
        }
    }

    /// <summary>What a program that was ended in the middle of it left behind, here, at the pictures and where the copies before a change of form lie.</summary>
    private void SweepParts()
    {
        var before = (time.GetUtcNow() - PartLife).UtcDateTime;
        string[] folders = [Folder, Path.Combine(Folder, PicturesBack.Folder), Path.Combine(settings.DataFolder, "backups")];
        foreach (var folder in folders.Where(Directory.Exists))
        foreach (var part in new DirectoryInfo(folder).GetFiles("*.part*").Where(f => IsPart(f.Name) && f.LastWriteTimeUtc < before))
            part.Delete();
    }

    // SQLite's own journal of an unfinished copy has the ending after it.
    private static bool IsPart(string name) =>
        name.EndsWith(".part", StringComparison.Ordinal) || name.EndsWith(".part-journal", StringComparison.Ordinal);

    /// <summary>The daily ones and those made by hand are counted apart: whoever makes many on one day loses no other day by it.</summary>
    private void Prune()
    {
        foreach (
            var old in Past()
                .GroupBy(f => IsDaily(f.Name))
                .SelectMany(g => g.OrderByDescending(f => f.Name, StringComparer.Ordinal).Skip(settings.BackupsKept))
        )
        {
            File.Delete(old.FullName + ".sha256");
            old.Delete();
        }
    }

    /// <summary>A sealed one is made beside the database first: the folder of the backups never sees it in the open.</summary>
    private BackupResult Make(string name)
    {
        var live = ShopDatabase.FileIn(settings.DataFolder);
        if (Keys is null)
            return Backup.Make(live, Folder, name);
        var plain = Path.Combine(settings.DataFolder, "sealing");
        if (Directory.Exists(plain))
            Directory.Delete(plain, recursive: true);
        try
        {
            var made = Backup.Make(live, plain, name);
            var final = Path.Combine(PrivateFolder.Create(Folder), name + ".db" + SealedFile.Ending);
            SealedFile.Seal(made.File, final, Keys);
            return Backup.Of(final);
        }
        finally
        {
            Directory.Delete(plain, recursive: true);
        }
    }

    private IEnumerable<FileInfo> Past() => Files().Where(f => !IsAhead(f));

    /// <summary>Whether one is dated in the future. A clock may be put right by some minutes, and a disk may have one of its own.</summary>
    public bool IsAhead(FileInfo file) =>
        file.LastWriteTimeUtc > (time.GetUtcNow() + Slack).UtcDateTime
        || string.CompareOrdinal(DayOf(file.Name), DayOf(Name(time.GetLocalNow()))) > 0;

    private static string DayOf(string name) => name.Length < DailyLetters ? name : name[..DailyLetters];

    private static bool IsDaily(string name) => name.Split('.')[0].Length == DailyLetters;

    private IEnumerable<FileInfo> Files() =>
        Directory.Exists(Folder)
            ? new DirectoryInfo(Folder)
                .GetFiles(Prefix + "*")
                .Where(f =>
                    f.Name.EndsWith(".db", StringComparison.Ordinal) || f.Name.EndsWith(".db" + SealedFile.Ending, StringComparison.Ordinal)
                )
            : [];

    [LoggerMessage(Level = LogLevel.Information, Message = "Backup {File} made, {Bytes} bytes")]
    private static partial void LogMade(ILogger logger, string file, long bytes);

    [LoggerMessage(
        Level = LogLevel.Error,
        Message = "{Count} pictures lie beside the backups and not in {Folder}: is its folder of pictures there, and is it the shop's own? Nothing was taken away"
    )]
    private static partial void LogLacking(ILogger logger, int count, string folder);

    [LoggerMessage(Level = LogLevel.Error, Message = "The pictures beside the backups could not be brought up to date; it is tried again")]
    private static partial void LogPictureTrouble(ILogger logger, Exception trouble);
}
