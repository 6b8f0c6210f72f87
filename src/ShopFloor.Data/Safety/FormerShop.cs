namespace ShopFloor.Data.Safety;

/// <summary>What shows that a data folder has held a shop: a database that is missing there was lost, it is not yet to come.</summary>
public static class FormerShop
{
    private const string Aside = "before-anew-";

    /// <summary>True for a file or folder that only a shop leaves behind.</summary>
    /// <param name="name">Without its folder.</param>
    public static bool IsOfOne(string name) =>
        name is "pictures" or "backups" or "erased-customers.txt" or "erased-pictures.txt"
        || name.StartsWith("shopfloor.db", StringComparison.Ordinal)
        || name.StartsWith("before-restore-", StringComparison.Ordinal);

    /// <summary>The name of what shows it though there is no database; null: nothing does. Empty files and folders show nothing.</summary>
    internal static string? TraceIn(string dataFolder) =>
        Directory.Exists(dataFolder)
            ? Left(dataFolder).Where(i => !IsEmpty(i)).Select(i => i.Name).Order(StringComparer.Ordinal).FirstOrDefault()
            : null;

    /// <summary>Puts all of it into a folder of its own, so that the next start begins with an empty database. Nothing is taken away.</summary>
    /// <returns>That folder; null when there was nothing of a shop.</returns>
    /// <exception cref="IOException">There is a database.</exception>
    public static string? PutAside(string dataFolder, DateTimeOffset now)
    {
        if (HasDatabase(dataFolder))
            throw new IOException(
                $"There is a database in {dataFolder}: nothing was changed. To begin a new shop, name another folder as ShopFloor__DataFolder."
            );
        var left = Left(dataFolder).ToList();
        if (left.Count == 0)
            return null;
        var aside = PrivateFolder.Create(Path.Combine(dataFolder, $"{Aside}{now.UtcDateTime:yyyyMMdd-HHmmss}"));
        foreach (var one in left)
            if (one is DirectoryInfo folder)
                folder.MoveTo(Path.Combine(aside, one.Name));
            else
                File.Move(one.FullName, Path.Combine(aside, one.Name));
        Backup.FlushFolder(aside);
        Backup.FlushFolder(dataFolder);
        return aside;
    }

    /// <summary>True when the database is there and not an empty file.</summary>
    internal static bool HasDatabase(string dataFolder) => new FileInfo(ShopDatabase.FileIn(dataFolder)) is { Exists: true, Length: > 0 };

    private static IEnumerable<FileSystemInfo> Left(string dataFolder) =>
        new DirectoryInfo(dataFolder).EnumerateFileSystemInfos().Where(i => IsOfOne(i.Name));

    private static bool IsEmpty(FileSystemInfo one) =>
        one is DirectoryInfo folder ? !folder.EnumerateFileSystemInfos().Any() : ((FileInfo)one).Length == 0;
}
