using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Documents;

/// <summary>The number that a paper got when it was first printed, and how often it has been printed.</summary>
public sealed record Printed(string Number, int Times);

/// <summary>Writes down that a paper was printed. The first print gives it a number, every further one keeps it.</summary>
public sealed class PrintPaper(CommandRunner runner) : IUseCase
{
    /// <summary>The word in the journal.</summary>
    public const string What = "printed";

    private const string Series = "papers";

    public Task<Result<Printed>> RunAsync(Asked asked, PaperWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<PaperWish, Printed>(
            nameof(PrintPaper),
            Allowed.Bench,
            asked,
            wish,
            work => DecideAsync(work, wish, cancel),
            cancel
        );

    private static async Task<Result<Printed>> DecideAsync(CommandWork work, PaperWish wish, CancellationToken cancel)
    {
        if (wish.Subject.Length > 60)
            return new Refusal("paper-unknown", "There is no such paper.");
        var name = wish.Name;
        var before = await work.Context.Audit.Where(a => a.What == What && a.Subject == name).Select(a => a.After).ToListAsync(cancel);
        var number = before.Count > 0 ? before[0] : Numbered(await work.NextNumberAsync(Series, cancel));
        work.Audit(What, name, before.Count > 0 ? number : "", number);
        return new Printed(number, before.Count + 1);
    }

    private static string Numbered(long number) => string.Create(CultureInfo.InvariantCulture, $"P-{number:D5}");
}
