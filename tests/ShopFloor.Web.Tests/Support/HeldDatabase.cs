using Microsoft.Data.Sqlite;
using ShopFloor.Data;

namespace ShopFloor.Web.Tests.Support;

/// <summary>Another program that holds the database's write lock until it is disposed.</summary>
internal sealed class HeldDatabase : IDisposable
{
    private readonly SqliteConnection connection;
    private readonly SqliteTransaction held;

    public HeldDatabase(string folder)
    {
        connection = new SqliteConnection(
            new SqliteConnectionStringBuilder { DataSource = ShopDatabase.FileIn(folder), Pooling = false }.ToString()
        );
        connection.Open();
        held = connection.BeginTransaction();
    }

    public void Dispose()
    {
        held.Dispose();
        connection.Dispose();
    }
}
