using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Labels;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Shared.Controls;

namespace ShopFloor.Web.Documents;

/// <summary>A paper before it is printed.</summary>
/// <param name="Wish">Which, with the day spelled out.</param>
/// <param name="Made">The paper, or why there is none.</param>
/// <param name="Printed">Its number and how often it was printed.</param>
/// <param name="Choices">Papers or label sizes to choose from; empty where there is no choice.</param>
public sealed record PaperShown(PaperWish Wish, Result<MadePaper> Made, Printed Printed, IReadOnlyList<Choice<string>> Choices)
{
    /// <summary>Names of papers that it takes and that the stock list does not have: nothing is booked for them.</summary>
    public IReadOnlyList<string> NotInStock { get; init; } = [];
}

/// <summary>Reads what the page before printing shows.</summary>
public sealed class PaperPreview(PaperView papers, IDbContextFactory<ShopContext> contexts) : IPageView
{
    /// <summary>The paper as it would be printed now.</summary>
    public async Task<PaperShown> LoadAsync(PaperWish asked, string host, CancellationToken cancel = default)
    {
        var made = await papers.MakeAsync(asked, host, cancel);
        var wish = made.IsOk ? made.Value.Wish : asked;
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var name = wish.Name;
        var numbers = await context
            .Audit.Where(a => a.What == PrintPaper.What && a.Subject == name)
            .Select(a => a.After)
            .ToListAsync(cancel);
        return new PaperShown(
            wish,
            made,
            new Printed(numbers.FirstOrDefault() ?? "", numbers.Count),
            await ChoicesAsync(context, wish, cancel)
        )
        {
            NotInStock = made.IsOk ? await NotInStockAsync(context, made.Value.Transfers, cancel) : [],
        };
    }

    private static async Task<IReadOnlyList<string>> NotInStockAsync(
        ShopContext context,
        IReadOnlyList<PaperSheets> taken,
        CancellationToken cancel
    )
    {
        var kept = await StockPapers.NamesAsync(context, cancel);
        return [.. taken.Select(t => t.Size).Distinct(StringComparer.Ordinal).Except(kept, StringComparer.Ordinal)];
    }

    private static async Task<IReadOnlyList<Choice<string>>> ChoicesAsync(ShopContext context, PaperWish wish, CancellationToken cancel)
    {
        if (wish.Kind == PaperKind.Labels)
            return
            [
                .. LabelSize.All.Select(s => new Choice<string>(s.Name, $"Label {s.Size.Width:0} × {s.Size.Height:0} mm")),
                .. LabelSheet.All.Select(s => new Choice<string>(s.Name, $"Sheet A4, {s.Columns} × {s.Rows} labels")),
            ];
        if (wish.Kind is not (PaperKind.Sheets or PaperKind.Calibration))
            return [];
        var printer = await context
            .Stations.AsNoTracking()
            .Where(s => s.Kind == StationKind.Printer && s.IsActive && (wish.Kind == PaperKind.Sheets || s.Code == wish.Subject))
            .OrderBy(s => s.Code)
            .FirstOrDefaultAsync(cancel);
        return printer?.Settings is PrinterSettings settings
            ?
            [
                new Choice<string>("", "The best of the papers"),
                .. PrinterPapers.Of(settings).Select(p => new Choice<string>(p.Name, p.Name)),
            ]
            : [];
    }
}
