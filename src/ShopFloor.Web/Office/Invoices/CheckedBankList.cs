using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Exchange;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Checks a list of the bank and keeps it until its payments are entered.</summary>
public sealed class CheckedBankList(KeptTexts kept, BankPreview preview, ImportBankLines import) : IErrand
{
    private const int MostMegabytes = 5;

    /// <summary>Says what a list would enter, and keeps it.</summary>
    /// <returns>Its mark, what it would do, and how the file was read.</returns>
    public async Task<Result<(string Mark, BankReport Report, FileText File)>> CheckAsync(
        Guid worker,
        IFormFile? sent,
        CancellationToken cancel = default
    )
    {
        var text = await KeptTexts.OfAsync(sent, MostMegabytes, cancel);
        var file = text.Then(t => BankLines.Read(t.Text));
        if (!file.IsOk)
            return Result<(string, BankReport, FileText)>.Refused(file.Refusals);
        var report = await preview.LoadAsync(file.Value, cancel);
        var mark = await kept.KeepAsync(worker, text.Value.Text, cancel);
        return mark.Then(m => Result<(string, BankReport, FileText)>.Ok((m, report, text.Value)));
    }

    /// <summary>Enters the payments of a kept list and forgets it.</summary>
    public async Task<Result<BankReport>> TakeAsync(Asked asked, string mark, CancellationToken cancel = default)
    {
        var worker = asked.Worker ?? Guid.Empty;
        var file = (await kept.ReadAsync(worker, mark, cancel)).Then(BankLines.Read);
        if (!file.IsOk)
            return Result<BankReport>.Refused(file.Refusals);
        var done = await import.RunAsync(asked, file.Value, cancel);
        if (done.IsOk)
            kept.Drop(worker, mark);
        return done;
    }
}
