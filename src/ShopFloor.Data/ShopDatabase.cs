using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace ShopFloor.Data;

/// <summary>Where the database lies and how it is opened.</summary>
public static class ShopDatabase
{
    /// <summary>Seconds after which a command gives up.</summary>
    public const int CommandTimeoutSeconds = 5;

    /// <summary>The file inside the data folder.</summary>
    public static string FileIn(string dataFolder) => Path.Combine(dataFolder, "shopfloor.db");

    /// <summary>Opens that file, with foreign keys and pooling. A file that is not there is an error: only <see cref="Begin"/> makes one.</summary>
    public static string ConnectionString(string file) =>
        new SqliteConnectionStringBuilder
        {
            DataSource = file,
            Mode = SqliteOpenMode.ReadWrite,
            ForeignKeys = true,
            Pooling = true,
            DefaultTimeout = CommandTimeoutSeconds,
        }.ToString();

    /// <summary>Puts an empty file there when there is none; migrating fills it. Everybody else opens what is there, so that a database which was moved away under the running program is missed at once and no empty one takes its place.</summary>
    public static void Begin(string file)
    {
        using var _ = new FileStream(file, FileMode.OpenOrCreate, FileAccess.Write, FileShare.ReadWrite);
    }

    /// <summary>Sets a context up for that file.</summary>
    public static void Configure(DbContextOptionsBuilder options, string file) =>
        options.UseSqlite(ConnectionString(file), sqlite => sqlite.UseQuerySplittingBehavior(QuerySplittingBehavior.SplitQuery));
}
