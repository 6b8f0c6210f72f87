using ShopFloor.Planning.Exchange;

namespace ShopFloor.Cli;

/// <summary>Reading and writing the two kinds of file, with messages a person can act on.</summary>
internal static class Files
{
    public static byte[] Bytes(string path)
    {
        try
        {
            return File.ReadAllBytes(path);
        }
        catch (Exception trouble) when (trouble is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new BadInputException($"{path}: cannot be read: {trouble.Message}");
        }
    }

    /// <summary>Finds out before long work whether its result can be written; a file that is there stays as it is, and none is left behind.</summary>
    public static void CanWrite(string path)
    {
        try
        {
            if (Path.GetDirectoryName(path) is { Length: > 0 } folder)
                Directory.CreateDirectory(folder);
            var isThere = File.Exists(path);
            new FileStream(path, FileMode.OpenOrCreate, FileAccess.Write).Dispose();
            if (!isThere)
                File.Delete(path);
        }
        catch (Exception trouble) when (trouble is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new BadInputException($"{path}: cannot be written: {trouble.Message}");
        }
    }

    public static void Write(string path, byte[] bytes)
    {
        try
        {
            if (Path.GetDirectoryName(path) is { Length: > 0 } folder)
                Directory.CreateDirectory(folder);
            File.WriteAllBytes(path, bytes);
        }
        catch (Exception trouble) when (trouble is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new BadInputException($"{path}: cannot be written: {trouble.Message}");
        }
    }

    public static Day Day(string path, out string sha)
    {
        var bytes = Bytes(path);
        sha = Fingerprint.Sha256(bytes);
        return Good(DayReader.Read(bytes, path));
    }

    public static Plan Plan(string path) => Good(PlanReader.Read(Bytes(path), path));

    private static T Good<T>(ReadResult<T> result)
        where T : class => result.IsOk ? result.Value : throw new BadInputException(string.Join(Environment.NewLine, result.Problems));
}
