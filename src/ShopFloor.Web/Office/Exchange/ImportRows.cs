using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>Takes a file of customers, orders or prices in. The same file twice changes nothing the second time.</summary>
public sealed class ImportRows(CommandRunner runner) : IUseCase
{
    /// <summary>Does it; with bad rows it does nothing unless only the good ones are wanted.</summary>
    public Task<Result<ImportReport>> RunAsync(Asked asked, ImportInput input, CancellationToken cancel = default) =>
        runner.RunAsync<ImportInput, ImportReport>(
            nameof(ImportRows),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    /// <summary>Columns of a kind of file.</summary>
    public static IReadOnlyList<CsvColumn> Columns(ImportKind kind) =>
        kind switch
        {
            ImportKind.Customers => CustomerRows.Columns,
            ImportKind.Orders => OrderRows.Columns,
            _ => PriceRows.Columns,
        };

    internal static async Task<Result<ImportReport>> TakeAsync(CommandWork work, ImportInput input, CancellationToken cancel)
    {
        var rows = CsvSheet.Read(input.Text, Columns(input.Kind));
        if (!rows.IsOk)
            return Result<ImportReport>.Refused(rows.Refusals);
        var count = new ImportCount();
        // Looking through thousands of new rows again after each one would take hours; the save looks once.
        work.Context.ChangeTracker.AutoDetectChangesEnabled = false;
        await (
            input.Kind switch
            {
                ImportKind.Customers => CustomerRows.TakeAsync(work, rows.Value, count, cancel),
                ImportKind.Orders => OrderRows.TakeAsync(work, rows.Value, count, cancel),
                _ => PriceRows.TakeAsync(work, rows.Value, count, cancel),
            }
        );
        work.Context.ChangeTracker.AutoDetectChangesEnabled = true;
        return new ImportReport(rows.Value.Count, count.New, count.Changed, count.Same, [.. count.Faults.OrderBy(f => f.Row)]);
    }

    private static async Task<Result<ImportReport>> DecideAsync(CommandWork work, ImportInput input, CancellationToken cancel)
    {
        var taken = await TakeAsync(work, input, cancel);
        if (!taken.IsOk)
            return taken;
        var report = taken.Value;
        if (report.Faults.Count > 0 && !input.GoodRowsOnly)
            return new Refusal(
                "import-bad-rows",
                $"{report.BadRows} rows are bad, so nothing was taken in. Correct them, or take in the good rows only.",
                "File"
            );
        work.NoteSafety("import", input.Kind.ToString());
        work.Touch(input.Kind == ImportKind.Prices ? Topic.Price : Topic.Order, Guid.Empty);
        return report;
    }
}

/// <summary>Says what a file would do, and changes nothing.</summary>
public sealed class ImportPreview(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Goes through the whole file with a context that is thrown away.</summary>
    public async Task<Result<ImportReport>> LoadAsync(ImportInput input, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return await ImportRows.TakeAsync(new CommandWork(context, time.GetUtcNow(), Guid.Empty, "preview"), input, cancel);
    }
}
