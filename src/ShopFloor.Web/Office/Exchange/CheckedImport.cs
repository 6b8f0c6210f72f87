using System.Security.Cryptography;
using System.Text;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Shared.Uploads;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>A file that was checked and waits to be taken in.</summary>
/// <param name="Mark">Names it; made of its content.</param>
/// <param name="Report">What it would do.</param>
public sealed record CheckedFile(string Mark, ImportReport Report);

/// <summary>
/// Checks a file and keeps it until it is taken in: among the incoming files, for a day, within their size, and only for whoever had it
/// checked. What is taken in is exactly what was checked, whatever else was checked meanwhile.
/// </summary>
public sealed class CheckedImport(IncomingFiles files, ImportPreview preview, ImportRows import) : IPageView
{
    private const long MostBytes = 10_000_000;

    /// <summary>Checks a file that was sent.</summary>
    public async Task<Result<CheckedFile>> CheckAsync(Guid worker, ImportKind kind, IFormFile? sent, CancellationToken cancel = default)
    {
        if (sent is null || sent.Length is 0 or > MostBytes)
            return new Refusal("file", "Choose a CSV file of at most 10 MB.", "File");
        using var reader = new StreamReader(sent.OpenReadStream());
        return await CheckAsync(worker, kind, await reader.ReadToEndAsync(cancel), cancel);
    }

    /// <summary>Says what a file would do, and keeps it.</summary>
    public async Task<Result<CheckedFile>> CheckAsync(Guid worker, ImportKind kind, string text, CancellationToken cancel = default)
    {
        var report = await preview.LoadAsync(new ImportInput(kind, text, GoodRowsOnly: false), cancel);
        if (!report.IsOk)
            return Result<CheckedFile>.Refused(report.Refusals);
        var bytes = Encoding.UTF8.GetBytes(text);
        var mark = Convert.ToHexStringLower(SHA256.HashData(bytes));
        using var source = new MemoryStream(bytes);
        var kept = await files.TakeAsync(IdOf(worker, mark), source, cancel);
        return kept.Then(_ => Result<CheckedFile>.Ok(new CheckedFile(mark, report.Value)));
    }

    /// <summary>Checks a kept file once more: the shop may have changed under it.</summary>
    public async Task<Result<CheckedFile>> AgainAsync(Guid worker, ImportKind kind, string mark, CancellationToken cancel = default)
    {
        var text = await ReadAsync(worker, mark, cancel);
        return text.IsOk ? await CheckAsync(worker, kind, text.Value, cancel) : Result<CheckedFile>.Refused(text.Refusals);
    }

    /// <summary>Takes a kept file in and forgets it.</summary>
    public async Task<Result<ImportReport>> TakeAsync(
        Asked asked,
        ImportKind kind,
        string mark,
        bool goodRowsOnly,
        CancellationToken cancel = default
    )
    {
        var worker = asked.Worker ?? Guid.Empty;
        var text = await ReadAsync(worker, mark, cancel);
        if (!text.IsOk)
            return Result<ImportReport>.Refused(text.Refusals);
        var done = await import.RunAsync(asked, new ImportInput(kind, text.Value, goodRowsOnly), cancel);
        if (done.IsOk)
            files.Drop(IdOf(worker, mark));
        return done;
    }

    private async Task<Result<string>> ReadAsync(Guid worker, string mark, CancellationToken cancel)
    {
        var found = files.Open(IdOf(worker, mark));
        if (!found.IsOk)
            return new Refusal(
                "file-gone",
                "The checked file is no longer here: it was taken in already, or a day has gone by. Choose it again.",
                "File"
            );
        using var reader = new StreamReader(found.Value, Encoding.UTF8);
        return await reader.ReadToEndAsync(cancel);
    }

    private static Guid IdOf(Guid worker, string mark) => new(SHA256.HashData(Encoding.UTF8.GetBytes($"{worker:N} {mark}")).AsSpan(0, 16));
}
