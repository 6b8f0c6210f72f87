using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>A file that was checked and waits to be taken in.</summary>
/// <param name="Mark">Names it; made of its content.</param>
/// <param name="Report">What it would do.</param>
public sealed record CheckedFile(string Mark, ImportReport Report)
{
    /// <summary>How the file was read, when it was sent just now.</summary>
    public FileText? File { get; init; }
}

/// <summary>Checks a file and keeps it until it is taken in.</summary>
public sealed class CheckedImport(KeptTexts kept, ImportPreview preview, ImportRows import) : IErrand
{
    private const int MostMegabytes = 10;

    /// <summary>Checks a file that was sent.</summary>
    public async Task<Result<CheckedFile>> CheckAsync(Guid worker, ImportKind kind, IFormFile? sent, CancellationToken cancel = default)
    {
        var text = await KeptTexts.OfAsync(sent, MostMegabytes, cancel);
        if (!text.IsOk)
            return Result<CheckedFile>.Refused(text.Refusals);
        var found = await CheckAsync(worker, kind, text.Value.Text, cancel);
        return found.Then(f => Result<CheckedFile>.Ok(f with { File = text.Value }));
    }

    /// <summary>Says what a file would do, and keeps it.</summary>
    public async Task<Result<CheckedFile>> CheckAsync(Guid worker, ImportKind kind, string text, CancellationToken cancel = default)
    {
        var report = await preview.LoadAsync(new ImportInput(kind, text, GoodRowsOnly: false), cancel);
        if (!report.IsOk)
            return Result<CheckedFile>.Refused(report.Refusals);
        return (await kept.KeepAsync(worker, text, cancel)).Then(mark => Result<CheckedFile>.Ok(new CheckedFile(mark, report.Value)));
    }

    /// <summary>Checks a kept file once more: the shop may have changed under it.</summary>
    public async Task<Result<CheckedFile>> AgainAsync(Guid worker, ImportKind kind, string mark, CancellationToken cancel = default)
    {
        var text = await kept.ReadAsync(worker, mark, cancel);
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
        var text = await kept.ReadAsync(worker, mark, cancel);
        if (!text.IsOk)
            return Result<ImportReport>.Refused(text.Refusals);
        var done = await import.RunAsync(asked, new ImportInput(kind, text.Value, goodRowsOnly), cancel);
        if (done.IsOk)
            kept.Drop(worker, mark);
        return done;
    }
}
