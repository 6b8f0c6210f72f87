using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Domain.Yield;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Costs;

/// <summary>What a line was thought to cost, and what it did cost so far.</summary>
/// <param name="Estimate">The cost parts of the agreed price.</param>
/// <param name="Actual">From the journal's minutes, the ml that left the cans and the time in machines, at the rates of the booking.</param>
/// <param name="MeasuredRuns">Runs of attended steps that were timed.</param>
/// <param name="Runs">All runs of attended steps; those not timed count with the recipe's minutes.</param>
/// <param name="Ended">Pieces of the line that came to an end or are checked good; test pieces and lost ones that are made anew do not add to it.</param>
public sealed record LineCosts(LineCost Estimate, LineCost Actual, int MeasuredRuns, int Runs, int Ended);

/// <summary>Computes actual cost of order lines from what was written down while they were made.</summary>
internal sealed class ActualCosts(ShopFacts shop, SettingsHistory history, WorkJournal journal, ILookup<PieceId, StockMove> moves)
{
    private Dictionary<CanId, Coating> cans = [];

    /// <summary>Whether a part of an agreed price is cost; the rest is what the rule made of it.</summary>
    internal static bool IsCost(string code) =>
        code is "transfer" or "consumables" or "labour" or "blank" or "loss" or "overhead"
        || code.StartsWith("coating.", StringComparison.Ordinal)
        || code.StartsWith("machine.", StringComparison.Ordinal);

    /// <summary>The cost parts of an agreed price.</summary>
    internal static LineCost Estimate(AgreedPrice price) =>
        new([.. price.Parts.Where(p => IsCost(p.Code)).Select(p => new ExactPart(p.Code, p.Name, p.Amount))]);

    /// <summary>Costs of all lines of these orders.</summary>
    internal static async Task<IReadOnlyDictionary<OrderLineId, LineCosts>> LoadAsync(
        ShopContext context,
        IReadOnlyList<Order> orders,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        var ids = orders.Select(o => o.Id).ToList();
        var query = context.Pieces.AsNoTracking().Where(p => ids.Contains(p.Order));
        var pieces = await query.IgnoreAutoIncludes().ToListAsync(cancel);
        var pieceIds = query.Select(p => (PieceId?)p.Id);
        var moves = await context.StockMoves.AsNoTracking().Where(m => pieceIds.Contains(m.Piece)).ToListAsync(cancel);
        var canIds = moves.Select(m => m.Can).OfType<CanId>().Distinct().ToList();
        var shop = await ShopFacts.LoadAsync(context, now, cancel);
        var byCoating = shop.Coatings.ToDictionary(c => c.Id);
        var costs = new ActualCosts(
            shop,
            await SettingsHistory.LoadAsync(context, cancel),
            await WorkJournal.LoadAsync(context, query, cancel),
            moves.ToLookup(m => m.Piece!.Value)
        )
        {
            cans = (
                await context.Cans.Where(c => canIds.Contains(c.Id)).Select(c => new { c.Id, c.Coating }).ToListAsync(cancel)
            ).ToDictionary(c => c.Id, c => byCoating[c.Coating]),
        };
        var byLine = pieces.ToLookup(p => p.Line);
        return orders
            .SelectMany(o => o.Lines.Select(l => (Order: o, Line: l)))
            .ToDictionary(x => x.Line.Id, x => costs.Of(x.Order, x.Line, [.. byLine[x.Line.Id]]));
    }

    private LineCosts Of(Order order, OrderLine line, IReadOnlyList<Piece> pieces)
    {
        var then = history.At(order.BookedAt);
        var runs = pieces.SelectMany(p => journal.Shares[p.Id]).ToList();
        var attended = runs.Where(r => !r.Run.Step.Kind.HasWindow()).ToList();
        var cost = LineCost.Of(Work(line, pieces, runs, then, then.Day(order.BookedAt)), then.Rates);
        // A rate that was allowed when it was booked may be refused now; then only the estimate is there to show.
        var actual = cost.IsOk ? WithLoss(cost.Value, line, pieces, then) : Estimate(line.Price);
        return new LineCosts(
            Estimate(line.Price),
            actual,
            attended.Count(r => r.IsMeasured),
            attended.Count,
            Math.Max(0, line.Quantity - pieces.Count(p => !p.IsTest && !p.State.IsEnd() && p.State != PieceState.CheckedGood))
        );
    }

    private LineWork Work(OrderLine line, IReadOnlyList<Piece> pieces, IReadOnlyList<TimeShare> runs, CurrentSettings then, DateOnly day)
    {
        var currency = then.Rates.Currency;
        var n = (decimal)line.Quantity;
        var hands = runs.Sum(Hands) / n;
        var taped = pieces.Count(p => p.IsBound || p.State is PieceState.HandedOver or PieceState.CheckedGood) / n;
        return new LineWork(
            line.Quantity,
            [.. Coats(pieces, n, currency, day)],
            new TransferUse(
                PriceLine.PaperSquareCentimetres(line.Piece, line.Placement, shop) * taped,
                new Money(then.Inputs.TransferPerSquareCentimetre, currency)
            ),
            new Money(then.Inputs.ConsumablesPerPiece * taped, currency),
            new AttendedTime(hands, runs.Count > 0 ? then.Inputs.SecondsPerLine : 0),
            [.. Machines(runs, line.Piece.Form, n, then)],
            new Money(Blanks(line, pieces, day) / n, currency),
            new SpoilRisk(0, Money.Zero(currency))
        );
    }

    private static decimal Hands(TimeShare share)
    {
        var step = share.Run.Step;
        if (step.Kind.HasWindow())
            return PriceLine.HandlingSeconds(step.Kind, share.Seconds);
        return share.IsMeasured ? share.Seconds : step.LengthSeconds;
    }

    private IEnumerable<CoatingUse> Coats(IReadOnlyList<Piece> pieces, decimal n, string currency, DateOnly day) =>
        pieces
            .SelectMany(p => moves[p.Id])
            .Where(m => m.Can is not null)
            .GroupBy(m => cans[m.Can!.Value])
            .OrderBy(g => g.Key.Code, StringComparer.Ordinal)
            .Select(g => new CoatingUse(
                g.Key.Code,
                g.Key.Name,
                Math.Max(0, -g.Sum(m => m.Amount)) / n,
                new Money(g.Key.Settings.MlPriceOn(day), currency)
            ));

    private IEnumerable<MachineTime> Machines(IReadOnlyList<TimeShare> runs, Form form, decimal n, CurrentSettings then) =>
        runs.Where(r => r.Run.Step.Kind.HasWindow())
            .GroupBy(r => r.Run.Step.Kind.InOven())
            .OrderByDescending(g => g.Key)
            .Select(g => new MachineTime(
                g.Key ? "oven" : "press",
                g.Key ? "Oven" : "Press",
                g.Sum(r => r.Seconds) / n,
                1,
                PriceLine.Watts(g.Key, shop, form),
                then.Inputs.HeaterDutyPercent
            ));

    // Blanks that left the shelf for the line; for work older than that book, one for each piece that came in.
    private decimal Blanks(OrderLine line, IReadOnlyList<Piece> pieces, DateOnly day)
    {
        if (line.Piece.IsOwn)
            return 0;
        var taken = pieces.SelectMany(p => moves[p.Id]).Where(m => m.Item is not null).ToList();
        var blank = Counter.Booking.Blanks.Fitting(shop.Items, line.Piece);
        var used = taken.Where(m => m.Item == blank?.Code).ToList();
        var count =
            used.Count > 0
                ? -used.Sum(m => m.Amount)
                : pieces.Count(p => p.State is not (PieceState.Booked or PieceState.Returned or PieceState.GoingBack));
        return Math.Max(0, count) * (blank?.PriceOn(day) ?? 0);
    }

    private static LineCost WithLoss(LineCost cost, OrderLine line, IReadOnlyList<Piece> pieces, CurrentSettings then)
    {
        var lost = pieces.Count(p => p.IsOwn && p.State == PieceState.Spoiled);
        var value = lost * Math.Min(line.Piece.DeclaredValue ?? 0, then.Inputs.MostLiability);
        return value > 0 ? new LineCost([.. cost.Parts, new ExactPart("loss", "Spoiled own pieces", value)]) : cost;
    }
}
