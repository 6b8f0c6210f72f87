namespace ShopFloor.Data.Safety;

/// <summary>
/// A folder for files that are gone when it is disposed. It lies within the data folder: what is made in it can be as large as the database with all
/// pictures, and the place the system has for such files may be memory.
/// </summary>
public sealed class AsideFolder : IDisposable
{
    private static readonly TimeSpan Life = TimeSpan.FromDays(1);

    private AsideFolder(string path) => Path = path;

    /// <summary>Where it lies.</summary>
    public string Path { get; }

    /// <summary>A new one.</summary>
    /// <param name="data">The data folder.</param>
    /// <param name="name">What it is for.</param>
    public static AsideFolder New(string data, string name) =>
        new(Directory.CreateDirectory(System.IO.Path.Combine(In(data), $"{name}-{Guid.NewGuid():N}")).FullName);

    /// <summary>A name for a file beside these folders, whose maker deletes it.</summary>
    /// <param name="data">The data folder.</param>
    public static string NewFile(string data) =>
        System.IO.Path.Combine(Directory.CreateDirectory(In(data)).FullName, $"file-{Guid.NewGuid():N}");

    /// <summary>Drops what a program that was ended in the middle of it left behind.</summary>
    /// <param name="data">The data folder.</param>
    /// <param name="now">What is older than a day by then is nobody's any more.</param>
    public static void DropOld(string data, DateTimeOffset now)
    {
        var before = (now - Life).UtcDateTime;
        foreach (var left in Directory.CreateDirectory(In(data)).EnumerateFileSystemInfos().Where(i => i.LastWriteTimeUtc < before))
            if (left is DirectoryInfo folder)
                folder.Delete(recursive: true);
            else
                left.Delete();
    }

    /// <inheritdoc />
    public void Dispose() => Directory.Delete(Path, recursive: true);

    private static string In(string data) => System.IO.Path.Combine(data, "aside");
}
