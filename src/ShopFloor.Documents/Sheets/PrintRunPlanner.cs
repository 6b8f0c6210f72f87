using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Documents.Sheets;

/// <summary>
/// Lays transfers on papers: each group by itself, mirrored and straight ones never on one sheet, on the paper of which the group
/// takes the least. A group that no single paper takes whole is split by paper.
/// </summary>
public sealed class PrintRunPlanner(Nest nest)
{
    /// <summary>Free room between two cells, so that they can be cut apart.</summary>
    public const double GapMm = 1;

    private const double TileOverlapMm = 10;

    /// <summary>Plans a run, its groups in the order given, or says for each transfer that cannot be printed why not.</summary>
    public Result<PrintRun> Plan(IReadOnlyList<Transfer> transfers, PrintRequest request)
    {
        if (transfers.Count == 0)
            return new Refusal("run-empty", "There is nothing to print.");
        if (request.Papers.Count == 0)
            return new Refusal("no-paper", "No paper is set up for this printer.");
        var faults = transfers.SelectMany(t => t.Faults()).ToList();
        if (faults.Count > 0)
            return Result<PrintRun>.Refused(faults);
        var order = transfers.Select(t => t.Group).Distinct(StringComparer.Ordinal).ToList();
        var groups = transfers
            .GroupBy(t => (t.Group, Mirrored: t.Finish.PrintIsMirrored()))
            .OrderBy(g => order.IndexOf(g.Key.Group))
            .ThenByDescending(g => g.Key.Mirrored)
            .ToList();
        var sheets = new List<PlannedSheet>();
        var use = new List<PaperUse>();
        foreach (var group in groups)
        {
            var cells = Cells([.. group], request, faults);
            if (faults.Count > 0)
                continue;
            var parts = Split(cells, request).Select(part => (Cells: part, Best: Best(part, request))).ToList();
            sheets.AddRange(Sheets(group.Key.Group, group.Key.Mirrored, parts));
            use.AddRange(parts.Select(p => Use(group.Key.Group, p.Cells, p.Best)));
        }
        return faults.Count > 0 ? Result<PrintRun>.Refused(faults) : new PrintRun(request.Printer, sheets, use);
    }

    private sealed record Attempt(PaperStock Paper, SizeMm Size, RectMm Area, Nesting Nesting)
    {
        public double PaperArea => Size.Width * Size.Height * Nesting.Sheets;
    }

    /// <summary>One cell a transfer where it fits a paper; else tiles or a refusal.</summary>
    private static List<TransferCell> Cells(IReadOnlyList<Transfer> transfers, PrintRequest request, List<Refusal> faults)
    {
        var cells = new List<TransferCell>();
        foreach (var transfer in transfers)
        {
            var whole = new TransferCell(transfer, transfer.Printed);
            if (request.Papers.Any(p => Fits(whole.Size, AreaOf(p, request.Printer))))
                cells.Add(whole);
            else if (request.AllowTiles)
                cells.AddRange(Tiles(transfer, request, faults));
            else
                faults.Add(TooLarge(transfer, request));
        }
        return cells;
    }

    private static Refusal TooLarge(Transfer transfer, PrintRequest request)
    {
        var largest = request.Papers.MaxBy(p => p.WidthMm * p.HeightMm)!;
        var area = AreaOf(largest, request.Printer);
        return new Refusal(
            "transfer-too-large",
            string.Create(
                CultureInfo.InvariantCulture,
                $"The transfer of piece {transfer.Code} is {transfer.Printed.Width:0.#} × {transfer.Printed.Height:0.#} mm with its bleed, larger than every paper ({largest.Name} takes {area.Width - 2 * TransferCell.RimMm:0} × {area.Height - 2 * TransferCell.RimMm - TransferCell.StripMm:0} mm). Use a larger paper, or print it in tiles; the seams will show."
            ),
            transfer.Code
        );
    }

    private static IEnumerable<TransferCell> Tiles(Transfer transfer, PrintRequest request, List<Refusal> faults)
    {
        var area = AreaOf(request.Papers.MaxBy(p => p.WidthMm * p.HeightMm)!, request.Printer);
        var (width, height) = (area.Width - 2 * TransferCell.RimMm, area.Height - 2 * TransferCell.RimMm - TransferCell.StripMm);
        var printed = transfer.Printed;
        if (width <= 2 * TileOverlapMm || height <= 2 * TileOverlapMm)
        {
            faults.Add(TooLarge(transfer, request));
            yield break;
        }
        var across = Parts(printed.Width, width);
        var down = Parts(printed.Height, height);
        for (var row = 0; row < down; row++)
        for (var column = 0; column < across; column++)
        {
            var x = printed.X + Step(column, across, printed.Width, width);
            var y = printed.Y + Step(row, down, printed.Height, height);
            var window = new RectMm(x, y, Math.Min(width, printed.Right - x), Math.Min(height, printed.Bottom - y));
            yield return new TransferCell(transfer, window, row * across + column + 1, across * down);
        }
    }

    private static int Parts(double whole, double part) =>
        whole <= part ? 1 : (int)Math.Ceiling((whole - TileOverlapMm) / (part - TileOverlapMm));

    private static double Step(int index, int parts, double whole, double part) => parts == 1 ? 0 : index * (whole - part) / (parts - 1);

    /// <summary>All together where a paper takes them; else what most fit on one paper, and so on with the rest.</summary>
    private static IEnumerable<IReadOnlyList<TransferCell>> Split(IReadOnlyList<TransferCell> cells, PrintRequest request)
    {
        for (var rest = cells; rest.Count > 0; )
        {
            var left = rest;
            var fitting = request
                .Papers.OrderBy(p => p.WidthMm * p.HeightMm)
                .Select(p => left.Where(c => Fits(c.Size, AreaOf(p, request.Printer))).ToList())
                .MaxBy(f => f.Count)!;
            // Tiles are cut to the largest paper, if only to a rounding error.
            if (fitting.Count == 0)
                fitting = [.. left];
            yield return fitting;
            rest = [.. left.Except(fitting)];
        }
    }

    /// <summary>Sheets before rolls, because a roll must be cut first; among them the least paper.</summary>
    private Attempt Best(IReadOnlyList<TransferCell> cells, PrintRequest request) =>
        request
            .Papers.Where(p => cells.All(c => Fits(c.Size, AreaOf(p, request.Printer))))
            .DefaultIfEmpty(request.Papers.MaxBy(p => p.WidthMm * p.HeightMm)!)
            .GroupBy(p => p.IsRoll)
            .MinBy(papers => papers.Key)!
            .Select(p => Try(cells, p, request.Printer))
            .MinBy(a => (a.PaperArea, a.Nesting.Sheets))!;

    private Attempt Try(IReadOnlyList<TransferCell> cells, PaperStock paper, PrinterFacts printer)
    {
        SizeMm[] boxes = [.. cells.Select(c => c.Size)];
        var area = AreaOf(paper, printer);
        var nesting = nest(boxes, new SizeMm(area.Width, area.Height), GapMm);
        if (!paper.IsRoll || nesting.Sheets > 1)
            return new Attempt(paper, new SizeMm(paper.WidthMm, paper.HeightMm), area, nesting);
        return Shortest(boxes, paper, printer, nesting, area);
    }

    /// <summary>The shortest piece of roll that still takes all boxes, to a millimetre or two.</summary>
    private Attempt Shortest(SizeMm[] boxes, PaperStock paper, PrinterFacts printer, Nesting nesting, RectMm area)
    {
        var low = Math.Max(boxes.Min(b => Math.Min(b.Width, b.Height)), boxes.Sum(b => b.Width * b.Height) / area.Width);
        var high = Used(boxes, nesting);
        while (high - low > 2)
        {
            var middle = (low + high) / 2;
            var size = new SizeMm(area.Width, middle);
            var shorter = boxes.All(b => Fits(b, RectMm.Of(size))) ? nest(boxes, size, GapMm) : null;
            if (shorter is { Sheets: 1 })
                (nesting, high) = (shorter, Used(boxes, shorter));
            else
                low = middle;
        }
        var cut = new SizeMm(paper.WidthMm, Math.Ceiling(SheetArea.RollLength(high, printer)));
        return new Attempt(paper, cut, SheetArea.Of(cut, printer).Area, nesting);
    }

    private static double Used(SizeMm[] boxes, Nesting nesting) =>
        nesting.Places.Max(p => p.Y + (p.Turned ? boxes[p.Box].Width : boxes[p.Box].Height));

    private static RectMm AreaOf(PaperStock paper, PrinterFacts printer) =>
        SheetArea.Of(new SizeMm(paper.WidthMm, paper.HeightMm), printer).Area;

    private static bool Fits(SizeMm box, RectMm area) =>
        (box.Width <= area.Width && box.Height <= area.Height) || (box.Height <= area.Width && box.Width <= area.Height);

    private static IEnumerable<PlannedSheet> Sheets(
        string group,
        bool mirrored,
        IReadOnlyList<(IReadOnlyList<TransferCell> Cells, Attempt Best)> parts
    )
    {
        var of = parts.Sum(p => p.Best.Nesting.Sheets);
        var before = 0;
        foreach (var (cells, best) in parts)
        {
            foreach (var sheet in best.Nesting.Places.GroupBy(p => p.Sheet).OrderBy(g => g.Key))
            {
                var placed = sheet
                    .OrderBy(p => p.Y)
                    .ThenBy(p => p.X)
                    .Select(p => new PlacedCell(cells[p.Box], new PointMm(best.Area.X + p.X, best.Area.Y + p.Y), p.Turned));
                yield return new PlannedSheet(best.Paper, best.Size, group, before + sheet.Key + 1, of, mirrored, [.. placed]);
            }
            before += best.Nesting.Sheets;
        }
    }

    private static PaperUse Use(string group, IReadOnlyList<TransferCell> cells, Attempt best)
    {
        var covered = cells.Sum(c => c.Size.Width * c.Size.Height);
        var share = covered / (best.Area.Width * best.Area.Height * best.Nesting.Sheets);
        return new PaperUse(group, best.Paper.Name, cells.Count, best.Nesting.Sheets, best.Nesting.FewestPossible, share);
    }
}
