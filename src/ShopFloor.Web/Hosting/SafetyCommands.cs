using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Background.Rounds;

namespace ShopFloor.Web.Hosting;

/// <summary>Commands of the program that start no server: <c>backup</c>, <c>restore FILE</c>, <c>verify FILE</c>, <c>unseal FILE TARGET</c>, <c>user-reset NAME</c>, <c>anew</c>. Those that use the data folder refuse while a server runs on it.</summary>
public static class SafetyCommands
{
    private const int Done = 0;

    /// <summary>What the program answers the system with when it does not do what it was started for, and has said why.</summary>
    public const int Refused = 1;

    private const int Misused = 2;

    // Said after the file, it lets a restore begin in a folder that has never held a shop; alone, it lets a new shop begin where one was.
    private const string Anew = "anew";

    /// <summary>True when the words on the command line are one of these.</summary>
    public static bool AreMeant(string[] args) => args is ["backup" or "restore" or "verify" or "unseal" or "user-reset" or Anew, ..];

    /// <summary>Runs it.</summary>
    /// <returns>0 done, 1 refused, 2 used wrongly.</returns>
    public static int Run(string[] args, HostSettings settings, TimeProvider time, TextWriter say)
    {
        try
        {
            using var alone = args[0] is "verify" or "unseal" ? null : ProcessLock.Take(settings.DataFolder);
            return args switch
            {
                ["backup"] => MakeBackup(settings, time, say),
                ["restore", var file] => HasHeldAShop(settings.DataFolder, file, say) ? PutBack(file, settings, time, say) : Refused,
                ["restore", var file, Anew] => PutBack(file, settings, time, say),
                ["verify", var file] => Verify(file, settings, say),
                ["unseal", var file, var target] => Unseal(file, target, settings, say),
                [Anew] => PutAside(settings, time, say),
                ["user-reset", var name] => ResetPassword.Run(name, settings, time, say) ? Done : Refused,
                _ => Misuse(say),
            };
        }
        // SQLite says so when a file is no database at all.
        catch (Exception no) when (no is IOException or InvalidDataException or SqliteException or UnauthorizedAccessException)
        {
            say.WriteLine(no.Message);
            SayWhere(settings, say);
            return Refused;
        }
    }

    // A service is told its folder by the system, a shell is not: whoever types a command sees which one was meant.
    private static void SayWhere(HostSettings settings, TextWriter say) => say.WriteLine($"The data folder is {settings.DataFolder}.");

    /// <summary>A database, or what a restore or a loss of it left, lies there. Else the restore would put a shop where no program looks.</summary>
    private static bool HasHeldAShop(string folder, string file, TextWriter say)
    {
        if (Directory.EnumerateFileSystemEntries(folder).Select(Path.GetFileName).Any(n => FormerShop.IsOfOne(n!)))
            return true;
        say.WriteLine(
            $"{folder} has never held a shop: nothing was changed. Where the shop's data lies in another folder, name that one as"
        );
        say.WriteLine($"ShopFloor__DataFolder. To begin here with this backup, as on a new machine: restore {file} {Anew}");
        return false;
    }

    /// <summary>A new shop begins where one was: what is left of it goes aside, by word of whoever runs the program only.</summary>
    private static int PutAside(HostSettings settings, TimeProvider time, TextWriter say)
    {
        var aside = FormerShop.PutAside(settings.DataFolder, time.GetUtcNow());
        say.WriteLine(aside is null ? "Nothing of a shop lies there." : $"What was left of the former shop is kept in {aside}.");
        SayWhere(settings, say);
        say.WriteLine("The next start begins with an empty database.");
        return Done;
    }

    private static int MakeBackup(HostSettings settings, TimeProvider time, TextWriter say)
    {
        var keep = new KeepBackup(settings, time, NullLogger<KeepBackup>.Instance);
        var made = keep.RunNow();
        say.WriteLine($"{made.File}\nSHA-256 {made.Sha256}");
        SayWhere(settings, say);
        if (keep.PictureTrouble is { } trouble)
        {
            say.WriteLine($"The database is safe, the pictures beside it are not up to date: {trouble}");
            return Refused;
        }
        if (keep.Lacking > 0)
            say.WriteLine($"{keep.Lacking} pictures beside the backups are missing in the data folder. Nothing was taken away.");
        return Done;
    }

    private static int PutBack(string file, HostSettings settings, TimeProvider time, TextWriter say)
    {
        var keys = Keys(settings);
        using var opened = OpenedBackup.Of(Path.GetFullPath(file), settings.DataFolder, keys);
        Backup.Verify(opened.File);
        var pictures = PicturesBack.Put(file, settings.DataFolder, keys);
        var aside = Restore.Put(opened.File, settings.DataFolder, time.GetUtcNow());
        say.WriteLine(
            $"{file} is restored. {(aside is null ? "There was no database before." : $"The former database is kept as {aside}.")}"
        );
        say.WriteLine($"{pictures} pictures that were missing came back from the folder beside it.");
        SayWhere(settings, say);
        say.WriteLine("At the next start it is brought up to date, and customers erased since then are erased again.");
        return Done;
    }

    private static SealKeys? Keys(HostSettings settings) => settings.ReadPassphrase() is { } passphrase ? new SealKeys(passphrase) : null;

    /// <summary>A sealed file, or all sealed files of a folder such as the pictures', into a folder.</summary>
    private static int Unseal(string from, string target, HostSettings settings, TextWriter say)
    {
        if (Keys(settings) is not { } keys)
            throw new InvalidDataException("Set the passphrase as ShopFloor__BackupPassphrase or ShopFloor__BackupPassphraseFile.");
        var files = Directory.Exists(from) ? Directory.GetFiles(from, "*" + SealedFile.Ending) : [from];
        Directory.CreateDirectory(target);
        foreach (var file in files)
            SealedFile.Open(file, Path.Combine(target, Path.GetFileNameWithoutExtension(file)), keys);
        say.WriteLine($"{files.Length} files are opened into {target}.");
        return Done;
    }

    private static int Verify(string file, HostSettings settings, TextWriter say)
    {
        using var folder = AsideFolder.New(settings.DataFolder, "verify");
        using var opened = OpenedBackup.Of(file, folder.Path, Keys(settings));
        Backup.Verify(opened.File);
        say.WriteLine($"{file} is sound.");
        return Done;
    }

    private static int Misuse(TextWriter say)
    {
        say.WriteLine(
            $"Use: backup | restore FILE [{Anew}] | verify FILE | unseal FILE-OR-FOLDER TARGET-FOLDER | user-reset NAME | {Anew}"
        );
        return Misused;
    }
}
