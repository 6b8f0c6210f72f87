namespace ShopFloor.Data.Safety;

/// <summary>The pictures that lie beside a backup, and how they come back.</summary>
public static class PicturesBack
{
    /// <summary>The folder of both, beside the backups and in the data folder.</summary>
    public const string Folder = "pictures";

    /// <summary>The pictures beside a backup; none when there is no such folder.</summary>
    public static IReadOnlyList<FileInfo> Beside(string backup)
    {
        var folder = new DirectoryInfo(Path.Combine(Path.GetDirectoryName(Path.GetFullPath(backup))!, Folder));
        return folder.Exists
            ?
            [
                .. folder
                    .GetFiles()
                    .Where(f => !f.Name.EndsWith(".part", StringComparison.Ordinal))
                    .OrderBy(f => f.Name, StringComparer.Ordinal),
            ]
            : [];
    }

    /// <summary>Puts those back that the data folder lacks; one that is there stays, for pictures never change, unless it is shorter: then it was cut off.</summary>
    /// <param name="backup">The backup's file.</param>
    /// <param name="dataFolder">The data folder.</param>
    /// <param name="keys">The passphrase of sealed ones; null: none is set.</param>
    /// <returns>How many came back.</returns>
    /// <exception cref="InvalidDataException">One is sealed and the passphrase is missing or another one, or it was changed.</exception>
    public static int Put(string backup, string dataFolder, SealKeys? keys)
    {
        var target = Directory.CreateDirectory(Path.Combine(dataFolder, Folder)).FullName;
        var missing = Beside(backup)
            .Select(f => (From: f, To: Path.Combine(target, PlainName(f))))
            .Where(p => IsCutOff(p.From, p.To))
            .ToList();
        foreach (var (from, to) in missing)
        {
            using var opened = OpenedBackup.Of(from.FullName, target, keys);
            Backup.Copy(opened.File, to);
        }
        return missing.Count;
    }

    /// <summary>True when a copy of a picture is missing or shorter than it: writing it was broken off.</summary>
    /// <param name="picture">The picture, plain or sealed.</param>
    /// <param name="copy">Its copy, plain or sealed.</param>
    public static bool IsCutOff(FileInfo picture, string copy) =>
        new FileInfo(copy) is not { Exists: true } there || SealedFile.PlainBytes(there) < SealedFile.PlainBytes(picture);

    private static string PlainName(FileInfo file) =>
        SealedFile.IsSealed(file.Name) ? Path.GetFileNameWithoutExtension(file.Name) : file.Name;
}
