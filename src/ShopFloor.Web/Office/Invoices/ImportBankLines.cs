using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>What an import found or did.</summary>
public sealed record BankReport(IReadOnlyList<BankMatch> Matches, IReadOnlyList<BadLine> Bad);

/// <summary>Shows what an import would do, and changes nothing.</summary>
public sealed class BankPreview(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Matches every line.</summary>
    public async Task<BankReport> LoadAsync(BankFile file, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return new BankReport(await BankMatching.MatchAsync(context, file.Lines, settings.Day(time.GetUtcNow()), cancel), file.Bad);
    }
}

/// <summary>Enters every line that names an open invoice, or several and comes to their sum; the others are told and left. The same file twice enters nothing twice.</summary>
public sealed class ImportBankLines(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<BankReport>> RunAsync(Asked asked, BankFile file, CancellationToken cancel = default) =>
        runner.RunAsync<BankFile, BankReport>(
            nameof(ImportBankLines),
            Allowed.Owner,
            asked,
            file,
            work => DecideAsync(work, file, cancel),
            cancel
        );

    private static async Task<Result<BankReport>> DecideAsync(CommandWork work, BankFile file, CancellationToken cancel)
    {
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var matches = await BankMatching.MatchAsync(work.Context, file.Lines, settings.Day(work.Now), cancel);
        foreach (var (line, part) in matches.SelectMany(m => m.Parts.Select(p => (m.Line, p))))
        {
            var entered = await EnterPayment.DecideAsync(
                work,
                new PaymentInput(part.Invoice, null, part.Amount, line.Day, "transfer", line.Text),
                cancel
            );
            if (!entered.IsOk)
                return Result<BankReport>.Refused([.. entered.Refusals.Select(r => r with { Text = $"Line {line.Row}: {r.Text}" })]);
        }
        return new BankReport(matches, file.Bad);
    }
}
