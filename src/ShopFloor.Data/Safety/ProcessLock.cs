namespace ShopFloor.Data.Safety;

/// <summary>Held as long as a process uses the data folder, so that a second one cannot write into the same database.</summary>
public sealed class ProcessLock : IDisposable
{
    private readonly FileStream file;

    private ProcessLock(FileStream file) => this.file = file;

    /// <summary>Takes the lock.</summary>
    /// <exception cref="IOException">Another process has it; the message says which folder.</exception>
    public static ProcessLock Take(string dataFolder)
    {
        Directory.CreateDirectory(dataFolder);
        var path = Path.Combine(dataFolder, "in-use.lock");
        try
        {
            return new ProcessLock(new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
        }
        catch (IOException taken)
        {
            throw new IOException($"Another ShopFloor is already running on {dataFolder}. Stop it first.", taken);
        }
    }

    /// <inheritdoc />
    public void Dispose() => file.Dispose();
}
