using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Plans;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Stock;

namespace ShopFloor.Web.Office.Today;

/// <summary>A promise that is near or over.</summary>
/// <param name="Good">Pieces that are checked good or handed over.</param>
/// <param name="Pieces">Pieces ordered that are not lost or given back; test pieces do not count.</param>
/// <param name="Spare">Time to spare by the plan, below zero: late by it; null: not all of it is planned.</param>
/// <param name="LeftOut">Why the plan leaves some of it out; null: it does not.</param>
/// <param name="IsOver">True: the promise is over already.</param>
public sealed record PromiseRow(
    int Number,
    string Customer,
    DateTime At,
    int Good,
    int Pieces,
    TimeSpan? Spare,
    string? LeftOut,
    bool IsOver
)
{
    /// <summary>True when the plan does not keep it.</summary>
    public bool IsInDanger => Spare < TimeSpan.Zero || LeftOut is not null;

    /// <summary>True when all of it is planned, and in time.</summary>
    public bool IsKept => Spare >= TimeSpan.Zero && LeftOut is null;
}

/// <summary>A piece that was put aside.</summary>
public sealed record HeldRow(string Code, int Order, string Customer, string Reason);

/// <summary>A proof somebody has to look at, or a picture that is still to come.</summary>
/// <param name="IsAnswer">True: the customer wants a change and said what in <paramref name="Note"/>.</param>
/// <param name="IsMissing">True: the customer has not brought the picture yet.</param>
public sealed record ProofRow(int Order, string Customer, bool IsAnswer, bool IsMissing, string Note, DateTime Promised);

/// <summary>A question that its customer has not answered yet.</summary>
/// <param name="Asked">When it was asked, in the shop's time.</param>
public sealed record QuestionRow(int Order, string Customer, string Question, DateTime Asked);

/// <summary>An order that waits for its customer.</summary>
/// <param name="Days">Whole days since the last work on its pieces; null: not known.</param>
public sealed record ReadyRow(int Number, string Customer, int Pieces, int? Days);

/// <summary>An order that was called off while own pieces of its customer are here.</summary>
/// <param name="Days">Whole days since then.</param>
public sealed record GoingBackRow(int Number, string Customer, int Pieces, int Days);

/// <summary>What the owner needs first in the morning.</summary>
public sealed record TodaySheet(
    IReadOnlyList<PromiseRow> Late,
    IReadOnlyList<PromiseRow> Promises,
    IReadOnlyList<HeldRow> Held,
    IReadOnlyList<ProofRow> Proofs,
    IReadOnlyList<QuestionRow> Questions,
    IReadOnlyList<ReadyRow> Ready,
    IReadOnlyList<ReorderRow> ToOrder,
    IReadOnlyList<CanRow> Expiring,
    BackupState Backup,
    DateTimeOffset Now,
    DateOnly Day
)
{
    /// <summary>Orders that were called off whose own pieces are still here.</summary>
    public IReadOnlyList<GoingBackRow> GoingBack { get; init; } = [];

    /// <summary>Promises for later days that the plan does not keep: late, or with pieces left out.</summary>
    public IReadOnlyList<PromiseRow> InDanger { get; init; } = [];

    /// <summary>What is booked and stands in no plan.</summary>
    public PlanGaps Gaps { get; init; } = new([], []);
}

/// <summary>Reads the morning's page but for its money, see <see cref="MoneyView"/>: only open work is read, however many orders there ever were.</summary>
public sealed class TodayView(
    IDbContextFactory<ShopContext> contexts,
    TimeProvider time,
    PlanShelf plans,
    StockView stock,
    KeepBackup backups
) : IPageView
{
    /// <summary>Rows shown of each list; the rest is behind its link.</summary>
    public const int Most = 12;

    /// <summary>All of it.</summary>
    public async Task<TodaySheet> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var open = await OpenOrders.LoadAsync(context, (settings, now), cancel);
        var plan = await plans.LatestAsync(cancel);
        var promises = open.Promises(plan);
        var shelf = await stock.LoadAsync(cancel: cancel);
        return new TodaySheet(
            [.. promises.Where(p => p.IsOver)],
            [.. promises.Where(p => !p.IsOver)],
            open.Held(),
            open.Proofs(),
            open.Questions(),
            open.Ready(),
            shelf.ToOrder,
            [.. shelf.Cans.Where(c => c.State is CanState.ExpiresSoon or CanState.Expired)],
            await BackupState.LoadAsync(context, backups, (settings, now), cancel),
            now,
            settings.Day(now)
        )
        {
            GoingBack = await GoingBackAsync(context, now, cancel),
            InDanger = open.InDanger(plan),
            Gaps = await PlanGaps.LoadAsync(context, plan, cancel),
        };
    }

    private static async Task<IReadOnlyList<GoingBackRow>> GoingBackAsync(ShopContext context, DateTimeOffset now, CancellationToken cancel)
    {
        var here = await context
            .Pieces.Where(p =>
                p.State == PieceState.GoingBack
                || (
                    p.IsOwn
                    && !p.IsTest
                    && p.State == PieceState.CheckedGood
                    && context.Orders.Any(o => o.Id == p.Order && o.CancelledAt != null)
                )
            )
            .Select(p => new { p.Order, p.ChangedAt })
            .ToListAsync(cancel);
        var ids = here.Select(p => p.Order).Distinct().ToList();
        var orders = await context
            .Orders.Where(o => ids.Contains(o.Id))
            .Select(o => new
            {
                o.Id,
                o.Number,
                o.Contact.Name,
                o.CancelledAt,
            })
            .ToDictionaryAsync(o => o.Id, cancel);
        return
        [
            .. here.GroupBy(p => p.Order)
                .Select(g => new GoingBackRow(
                    orders[g.Key].Number,
                    orders[g.Key].Name,
                    g.Count(),
                    (int)(now - (orders[g.Key].CancelledAt ?? g.Min(p => p.ChangedAt))).TotalDays
                ))
                .OrderByDescending(r => r.Days)
                .ThenBy(r => r.Number),
        ];
    }
}
