using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Background.Rounds;

namespace ShopFloor.Web.Hosting;

/// <summary>Commands of the program that start no server: <c>backup</c>, <c>restore FILE</c>, <c>verify FILE</c>. They refuse while a server runs on the folder.</summary>
public static class SafetyCommands
{
    private const int Done = 0;
    private const int Refused = 1;
    private const int Misused = 2;

    /// <summary>True when the words on the command line are one of these.</summary>
    public static bool AreMeant(string[] args) => args is ["backup" or "restore" or "verify", ..];

    /// <summary>Runs it.</summary>
    /// <returns>0 done, 1 refused, 2 used wrongly.</returns>
    public static int Run(string[] args, HostSettings settings, TimeProvider time, TextWriter say)
    {
        try
        {
            using var alone = args[0] == "verify" ? null : ProcessLock.Take(settings.DataFolder);
            return args switch
            {
                ["backup"] => MakeBackup(settings, time, say),
                ["restore", var file] => PutBack(file, settings, time, say),
                ["verify", var file] => Verify(file, say),
                _ => Misuse(say),
            };
        }
        // SQLite says so when a file is no database at all.
        catch (Exception no) when (no is IOException or InvalidDataException or SqliteException or UnauthorizedAccessException)
        {
            say.WriteLine(no.Message);
            return Refused;
        }
    }

    private static int MakeBackup(HostSettings settings, TimeProvider time, TextWriter say)
    {
        var made = new KeepBackup(settings, time, NullLogger<KeepBackup>.Instance).RunNow();
        say.WriteLine($"{made.File}\nSHA-256 {made.Sha256}");
        return Done;
    }

    private static int PutBack(string file, HostSettings settings, TimeProvider time, TextWriter say)
    {
        var aside = Restore.Put(Path.GetFullPath(file), settings.DataFolder, time.GetUtcNow());
        say.WriteLine(
            $"{file} is restored. {(aside is null ? "There was no database before." : $"The former database is kept as {aside}.")}"
        );
        say.WriteLine("At the next start it is brought up to date, and customers erased since then are erased again.");
        return Done;
    }

    private static int Verify(string file, TextWriter say)
    {
        if (!File.Exists(file))
            throw new FileNotFoundException($"There is no file {file}.", file);
        Backup.Verify(file);
        say.WriteLine($"{file} is sound.");
        return Done;
    }

    private static int Misuse(TextWriter say)
    {
        say.WriteLine("Use: backup | restore FILE | verify FILE");
        return Misused;
    }
}
