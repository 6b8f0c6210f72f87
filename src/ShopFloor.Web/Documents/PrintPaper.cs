using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Documents;

/// <summary>The number that a paper got when it was first printed, and how often it has been printed.</summary>
public sealed record Printed(string Number, int Times);

/// <summary>A paper that is printed now.</summary>
/// <param name="Wish">Which.</param>
/// <param name="Transfers">Transfer paper that leaves the stock with it.</param>
public sealed record PaperPrint(PaperWish Wish, IReadOnlyList<PaperSheets> Transfers)
{
    /// <summary>The orders whose transfers are printed; each of them must be allowed to.</summary>
    public IReadOnlyList<PrintedOrder> Orders { get; init; } = [];
}

/// <summary>Writes down that a paper was printed. The first print gives it a number, every further one keeps it.</summary>
public sealed class PrintPaper(CommandRunner runner) : IUseCase
{
    /// <summary>The word in the journal.</summary>
    public const string What = "printed";

    private const string Series = "papers";

    public Task<Result<Printed>> RunAsync(Asked asked, PaperPrint print, CancellationToken cancel = default) =>
        runner.RunAsync<PaperPrint, Printed>(
            nameof(PrintPaper),
            Allowed.Bench,
            asked,
            print,
            work => DecideAsync(work, print, cancel),
            cancel
        );

    private static async Task<Result<Printed>> DecideAsync(CommandWork work, PaperPrint print, CancellationToken cancel)
    {
        var wish = print.Wish;
        if (wish.Subject.Length > 60)
            return new Refusal("paper-unknown", "There is no such paper.");
        foreach (var order in print.Orders)
            if (await NoteAsync(work, order, cancel) is { } refusal)
                return refusal;
        foreach (var sheets in print.Transfers)
            await UseAsync(work, sheets, wish.Name, cancel);
        return await WriteDownAsync(work, wish.Name, cancel);
    }

    /// <summary>An entry in the journal of prints.</summary>
    /// <param name="work">The command's work.</param>
    /// <param name="name">The paper; under the same name it keeps its number.</param>
    /// <param name="cancel">Ends the read.</param>
    internal static async Task<Printed> WriteDownAsync(CommandWork work, string name, CancellationToken cancel)
    {
        var before = await work.Context.Audit.Where(a => a.What == What && a.Subject == name).Select(a => a.After).ToListAsync(cancel);
        var number = before.Count > 0 ? before[0] : Numbered(await work.NextNumberAsync(Series, cancel));
        work.Audit(What, name, before.Count > 0 ? number : "", number);
        return new Printed(number, before.Count + 1);
    }

    /// <summary>Printed whole, the order's transfers dry from now on, and the plan knows it.</summary>
    private static async Task<Refusal?> NoteAsync(CommandWork work, PrintedOrder printed, CancellationToken cancel)
    {
        var id = new OrderId(printed.Id);
        var order = await work.Context.Orders.FirstOrDefaultAsync(o => o.Id == id, cancel);
        if (order is null)
            return new Refusal("order-missing", "An order of these sheets is no longer there. Look at the paper again.");
        var may = order.MayPrint();
        if (!may.IsOk)
            return may.Refusals[0];
        if (printed.IsWhole || await PrintedParts.AreAllAsync(work, order, printed.Codes, cancel))
            order.Printed(work.Now);
        work.Touch(Topic.Order, printed.Id);
        return null;
    }

    private static async Task UseAsync(CommandWork work, PaperSheets sheets, string name, CancellationToken cancel)
    {
        var paper = await work
            .Context.StockItems.Where(i => i.Kind == StockItem.Paper && i.PaperSize == sheets.Size)
            .OrderBy(i => i.OnHand <= 0)
            .ThenBy(i => i.Code)
            .FirstOrDefaultAsync(cancel);
        if (paper is not null)
            work.Move(paper, -sheets.Count * paper.UsedEach, new StockCause(StockReason.Use, Note: name));
    }

    private static string Numbered(long number) => string.Create(CultureInfo.InvariantCulture, $"P-{number:D5}");
}
