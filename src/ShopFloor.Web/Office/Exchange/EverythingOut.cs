using System.Data.Common;
using System.IO.Compression;
using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>
/// Everything the database holds in one zip: each table as CSV and JSON (of the plans the last five), the issued papers as files, and the three files that can be taken
/// in again. Sign-ins, secrets and hashes of secrets are left out.
/// </summary>
public sealed class EverythingOut(IDbContextFactory<ShopContext> contexts, ExportTurn turn, TimeProvider time) : IPageView
{
    private static readonly string[] Secret = ["AspNet", "AccessKeys", "Webhooks", "Commands", "__EF"];
    private const int LastPlans = 5;
    private static readonly string[] SecretColumns = ["StatusLinkHash", "UploadTokenHash"];
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: true);

    /// <summary>Writes the zip.</summary>
    /// <returns>False when another is being written: nothing was written then.</returns>
    public async Task<bool> WriteAsync(Stream to, CancellationToken cancel)
    {
        if (!turn.TryTake())
            return false;
        try
        {
            await WriteInTurnAsync(to, cancel);
            return true;
        }
        finally
        {
            turn.GiveBack();
        }
    }

    private async Task WriteInTurnAsync(Stream to, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        // One read transaction: all tables are of the same moment. Deferred, for any other takes the database's only right to write.
        await context.Database.OpenConnectionAsync(cancel);
        await using var moment = ((SqliteConnection)context.Database.GetDbConnection()).BeginTransaction(deferred: true);
        await context.Database.UseTransactionAsync(moment, cancel);
        await using var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true);
        foreach (var table in context.Model.GetRelationalModel().Tables.OrderBy(t => t.Name, StringComparer.Ordinal))
            if (!Array.Exists(Secret, s => table.Name.StartsWith(s, StringComparison.Ordinal)))
                await TableAsync(context, zip, table, cancel);
        await PapersAsync(context, zip, cancel);
        await TextAsync(zip, "customers.csv", await CustomerRows.WriteAsync(context, cancel));
        await TextAsync(zip, "orders.csv", await OrderLinesOut.WriteAsync(context, time.GetUtcNow(), cancel));
        await TextAsync(zip, "prices.csv", await PriceRows.WriteAsync(context, time.GetUtcNow(), cancel));
    }

    /// <summary>One of the files that can be taken in again.</summary>
    public async Task<string> FileAsync(ImportKind kind, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return kind switch
        {
            ImportKind.Customers => await CustomerRows.WriteAsync(context, cancel),
            ImportKind.Orders => await OrderLinesOut.WriteAsync(context, time.GetUtcNow(), cancel),
            _ => await PriceRows.WriteAsync(context, time.GetUtcNow(), cancel),
        };
    }

    private static async Task TableAsync(ShopContext context, ZipArchive zip, ITable table, CancellationToken cancel)
    {
        var columns = table
            .Columns.Where(c => !SecretColumns.Contains(c.Name, StringComparer.Ordinal) && c.StoreType != "BLOB")
            .OrderBy(c => table.PrimaryKey?.Columns.Contains(c) != true)
            .ThenBy(c => c.Name, StringComparer.Ordinal)
            .ToList();
        // Row by row into the zip, once for each form: years of a table do not fit into a small machine's memory.
        await using (var csv = await zip.CreateEntry($"tables/{table.Name}.csv").OpenAsync(cancel))
        await using (var writer = new StreamWriter(csv, Utf8))
            await CsvText.WriteAsync(writer, [.. columns.Select(c => c.Name)], RowsAsync(context, table, columns, cancel));
        await using var json = await zip.CreateEntry($"tables/{table.Name}.json").OpenAsync(cancel);
        await JsonSerializer.SerializeAsync(json, ObjectsAsync(context, table, columns, cancel), JsonForms.Default, cancel);
    }

    private static async IAsyncEnumerable<Dictionary<string, object?>> ObjectsAsync(
        ShopContext context,
        ITable table,
        List<IColumn> columns,
        [EnumeratorCancellation] CancellationToken cancel
    )
    {
        await foreach (var row in RowsAsync(context, table, columns, cancel))
            yield return columns.Select((c, i) => (c.Name, Value: row[i])).ToDictionary(c => c.Name, c => c.Value, StringComparer.Ordinal);
    }

    private static async IAsyncEnumerable<object?[]> RowsAsync(
        ShopContext context,
        ITable table,
        List<IColumn> columns,
        [EnumeratorCancellation] CancellationToken cancel
    )
    {
        await using var command = context.Database.GetDbConnection().CreateCommand();
        command.Transaction = context.Database.CurrentTransaction is { } moment
            ? Microsoft.EntityFrameworkCore.Storage.DbContextTransactionExtensions.GetDbTransaction(moment)
            : null;
        // Names come from our own model, never from a person.
        command.CommandText =
            $"SELECT {string.Join(", ", columns.Select(c => $"\"{c.Name}\""))} FROM \"{table.Name}\" {Without(table.Name)}";
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel))
            yield return [.. columns.Select((c, i) => Value(reader, c, i))];
    }

    private static string Without(string table) =>
        table switch
        {
            "Settings" => $"WHERE \"Key\" <> '{SettingKeys.MailPassword}'",
            // Each holds its whole day, and the older ones say nothing that the journal does not.
            "Plans" => $"WHERE \"Number\" > (SELECT max(\"Number\") FROM \"Plans\") - {LastPlans}",
            _ => "",
        };

    private static object? Value(DbDataReader reader, IColumn column, int at)
    {
        if (reader.IsDBNull(at))
            return null;
        var type = column.PropertyMappings[0].Property.ClrType;
        return type == typeof(DateTimeOffset) || type == typeof(DateTimeOffset?)
            ? new DateTimeOffset(reader.GetInt64(at), TimeSpan.Zero)
            : reader.GetValue(at);
    }

    private static async Task PapersAsync(ShopContext context, ZipArchive zip, CancellationToken cancel)
    {
        var ids = await context.Documents.AsNoTracking().OrderBy(d => d.Number).Select(d => d.Id).ToListAsync(cancel);
        foreach (var id in ids)
        {
            var paper = await context.Documents.AsNoTracking().FirstAsync(d => d.Id == id, cancel);
            await using (var pdf = await zip.CreateEntry($"papers/{paper.Number}.pdf").OpenAsync(cancel))
                await pdf.WriteAsync(paper.Pdf, cancel);
            if (paper.Xml.Length > 0)
                await TextAsync(zip, $"papers/{paper.Number}.xml", paper.Xml);
        }
    }

    private static async Task TextAsync(ZipArchive zip, string name, string text)
    {
        await using var entry = await zip.CreateEntry(name).OpenAsync();
        // A spreadsheet takes a CSV file without a mark for its own old alphabet.
        await using var writer = new StreamWriter(entry, name.EndsWith(".csv", StringComparison.Ordinal) ? Utf8 : new UTF8Encoding(false));
        await writer.WriteAsync(text);
    }
}

/// <summary>One whole export at a time: each reads all there is. Registered once.</summary>
public sealed class ExportTurn
{
    private int taken;

    /// <summary>False when somebody else has it.</summary>
    internal bool TryTake() => Interlocked.Exchange(ref taken, 1) == 0;

    /// <summary>The next may.</summary>
    internal void GiveBack() => Volatile.Write(ref taken, 0);
}
