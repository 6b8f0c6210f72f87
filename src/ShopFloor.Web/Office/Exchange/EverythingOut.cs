using System.Data.Common;
using System.IO.Compression;
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
/// Everything the database holds in one zip: each table as CSV and JSON, the issued papers as files, and the three files that can be taken
/// in again. Sign-ins, secrets and hashes of secrets are left out.
/// </summary>
public sealed class EverythingOut(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private static readonly string[] Secret = ["AspNet", "AccessKeys", "Webhooks", "Commands", "__EF"];
    private static readonly string[] SecretColumns = ["StatusLinkHash", "UploadTokenHash"];
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: true);

    /// <summary>Writes the zip.</summary>
    public async Task WriteAsync(Stream to, CancellationToken cancel)
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
        var rows = await RowsAsync(context, table, columns, cancel);
        await TextAsync(zip, $"tables/{table.Name}.csv", CsvText.Write([.. columns.Select(c => c.Name)], rows));
        var objects = rows.Select(r =>
            columns.Select((c, i) => (c.Name, Value: r[i])).ToDictionary(c => c.Name, c => c.Value, StringComparer.Ordinal)
        );
        await TextAsync(zip, $"tables/{table.Name}.json", JsonSerializer.Serialize(objects, JsonForms.Default));
    }

    private static async Task<List<object?[]>> RowsAsync(ShopContext context, ITable table, List<IColumn> columns, CancellationToken cancel)
    {
        await using var command = context.Database.GetDbConnection().CreateCommand();
        command.Transaction = context.Database.CurrentTransaction is { } moment
            ? Microsoft.EntityFrameworkCore.Storage.DbContextTransactionExtensions.GetDbTransaction(moment)
            : null;
        // Names come from our own model, never from a person.
        command.CommandText =
            $"SELECT {string.Join(", ", columns.Select(c => $"\"{c.Name}\""))} FROM \"{table.Name}\" {Without(table.Name)}";
        List<object?[]> rows = [];
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel))
            rows.Add([.. columns.Select((c, i) => Value(reader, c, i))]);
        return rows;
    }

    private static string Without(string table) => table == "Settings" ? $"WHERE \"Key\" <> '{SettingKeys.MailPassword}'" : "";

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
