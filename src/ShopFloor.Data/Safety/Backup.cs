using System.Runtime.InteropServices;
using System.Security.Cryptography;
using Microsoft.Data.Sqlite;

namespace ShopFloor.Data.Safety;

/// <summary>What a backup was found to be.</summary>
/// <param name="File">Where it lies.</param>
/// <param name="Sha256">Of the file, hex.</param>
/// <param name="Bytes">Its size.</param>
public sealed record BackupResult(string File, string Sha256, long Bytes);

/// <summary>Copies the live database into a sound file of its own: written aside, flushed, checked, then given its name.</summary>
public static class Backup
{
    /// <summary>Makes one in the folder.</summary>
    /// <param name="databaseFile">The live database.</param>
    /// <param name="folder">Where to.</param>
    /// <param name="name">File name without ending.</param>
    /// <exception cref="InvalidDataException">The copy is not sound; nothing is left under the final name.</exception>
    public static BackupResult Make(string databaseFile, string folder, string name)
    {
        PrivateFolder.Create(folder);
        var final = Path.Combine(folder, name + ".db");
        var part = Path.Combine(folder, $".{name}.{Guid.NewGuid():N}.part");
        try
        {
            using (var source = Open(databaseFile))
            using (var copy = source.CreateCommand())
            {
                copy.CommandText = "VACUUM INTO $file";
                copy.Parameters.AddWithValue("$file", part);
                copy.CommandTimeout = 600;
                copy.ExecuteNonQuery();
            }
            Flush(part);
            Verify(part);
            File.Move(part, final, overwrite: false);
            FlushFolder(folder);
        }
        finally
        {
            File.Delete(part);
        }
        return Of(final);
    }

    /// <summary>What lies there.</summary>
    public static BackupResult Of(string file)
    {
        using var stream = File.OpenRead(file);
        return new BackupResult(file, Convert.ToHexStringLower(SHA256.HashData(stream)), stream.Length);
    }

    /// <summary>Opens the file and lets SQLite check it.</summary>
    /// <exception cref="InvalidDataException">It is not sound.</exception>
    public static void Verify(string file)
    {
        using var connection = Open(file, pooling: false);
        foreach (var pragma in (string[])["integrity_check", "foreign_key_check"])
        {
            using var check = connection.CreateCommand();
            check.CommandText = $"PRAGMA {pragma}";
            var answer = check.ExecuteScalar() as string;
            if (answer is not (null or "ok"))
                throw new InvalidDataException($"{file}: {pragma} says {answer}");
        }
    }

    private static SqliteConnection Open(string file, bool pooling = true)
    {
        var text = new SqliteConnectionStringBuilder
        {
            DataSource = file,
            Mode = SqliteOpenMode.ReadWrite,
            Pooling = pooling,
        };
        var connection = new SqliteConnection(text.ToString());
        connection.Open();
        return connection;
    }

    /// <summary>Copies a file: written aside, flushed, and only then given its name.</summary>
    /// <param name="from">What is copied.</param>
    /// <param name="to">Where to; one that is there already is replaced.</param>
    public static void Copy(string from, string to)
    {
        var part = to + ".part";
        File.Copy(from, part, overwrite: true);
        Flush(part);
        File.Move(part, to, overwrite: true);
        FlushFolder(Path.GetDirectoryName(Path.GetFullPath(to))!);
    }

    // Neither VACUUM INTO nor a copy flushes what it wrote.
    internal static void Flush(string file)
    {
        using var stream = new FileStream(file, FileMode.Open, FileAccess.ReadWrite);
        stream.Flush(flushToDisk: true);
    }

    /// <summary>Flushes a folder: a rename is only durable after it, and .NET opens no folders.</summary>
    public static void FlushFolder(string folder)
    {
        if (!OperatingSystem.IsLinux())
            return;
        var handle = NativeOpen(folder, 0);
        if (handle < 0)
            throw new IOException($"{folder} cannot be opened for flushing (error {Marshal.GetLastPInvokeError()}).");
        var flushed = NativeFlush(handle);
        _ = NativeClose(handle);
        if (flushed != 0)
            throw new IOException($"{folder} cannot be flushed.");
    }

    [DllImport("libc", EntryPoint = "open", SetLastError = true)]
    private static extern int NativeOpen([MarshalAs(UnmanagedType.LPUTF8Str)] string path, int flags);

    [DllImport("libc", EntryPoint = "fsync", SetLastError = true)]
    private static extern int NativeFlush(int handle);

    [DllImport("libc", EntryPoint = "close", SetLastError = true)]
    private static extern int NativeClose(int handle);
}
