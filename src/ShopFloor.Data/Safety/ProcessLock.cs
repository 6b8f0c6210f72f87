namespace ShopFloor.Data.Safety;

/// <summary>Held as long as a process uses the data folder, so that a second one cannot write into the same database.</summary>
public sealed class ProcessLock : IDisposable
{
    private readonly FileStream file;

    private ProcessLock(FileStream file) => this.file = file;

    /// <summary>Takes the lock.</summary>
    /// <exception cref="IOException">Another process has it, or the folder cannot be written to; the message says which folder.</exception>
    public static ProcessLock Take(string dataFolder)
    {
        try
        {
            PrivateFolder.Create(dataFolder);
            var path = Path.Combine(dataFolder, "in-use.lock");
            return new ProcessLock(new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
        }
        catch (IOException taken) when (IsTaken(taken))
        {
            throw new IOException($"Another ShopFloor is already running on {dataFolder}. Stop it first.", taken);
        }
        catch (Exception no) when (no is IOException or UnauthorizedAccessException)
        {
            throw new IOException($"The data folder {dataFolder} cannot be used: {no.Message}", no);
        }
    }

    /// <summary>Another process holds the file: a sharing or lock violation on Windows, EWOULDBLOCK on Linux and on macOS.</summary>
    private static bool IsTaken(IOException no) =>
        OperatingSystem.IsWindows() ? (no.HResult & 0xFFFF) is 32 or 33
        : OperatingSystem.IsMacOS() ? no.HResult == 35
        : no.HResult == 11;

    /// <inheritdoc />
    public void Dispose() => file.Dispose();
}
