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

    /// <summary>Opens that file, with foreign keys and pooling.</summary>
    public static string ConnectionString(string file) =>
        new SqliteConnectionStringBuilder
        {
            DataSource = file,
            ForeignKeys = true,
            Pooling = true,
            DefaultTimeout = CommandTimeoutSeconds,
        }.ToString();

    /// <summary>Sets a context up for that file.</summary>
    public static void Configure(DbContextOptionsBuilder options, string file) =>
        options.UseSqlite(ConnectionString(file), sqlite => sqlite.UseQuerySplittingBehavior(QuerySplittingBehavior.SplitQuery));
}
