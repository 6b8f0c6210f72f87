using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Yield;
using ShopFloor.Web.Office.Costs;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Insight;

/// <summary>Reads one month: what was handed over, judged, run and promised in it.</summary>
internal sealed class MonthReader(ShopContext context, CurrentSettings settings, DateTimeOffset now, IReadOnlyList<PersonAtWork> people)
{
    private sealed record Sale(Order Order, OrderLine Line, int Pieces, decimal Revenue, decimal Cost, decimal Credited);

    private static decimal Share(decimal whole, (Order Order, OrderLine Line, int Pieces) sold) => whole * sold.Pieces / sold.Line.Quantity;

    private sealed record Judged(PieceId Id, OrderId Order, OrderLineId Line, PieceState State, int Reworks, DateTimeOffset At);

    public async Task<MonthFigures> ReadAsync(DateOnly month, CancellationToken cancel)
    {
        var (from, to) = Period.Month(month, settings.Zone);
        var judged = await JudgedAsync(from, to, cancel);
        var open = InsightView.OpenHours(people, month, settings.Day(now), settings);
        var lines = await LinesAsync(judged, cancel);
        var (completed, kept) = await PromisesAsync(judged, from, to, cancel);
        return new MonthFigures
        {
            Month = month,
            Money = await MoneyAsync(from, to, cancel),
            Machines = await MachinesAsync(from, to, open, cancel),
            Yields = [.. judged.GroupBy(j => lines[j.Line].Finish).OrderBy(g => g.Key).Select(g => Yield(g.Key.Words(), null, [.. g]))],
            MaterialYields =
            [
                .. judged
                    .GroupBy(j => lines[j.Line])
                    .OrderBy(g => g.Key)
                    .Select(g => Yield(g.Key.Finish.Words(), settings.Material(g.Key.Material).Name, [.. g])),
            ],
            StepLosses = await StepLossReader.ReadAsync(
                context,
                [.. judged.Select(j => (j.Id, lines[j.Line].Finish, settings.Material(lines[j.Line].Material).Name))],
                cancel
            ),
            Faults = await FaultsAsync(from, to, cancel),
            Weeks = Weeks(judged, month),
            Completed = completed,
            Kept = kept,
            OpenHours = open,
        };
    }

    private async Task<IReadOnlyDictionary<InsightBy, IReadOnlyList<MoneyRow>>> MoneyAsync(
        DateTimeOffset from,
        DateTimeOffset to,
        CancellationToken cancel
    )
    {
        var pieces = await context
            .Pieces.AsNoTracking()
            .Where(p => p.State == PieceState.HandedOver && p.ChangedAt >= from && p.ChangedAt < to)
            .IgnoreAutoIncludes()
            .Select(p => new { p.Order, p.Line })
            .ToListAsync(cancel);
        var ids = pieces.Select(p => p.Order).Distinct().ToList();
        var orders = await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).ToListAsync(cancel);
        var costs = await ActualCosts.LoadAsync(context, orders, now, cancel);
        var net = await InvoicedNet.LoadAsync(context, ids, cancel);
        var count = pieces.GroupBy(p => p.Line).ToDictionary(g => g.Key, g => g.Count());
        var sold = orders
            .SelectMany(o => o.Lines.Where(l => count.ContainsKey(l.Id)).Select(l => (Order: o, Line: l, Pieces: count[l.Id])))
            .Select(x => new Sale(
                x.Order,
                x.Line,
                x.Pieces,
                net.Of(x.Order, x.Line, x.Pieces),
                Share(costs[x.Line.Id].Actual.Total, x),
                0m
            ));
        var credited = await CreditedLines.LoadAsync(context, settings.Day, (settings.Day(from), settings.Day(to)), cancel);
        IReadOnlyList<Sale> all = [.. sold, .. credited.Select(c => new Sale(c.Order, c.Line, 0, 0m, 0m, c.Net))];
        IReadOnlyList<MoneyRow> By(Func<Order, OrderLine, string> name) =>
            [
                .. all.GroupBy(x => name(x.Order, x.Line), StringComparer.Ordinal)
                    .Select(g => new MoneyRow(
                        g.Key,
                        g.Sum(x => x.Pieces),
                        g.Sum(x => x.Revenue - x.Credited),
                        g.Sum(x => x.Cost),
                        g.Sum(x => x.Credited)
                    ))
                    .OrderByDescending(r => r.Margin)
                    .ThenBy(r => r.Name, StringComparer.Ordinal),
            ];
        return new Dictionary<InsightBy, IReadOnlyList<MoneyRow>>
        {
            [InsightBy.Finish] = By((_, l) => l.Finish.Words()),
            [InsightBy.Material] = By((_, l) => settings.Material(l.Piece.Material).Name),
            [InsightBy.Customer] = By((o, _) => o.Contact.Name),
        };
    }

    // A piece is judged when its inspection was done, or when it was lost. Test pieces are made to find out, not to be good.
    private async Task<IReadOnlyList<Judged>> JudgedAsync(DateTimeOffset from, DateTimeOffset to, CancellationToken cancel)
    {
        var good = await (
            from i in context.WorkItems.AsNoTracking()
            where i.Kind == StepKind.Inspect && i.State == WorkState.Done && i.FinishedAt >= @from && i.FinishedAt < to
            join p in context.Pieces.IgnoreAutoIncludes() on i.Piece equals p.Id
            where p.State != PieceState.Spoiled && !p.IsTest
            select new Judged(p.Id, p.Order, p.Line, p.State, p.Reworks, i.FinishedAt!.Value)
        ).ToListAsync(cancel);
        var lost = await context
            .Pieces.AsNoTracking()
            .Where(p => p.State == PieceState.Spoiled && !p.IsTest && p.ChangedAt >= from && p.ChangedAt < to)
            .IgnoreAutoIncludes()
            .Select(p => new Judged(p.Id, p.Order, p.Line, p.State, p.Reworks, p.ChangedAt))
            .ToListAsync(cancel);
        return [.. good.DistinctBy(g => g.Id), .. lost];
    }

    private async Task<Dictionary<OrderLineId, (Finish Finish, string Material)>> LinesAsync(
        IReadOnlyList<Judged> judged,
        CancellationToken cancel
    )
    {
        var ids = judged.Select(j => j.Order).Distinct().ToList();
        var lines = await context
            .Orders.Where(o => ids.Contains(o.Id))
            .SelectMany(o => o.Lines)
            .Select(l => new
            {
                l.Id,
                l.Finish,
                l.Piece.Material,
            })
            .ToListAsync(cancel);
        return lines.ToDictionary(l => l.Id, l => (l.Finish, l.Material));
    }

    private static YieldRow Yield(string name, string? material, IReadOnlyList<Judged> pieces)
    {
        var spoiled = pieces.Count(p => p.State == PieceState.Spoiled);
        var good = pieces.Count - spoiled;
        var reworked = pieces.Count(p => p.State != PieceState.Spoiled && p.Reworks > 0);
        return new YieldRow(name, good, reworked, spoiled, RejectRate.Likely(good, pieces.Count).Value.Value) { Material = material };
    }

    private List<CountRow> Weeks(IReadOnlyList<Judged> judged, DateOnly month)
    {
        var days = DateTime.DaysInMonth(month.Year, month.Month);
        var byWeek = judged
            .Where(j => j.State != PieceState.Spoiled)
            .GroupBy(j => (settings.Day(j.At).Day - 1) / 7)
            .ToDictionary(g => g.Key, g => g.Count());
        return
        [
            .. Enumerable
                .Range(0, (days + 6) / 7)
                .Select(w => new CountRow(
                    string.Create(CultureInfo.InvariantCulture, $"{w * 7 + 1}–{Math.Min(days, w * 7 + 7)}"),
                    byWeek.GetValueOrDefault(w)
                )),
        ];
    }

    // Hours in which something ran: batches, and work that was written down without one; what overlaps in a station counts once.
    private async Task<IReadOnlyList<MachineRow>> MachinesAsync(
        DateTimeOffset from,
        DateTimeOffset to,
        decimal open,
        CancellationToken cancel
    )
    {
        var runs = await context
            .WorkItems.AsNoTracking()
            .Where(i =>
                i.StartedAt >= from
                && i.StartedAt < to
                && i.FinishedAt != null
                && (i.Kind == StepKind.Cure || i.Kind == StepKind.Dry || i.Kind == StepKind.Press)
            )
            .Select(i => new
            {
                i.Piece,
                i.Station,
                i.StartedAt,
                i.FinishedAt,
            })
            .ToListAsync(cancel);
        var stations = await context
            .Stations.AsNoTracking()
            .Where(s => s.Kind == StationKind.Oven || s.Kind == StationKind.Press)
            .OrderBy(s => s.Code)
            .ToListAsync(cancel);
        decimal Hour(DateTimeOffset at) => (decimal)(at - from).TotalHours;
        return
        [
            .. stations.Select(s =>
            {
                var mine = runs.Where(r => r.Station == s.Id).ToList();
                var hours = InsightView.Union(mine.Select(r => (Hour(r.StartedAt!.Value), Hour(r.FinishedAt!.Value))));
                return new MachineRow(s.Name, hours, open, mine.Select(r => r.Piece).Distinct().Count());
            }),
        ];
    }

    private async Task<IReadOnlyList<CountRow>> FaultsAsync(DateTimeOffset from, DateTimeOffset to, CancellationToken cancel)
    {
        var entries = await context
            .Journal.AsNoTracking()
            .Where(j =>
                j.At >= from
                && j.At < to
                && (EF.Functions.Like(j.Payload, "%\"fault found\"%") || EF.Functions.Like(j.Payload, "%\"undone\"%"))
            )
            .ToListAsync(cancel);
        return
        [
            .. StepRuns
                .Counting([.. entries.Select(e => (e.Id, e.Read()))])
                .OfType<FaultFound>()
                .GroupBy(f => FaultList.Find(f.Fault)?.Name ?? f.Fault, StringComparer.Ordinal)
                .Select(g => new CountRow(g.Key, g.Count()))
                .OrderByDescending(r => r.Count)
                .ThenBy(r => r.Name, StringComparer.Ordinal),
        ];
    }

    // An order is complete when its last piece is through; its promise is kept when that was not after it.
    private async Task<(int Completed, int Kept)> PromisesAsync(
        IReadOnlyList<Judged> judged,
        DateTimeOffset from,
        DateTimeOffset to,
        CancellationToken cancel
    )
    {
        var ids = judged.Select(j => j.Order).Distinct().ToList();
        var pieces = (await context.Pieces.AsNoTracking().Where(p => !p.IsTest && ids.Contains(p.Order)).ToListAsync(cancel)).ToLookup(p =>
            p.Order
        );
        var promised = await context
            .Orders.Where(o => ids.Contains(o.Id) && o.CancelledAt == null)
            .Select(o => new { o.Id, o.PromisedAt })
            .ToListAsync(cancel);
        var done = promised
            .Where(o => pieces[o.Id].All(p => p.State.IsEnd() || p is { State: PieceState.CheckedGood, Current: null }))
            .Select(o => (o.PromisedAt, At: pieces[o.Id].SelectMany(p => p.Items).Max(i => i.FinishedAt)))
            .Where(o => o.At >= from && o.At < to)
            .ToList();
        return (done.Count, done.Count(o => o.At <= o.PromisedAt));
    }
}
