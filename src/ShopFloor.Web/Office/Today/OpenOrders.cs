using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Today;

/// <summary>Open orders and how they stand.</summary>
internal sealed class OpenOrders(
    IReadOnlyList<Order> orders,
    (ILookup<OrderId, Piece> Here, Dictionary<OrderId, int> HandedOver) pieces,
    DateTimeOffset now,
    CurrentSettings settings
)
{
    /// <summary>Reads them with their pieces: only open work, however many orders there ever were.</summary>
    public static async Task<OpenOrders> LoadAsync(
        ShopContext context,
        (CurrentSettings Settings, DateTimeOffset Now) shop,
        CancellationToken cancel
    )
    {
        var pieces = await context
            .Pieces.AsNoTracking()
            .Where(p => OpenStates.Open.Contains(p.State) && !(p.IsTest && p.State == PieceState.CheckedGood))
            .ToListAsync(cancel);
        var ids = pieces.Select(p => p.Order).Distinct().ToList();
        var handed = await context
            .Pieces.Where(p => ids.Contains(p.Order) && !p.IsTest && p.State == PieceState.HandedOver)
            .GroupBy(p => p.Order)
            .Select(g => new { Order = g.Key, Count = g.Count() })
            .ToDictionaryAsync(g => g.Order, g => g.Count, cancel);
        var orders = await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id) && o.CancelledAt == null).ToListAsync(cancel);
        return new OpenOrders(orders, (pieces.ToLookup(p => p.Order), handed), shop.Now, shop.Settings);
    }

    /// <summary>All that are not finished, whenever they were promised, the nearest first.</summary>
    public IReadOnlyList<PromiseRow> All(ReadPlan? plan) =>
        [.. orders.Where(o => Unfinished(o).Any()).OrderBy(o => o.PromisedAt).ThenBy(o => o.Number).Select(o => Promise(o, plan))];

    public IReadOnlyList<PromiseRow> Promises(ReadPlan? plan)
    {
        var tomorrow = settings.Day(now).AddDays(1);
        return
        [
            .. orders
                .Where(o => settings.Day(o.PromisedAt) <= tomorrow && Unfinished(o).Any())
                .OrderBy(o => o.PromisedAt)
                .ThenBy(o => o.Number)
                .Select(o => Promise(o, plan)),
        ];
    }

    public IReadOnlyList<PromiseRow> InDanger(ReadPlan? plan)
    {
        var tomorrow = settings.Day(now).AddDays(1);
        return
        [
            .. orders
                .Where(o => settings.Day(o.PromisedAt) > tomorrow && Unfinished(o).Any())
                .OrderBy(o => o.PromisedAt)
                .ThenBy(o => o.Number)
                .Select(o => Promise(o, plan))
                .Where(p => p.IsInDanger),
        ];
    }

    private PromiseRow Promise(Order order, ReadPlan? plan)
    {
        var open = Unfinished(order).ToList();
        var planned = PlannedPromise.Of(plan, order.PromisedAt, open);
        var handed = pieces.HandedOver.GetValueOrDefault(order.Id);
        return new PromiseRow(
            order.Number,
            order.Contact.Name,
            Local(order.PromisedAt),
            Own(order).Count(p => p.State.IsGood()) + handed,
            Own(order).Count() + handed,
            planned.Spare,
            planned.LeftOut,
            order.PromisedAt < now
        );
    }

    public IReadOnlyList<HeldRow> Held() =>
        [
            .. orders
                .OrderBy(o => o.PromisedAt)
                .SelectMany(o =>
                    pieces
                        .Here[o.Id]
                        .Where(p => p.State == PieceState.Held)
                        .Select(p => new HeldRow(p.Code, o.Number, o.Contact.Name, p.Reason ?? ""))
                ),
        ];

    public IReadOnlyList<ProofRow> Proofs() =>
        [
            .. orders
                .Where(o => o.Proof is ProofState.Waiting or ProofState.ChangeWanted || IsMissing(o))
                .OrderByDescending(o => o.Proof)
                .ThenBy(o => o.PromisedAt)
                .Select(o => new ProofRow(
                    o.Number,
                    o.Contact.Name,
                    o.Proof == ProofState.ChangeWanted,
                    IsMissing(o),
                    o.ProofNote,
                    Local(o.PromisedAt)
                )),
        ];

    public IReadOnlyList<QuestionRow> Questions() =>
        [
            .. orders
                .SelectMany(o => o.Questions.Where(q => q.IsOpen), (o, q) => (Order: o, Question: q))
                .OrderBy(x => x.Question.AskedAt)
                .Select(x => new QuestionRow(x.Order.Number, x.Order.Contact.Name, x.Question.Text, Local(x.Question.AskedAt))),
        ];

    public IReadOnlyList<ReadyRow> Ready() =>
        [
            .. orders
                .Where(o => Readiness.IsReady([.. Own(o).Select(p => p.Stand())]))
                .Select(o => new ReadyRow(o.Number, o.Contact.Name, Own(o).Count(), Days(o)))
                .OrderByDescending(r => r.Days ?? 0)
                .ThenBy(r => r.Number),
        ];

    private bool IsMissing(Order order) => order.WithoutPicture().Any() && Own(order).Any(p => !p.State.IsGood());

    private int? Days(Order order) =>
        Own(order).SelectMany(p => p.Items).Max(i => i.FinishedAt) is { } last ? (int)(now - last).TotalDays : null;

    private IEnumerable<Piece> Own(Order order) => pieces.Here[order.Id].Where(p => !p.IsTest);

    // What only waits to be packed is not ready: its promise still waits for it.
    private IEnumerable<Piece> Unfinished(Order order) => Own(order).Where(p => p.IsUnfinished);

    private DateTime Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, settings.Zone).DateTime;
}
