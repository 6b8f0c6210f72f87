using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Sheets;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Documents;

/// <summary>
/// Print sheets of a press session, of an order's open pieces, or of a day's sessions. Nobody prints on a paper that is not in the house:
/// where the papers on the stock list take everything, no other is chosen.
/// </summary>
/// <param name="files">The pictures.</param>
/// <param name="door">How many are opened at once.</param>
/// <param name="kept">Names of the papers on the stock list.</param>
/// <param name="gone">Pieces with a text of their own that are with the customer, while others of their line are in work.</param>
internal sealed class TransferPapers(PictureFolder files, PictureDoor door, IReadOnlyList<string> kept, IReadOnlyList<Piece> gone)
{
    /// <summary>The sheets, and the transfer paper they take.</summary>
    public Result<MadePaper> Make(OpenWork work, PaperWish wish, ReadPlan? plan, string number)
    {
        var choice = TransferChoice.Of(work, wish, plan);
        var request = Request(work, wish);
        if (!choice.IsOk || !request.IsOk)
            return Result<MadePaper>.Refused([.. choice.Refusals, .. request.Refusals]);
        var left = new List<Refusal>();
        var transfers = Transfers(work, choice.Value, left);
        if (left.Count > 0 && (!choice.Value.IsDay || transfers.Count == 0))
            return Result<MadePaper>.Refused(left);
        return Planned(transfers, request.Value, choice.Value.IsDay, left)
            .Then<MadePaper>(run => new MadePaper(wish, PrintSheets.Draw(run, Label(work, choice.Value.Title, number)))
            {
                Transfers = [.. run.Sheets.GroupBy(s => s.Paper, (paper, sheets) => new PaperSheets(paper.Name, Taken(paper, sheets)))],
                Use = run.Use,
                Orders = Orders(work, choice.Value, left),
                NotYet = NotYet(work, choice.Value),
                LeftOut = [.. left.Select(r => r.Text)],
            });
    }

    private List<Transfer> Transfers(OpenWork work, TransferChoice choice, List<Refusal> left)
    {
        var maker = new TransferMaker(files, door, work, gone);
        List<Transfer> transfers = [];
        foreach (var (piece, group) in choice.Pieces)
        {
            var order = work.Orders[piece.Order];
            if (choice.IsDay && IsOpen(order))
            {
                left.Add(new Refusal("proof-open", $"{piece.Code}: the proof of order {order.Number} is not approved yet.", piece.Code));
                continue;
            }
            var made = maker.Make(piece, group);
            left.AddRange(made.Refusals);
            if (made.IsOk)
                transfers.Add(made.Value);
        }
        return transfers;
    }

    /// <summary>A day goes without what no paper takes; a session or an order does not.</summary>
    private Result<PrintRun> Planned(List<Transfer> transfers, PrintRequest request, bool isDay, List<Refusal> left)
    {
        var planner = new PrintRunPlanner(PlannerNest.Run);
        IReadOnlyList<PaperStock> own = [.. request.Papers.Where(p => kept.Contains(p.Name))];
        if (
            own.Count > 0
            && own.Count < request.Papers.Count
            && planner.Plan(transfers, request with { Papers = own, AllowTiles = false }) is { IsOk: true } inHouse
        )
            return inHouse;
        var run = planner.Plan(transfers, request);
        if (run.IsOk || !isDay)
            return run;
        var bad = run.Refusals.Select(r => r.Field).ToHashSet(StringComparer.Ordinal);
        var good = transfers.Where(t => !bad.Contains(t.Code)).ToList();
        if (good.Count is 0 || good.Count == transfers.Count)
            return run;
        left.AddRange(run.Refusals);
        return planner.Plan(good, request);
    }

    private static IReadOnlyList<PrintedOrder> Orders(OpenWork work, TransferChoice choice, List<Refusal> left)
    {
        var without = left.Select(r => r.Field).ToHashSet(StringComparer.Ordinal);
        var printed = choice.Pieces.Where(c => !without.Contains(c.Piece.Code)).Select(c => c.Piece).ToList();
        var codes = printed.Select(p => p.Code).ToHashSet(StringComparer.Ordinal);
        return
        [
            .. printed
                .Select(p => p.Order)
                .Distinct()
                .Select(order => new PrintedOrder(
                    order.Value,
                    work.Pieces.Where(p => p.Order == order && TransferChoice.NeedsTransfer(p)).All(p => codes.Contains(p.Code))
                )
                {
                    Codes = [.. printed.Where(p => p.Order == order).Select(p => p.Code).Order(StringComparer.Ordinal)],
                }),
        ];
    }

    private static string NotYet(OpenWork work, TransferChoice choice)
    {
        var open = choice.IsDay
            ? []
            : choice.Pieces.Select(c => work.Orders[c.Piece.Order]).Where(IsOpen).Select(o => o.Number).ToHashSet();
        return open.Count == 0 ? "" : $"Nothing is printed before the proof is approved: order {string.Join(", ", open)}.";
    }

    private static bool IsOpen(OrderFacts order) => order.Proof is ProofState.Waiting or ProofState.ChangeWanted;

    private static decimal Taken(PaperStock paper, IEnumerable<PlannedSheet> sheets) =>
        paper.IsRoll ? (decimal)sheets.Sum(s => s.Size.Height) / 1000 : sheets.Count();

    private static RunLabel Label(OpenWork work, string title, string number) =>
        new(
            title,
            number,
            TimeZoneInfo.ConvertTime(work.Now, work.Settings.Zone).ToString("g", CultureInfo.CurrentCulture),
            work.Now.UtcDateTime
        );

    /// <summary>On the workshop's first printer in use, and on the paper that was asked for, else on all that it takes.</summary>
    private static Result<PrintRequest> Request(OpenWork work, PaperWish wish)
    {
        var printer = work
            .Stations.Values.Where(s => s is { Kind: StationKind.Printer, IsActive: true })
            .OrderBy(s => s.Code, StringComparer.Ordinal)
            .FirstOrDefault();
        if (printer?.Settings is not PrinterSettings settings)
            return new Refusal("no-printer", "There is no printer in use. Set one up under Stations.");
        var papers = PrinterPapers.Of(settings);
        if (wish.Form.Length > 0)
            papers = [.. papers.Where(p => p.Name == wish.Form)];
        return papers.Count > 0
            ? new PrintRequest(PrinterPapers.Facts(printer, settings), papers) { AllowTiles = wish.Tiles }
            : new Refusal("paper-unknown", $"{printer.Name} takes no paper called {wish.Form}.");
    }
}
