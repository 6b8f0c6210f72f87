namespace ShopFloor.Data.Safety;

/// <summary>A backup as a plain database file: itself, or a sealed one opened into a file of its own that is deleted afterwards.</summary>
public sealed class OpenedBackup : IDisposable
{
    private readonly bool isOwn;

    private OpenedBackup(string file, bool isOwn) => (File, this.isOwn) = (file, isOwn);

    /// <summary>The plain file.</summary>
    public string File { get; }

    /// <summary>Opens it.</summary>
    /// <param name="backup">The backup.</param>
    /// <param name="folder">Where a sealed one is opened.</param>
    /// <param name="keys">The passphrase; null: none is set.</param>
    /// <exception cref="FileNotFoundException">There is no such file.</exception>
    /// <exception cref="InvalidDataException">It is sealed and the passphrase is missing or another one, or it was changed.</exception>
    public static OpenedBackup Of(string backup, string folder, SealKeys? keys)
    {
        if (!System.IO.File.Exists(backup))
            throw new FileNotFoundException($"There is no file {backup}.", backup);
        if (!SealedFile.IsSealed(backup))
            return new(backup, isOwn: false);
        if (keys is null)
            throw new InvalidDataException(
                $"{backup} is sealed: set its passphrase as ShopFloor__BackupPassphrase or name a file with it as ShopFloor__BackupPassphraseFile."
            );
        var plain = Path.Combine(folder, $"opened-{Guid.NewGuid():N}.db");
        SealedFile.Open(backup, plain, keys);
        return new(plain, isOwn: true);
    }

    /// <inheritdoc />
    public void Dispose()
    {
        if (isOwn)
            System.IO.File.Delete(File);
    }
}
