using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Counter.Booking;
using Piece = ShopFloor.Domain.Pieces.Piece;

namespace ShopFloor.Web.Office.Stock;

/// <summary>One thing that booked work will take.</summary>
/// <param name="What">Code of a coating (<c>coating:clear</c>) or of a stock item (<c>item:tape</c>).</param>
/// <param name="Amount">In ml or the item's unit.</param>
/// <param name="At">When: the plan's start of the step, or the promise where the plan has none yet; a blank since the booking.</param>
public readonly record struct StockNeed(string What, decimal Amount, DateTimeOffset At);

/// <summary>What booked work will take of coatings, blanks, tape, sheets and paper.</summary>
internal sealed class StockNeeds
{
    /// <summary>Share of a sheet of transfer paper that prints usually fill (common practice, no source).</summary>
    private const decimal PaperFill = 0.6m;

    /// <summary>Pieces that usually share a press session where none is planned yet (common practice, no source).</summary>
    private const decimal SessionMembers = 3;

    private readonly List<StockNeed> needs = [];
    private readonly Dictionary<(string, int), DateTimeOffset> starts = [];
    private readonly Dictionary<CoatingKind, string> coatings;
    private readonly IReadOnlyList<StockItem> items;

    private readonly IReadOnlyList<PrinterPaper> papers;

    private StockNeeds(IEnumerable<Coating> coatings, IReadOnlyList<StockItem> items, ReadPlan? plan, IReadOnlyList<PrinterPaper> papers)
    {
        this.papers = papers;
        this.coatings = coatings.GroupBy(c => c.Kind).ToDictionary(g => g.Key, g => g.First().Code);
        this.items = items;
        foreach (var task in plan?.Plan.Tasks ?? [])
            if (task is { Piece: { } piece, Step: { } step })
                starts.TryAdd((piece, step), plan!.Instant(task.StartS));
    }

    /// <summary>Key of a coating.</summary>
    internal static string OfCoating(string code) => $"coating:{code}";

    /// <summary>Key of a stock item.</summary>
    internal static string OfItem(string code) => $"item:{code}";

    /// <summary>Reads what open pieces still need.</summary>
    internal static async Task<IReadOnlyList<StockNeed>> LoadAsync(
        ShopContext context,
        IReadOnlyList<Coating> coatings,
        IReadOnlyList<StockItem> items,
        ReadPlan? plan,
        CancellationToken cancel
    )
    {
        var found = new StockNeeds(coatings, items, plan, await PaperSizes.PrintersAsync(context, cancel));
        var pieces = await context.Pieces.AsNoTracking().Where(p => OpenStates.Unfinished.Contains(p.State)).ToListAsync(cancel);
        var ids = pieces.Select(p => p.Order).Distinct().ToList();
        var orders = await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id) && o.CancelledAt == null).ToListAsync(cancel);
        var byOrder = pieces.ToLookup(p => p.Order);
        foreach (var order in orders)
            found.AddOrder(order, [.. byOrder[order.Id]]);
        return found.needs;
    }

    private void AddOrder(Order order, IReadOnlyList<Piece> pieces)
    {
        var lines = order.AllLines.ToDictionary(l => l.Id, l => l.Piece);
        foreach (var piece in pieces)
        {
            AddSteps(order, piece);
            // Since the booking: the promise waits for a blank that is missing, so what is missing is to be ordered then.
            if (piece.State == PieceState.Booked && !lines[piece.Line].IsOwn && Blanks.Fitting(items, lines[piece.Line]) is { } blank)
                needs.Add(new StockNeed(OfItem(blank.Code), blank.UsedEach, order.BookedAt));
        }
        if (order.PrintedAt is null)
            AddPaper(order, pieces.Sum(p => lines[p.Line].Width.Millimetres * lines[p.Line].BoxHeight.Millimetres));
    }

    private void AddSteps(Order order, Piece piece)
    {
        foreach (var item in piece.Items.Where(i => !i.IsClosed))
        {
            var at = starts.GetValueOrDefault((piece.Code, item.Number), order.PromisedAt);
            if (
                item.Kind is StepKind.Spray or StepKind.Wipe
                && item.Settings.Coating is { } kind
                && coatings.TryGetValue(kind, out var code)
            )
                needs.Add(new StockNeed(OfCoating(code), item.Settings.Ml, at));
            else if (item.Kind == StepKind.Tape)
                Add(StockItem.Tape, 1, at);
            else if (item.Kind == StepKind.Press)
                Add(StockItem.Sheet, 1 / SessionMembers, at);
        }
    }

    private void AddPaper(Order order, decimal squareMillimetres)
    {
        // The first paper of the stock: which one a print takes is decided when it is printed.
        if (items.FirstOrDefault(i => i.Kind == StockItem.Paper) is not { } paper || squareMillimetres <= 0)
            return;
        if (Amount(paper.PaperSize, squareMillimetres / PaperFill) is { } amount)
            needs.Add(new StockNeed(OfItem(paper.Code), amount * paper.UsedEach, order.PromisedAt));
    }

    /// <summary>Sheets, or metres of a roll; null where nobody knows the size any more.</summary>
    private decimal? Amount(string size, decimal squareMillimetres)
    {
        if (IsoPaper.Names.Contains(size) && IsoPaper.Size(size) is var iso)
            return Math.Ceiling(squareMillimetres / (decimal)(iso.Width * iso.Height));
        return papers.FirstOrDefault(p => p.Name == size) switch
        {
            null => null,
            { IsRoll: true } roll => squareMillimetres / roll.Width.Millimetres / 1000,
            { } sheet => Math.Ceiling(squareMillimetres / (sheet.Width.Millimetres * sheet.Longest.Millimetres)),
        };
    }

    private void Add(string kind, decimal uses, DateTimeOffset at)
    {
        if (items.FirstOrDefault(i => i.Kind == kind) is { } item)
            needs.Add(new StockNeed(OfItem(item.Code), uses * item.UsedEach, at));
    }
}
