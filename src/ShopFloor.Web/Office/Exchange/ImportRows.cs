using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>
/// Takes a file of customers, orders or prices in. The whole file is judged first, beside the shop's work; then its rows are written in
/// portions, each a command of its own, so that nobody at the Bench waits for a long file. The same file twice changes nothing the second
/// time, and after a broken end it goes on where it stopped.
/// </summary>
public sealed class ImportRows(CommandRunner runner, ImportPreview preview) : IUseCase
{
    /// <summary>Rows of a portion: an order is written in about a millisecond.</summary>
    internal const int Portion = 100;

    private sealed record Begin(ImportKind Kind, string Sha256, bool GoodRowsOnly);

    private sealed record PortionOf(Begin File, int Number);

    /// <summary>Does it; with bad rows it does nothing unless only the good ones are wanted.</summary>
    public async Task<Result<ImportReport>> RunAsync(Asked asked, ImportInput input, CancellationToken cancel = default)
    {
        var hash = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(input.Text)));
        var file = new Begin(input.Kind, hash, input.GoodRowsOnly);
        var begun = await BeginAsync(asked.Part(1), file, cancel);
        if (!begun.IsOk)
            return Result<ImportReport>.Refused(begun.Refusals);
        var memory = new ImportMemory();
        var judged = await preview.JudgeAsync(input, memory, cancel);
        if (!judged.IsOk)
            return Result<ImportReport>.Refused(judged.Refusals);
        var (report, rows) = judged.Value;
        if (report.Faults.Count > 0 && !input.GoodRowsOnly)
            return new Refusal(
                "import-bad-rows",
                $"{report.BadRows} rows are bad, so nothing was taken in. Correct them, or take in the good rows only.",
                "File"
            );
        var count = new ImportCount();
        count.Faults.AddRange(report.Faults);
        foreach (var (portion, at) in Portions(input.Kind, rows, report).Select((p, i) => (p, i)))
        {
            var taken = await TakeAsync(asked.Part(at + 2), new PortionOf(file, at), portion, memory, cancel);
            if (!taken.IsOk)
                return Result<ImportReport>.Refused(taken.Refusals);
            count.Add(taken.Value);
        }
        return count.Report(rows.Count).WithOrders(input.Kind, rows);
    }

    /// <summary>Columns of a kind of file.</summary>
    public static IReadOnlyList<CsvColumn> Columns(ImportKind kind) =>
        kind switch
        {
            ImportKind.Customers => CustomerRows.Columns,
            ImportKind.Orders => OrderRows.Columns,
            _ => PriceRows.Columns,
        };

    /// <summary>Takes rows into the command's context.</summary>
    internal static async Task TakeAsync(
        CommandWork work,
        ImportKind kind,
        IReadOnlyList<CsvRow> rows,
        (ImportCount Count, ImportMemory Memory) of,
        CancellationToken cancel
    )
    {
        // Looking through thousands of new rows again after each one would take hours; the save looks once.
        work.Context.ChangeTracker.AutoDetectChangesEnabled = false;
        await (
            kind switch
            {
                ImportKind.Customers => CustomerRows.TakeAsync(work, rows, of.Count, cancel),
                ImportKind.Orders => OrderRows.TakeAsync(work, rows, of.Count, of.Memory, cancel),
                _ => PriceRows.TakeAsync(work, rows, of.Count, cancel),
            }
        );
        work.Context.ChangeTracker.AutoDetectChangesEnabled = true;
    }

    private Task<Result<Done>> BeginAsync(Asked asked, Begin file, CancellationToken cancel) =>
        runner.RunAsync<Begin, Done>(
            nameof(ImportRows),
            Allowed.Owner,
            asked,
            file,
            work =>
            {
                work.NoteSafety("import", file.Kind.ToString());
                return Task.FromResult(Result<Done>.Ok(default));
            },
            cancel
        );

    private Task<Result<ImportReport>> TakeAsync(
        Asked asked,
        PortionOf input,
        IReadOnlyList<CsvRow> rows,
        ImportMemory memory,
        CancellationToken cancel
    ) =>
        runner.RunAsync<PortionOf, ImportReport>(
            nameof(ImportRows),
            Allowed.Owner,
            asked,
            input,
            async work =>
            {
                var count = new ImportCount();
                await TakeAsync(work, input.File.Kind, rows, (count, memory), cancel);
                work.Touch(input.File.Kind == ImportKind.Prices ? Topic.Price : Topic.Order, Guid.Empty);
                return count.Report(rows.Count);
            },
            cancel
        );

    /// <summary>The good rows in portions; the lines of one order stay together.</summary>
    private static IEnumerable<IReadOnlyList<CsvRow>> Portions(ImportKind kind, IReadOnlyList<CsvRow> rows, ImportReport report)
    {
        var bad = report.Faults.Select(f => f.Row).ToHashSet();
        List<CsvRow> portion = [];
        foreach (var together in rows.GroupBy(r => kind == ImportKind.Orders ? OrderRows.KeyOf(r) : $"{r.Number}", StringComparer.Ordinal))
        {
            if (together.Any(r => bad.Contains(r.Number)))
                continue;
            portion.AddRange(together);
            if (portion.Count < Portion)
                continue;
            yield return portion;
            portion = [];
        }
        if (portion.Count > 0)
            yield return portion;
    }
}

/// <summary>Says what a file would do, and changes nothing.</summary>
public sealed class ImportPreview(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Goes through the whole file with a context that is thrown away.</summary>
    public async Task<Result<ImportReport>> LoadAsync(ImportInput input, CancellationToken cancel = default) =>
        (await JudgeAsync(input, new ImportMemory(), cancel)).Then(judged => Result<ImportReport>.Ok(judged.Report));

    /// <summary>The same, with the rows, and with what the judging found out for the taking in.</summary>
    internal async Task<Result<(ImportReport Report, IReadOnlyList<CsvRow> Rows)>> JudgeAsync(
        ImportInput input,
        ImportMemory memory,
        CancellationToken cancel
    )
    {
        var rows = CsvSheet.Read(input.Text, ImportRows.Columns(input.Kind));
        if (!rows.IsOk)
            return Result<(ImportReport, IReadOnlyList<CsvRow>)>.Refused(rows.Refusals);
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var count = new ImportCount();
        var work = new CommandWork(context, time.GetUtcNow(), Guid.Empty, "preview");
        await ImportRows.TakeAsync(work, input.Kind, rows.Value, (count, memory), cancel);
        return (count.Report(rows.Value.Count).WithOrders(input.Kind, rows.Value) with { Kept = Kept(input.Kind, rows.Value) }, rows.Value);
    }

    private static IReadOnlyList<string> Kept(ImportKind kind, IReadOnlyList<CsvRow> rows) =>
        kind == ImportKind.Customers
            ? [.. CustomerRows.Columns.Select(c => c.Name).Where(c => c != "contact_agreed" && rows.All(r => r.Absent.Contains(c)))]
            : [];
}
