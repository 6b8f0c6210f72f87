using Microsoft.Data.Sqlite;
using ShopFloor.Data;

namespace ShopFloor.Web.Tests.Support;

/// <summary>
/// A data folder that the program made once in this process, kept in memory: whoever needs one like it gets the same files in a folder of
/// their own, and nothing is left on the disk.
/// </summary>
internal sealed class KeptFolder
{
    private const string Lock = "in-use.lock";
    private readonly List<(string Path, byte[]? Content, UnixFileMode? Mode)> items = [];

    private KeptFolder() { }

    /// <summary>Reads a folder that no program uses any more. Its database must be whole in its own file: the log beside it is not read.</summary>
    public static KeptFolder Of(string folder)
    {
        LetGo(folder);
        var log = new FileInfo(ShopDatabase.FileIn(folder) + "-wal");
        if (log is { Exists: true, Length: > 0 })
            throw new InvalidOperationException($"{log.FullName} is not empty: somebody still has the database open.");
        var kept = new KeptFolder();
        var found = new DirectoryInfo(folder).EnumerateFileSystemInfos("*", SearchOption.AllDirectories);
        foreach (var item in found.Where(i => i.Name != Lock).OrderBy(i => i.FullName, StringComparer.Ordinal))
            kept.items.Add(
                (
                    Path.GetRelativePath(folder, item.FullName),
                    item is FileInfo file ? File.ReadAllBytes(file.FullName) : null,
                    OperatingSystem.IsWindows() ? null : item.UnixFileMode
                )
            );
        return kept;
    }

    /// <summary>Writes its files and folders into another folder, with their rights.</summary>
    public void PutInto(string folder)
    {
        foreach (var (name, content, mode) in items)
        {
            var path = Path.Combine(folder, name);
            if (content is null)
                Directory.CreateDirectory(path);
            else
                File.WriteAllBytes(path, content);
            if (mode is { } rights && !OperatingSystem.IsWindows())
                File.SetUnixFileMode(path, rights);
        }
    }

    /// <summary>Closes what this process keeps open of the folder's database, and of no other.</summary>
    public static void LetGo(string folder)
    {
        using var own = new SqliteConnection(ShopDatabase.ConnectionString(ShopDatabase.FileIn(folder)));
        SqliteConnection.ClearPool(own);
    }

    /// <summary>Deletes the folder of a program that has ended.</summary>
    public static void Delete(string folder)
    {
        LetGo(folder);
        // First: what a page still reads after its host has ended finds no database and makes no files beside it.
        File.Delete(ShopDatabase.FileIn(folder));
        Directory.Delete(folder, recursive: true);
    }
}
