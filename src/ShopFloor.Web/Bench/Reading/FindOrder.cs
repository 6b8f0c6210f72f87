using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Orders;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>An order as the Bench finds it: no price, no way to reach the customer.</summary>
/// <param name="Number">The number people say.</param>
/// <param name="Name">Who it is for, to tell one from the other.</param>
/// <param name="PromisedAt">The promise, UTC.</param>
/// <param name="ReadyAt">When the plan has it ready, UTC; null: see <paramref name="NotPlanned"/>.</param>
/// <param name="NotPlanned">Why the plan has no time, in a few words; empty: nothing is left to do.</param>
/// <param name="IsRush">It is done first.</param>
/// <param name="IsCancelled">It was called off.</param>
/// <param name="Pieces">Its pieces, alike ones together.</param>
public sealed record FoundOrder(
    int Number,
    string Name,
    DateTimeOffset PromisedAt,
    DateTimeOffset? ReadyAt,
    string NotPlanned,
    bool IsRush,
    bool IsCancelled,
    IReadOnlyList<WorkLine> Pieces
);

/// <summary>What was found.</summary>
/// <param name="Orders">The newest ones.</param>
/// <param name="Count">How many there are in all.</param>
public sealed record FoundOrders(IReadOnlyList<FoundOrder> Orders, int Count);

/// <summary>Finds orders by number or by a part of the customer's name, whatever their state.</summary>
public sealed class FindOrder(IDbContextFactory<ShopContext> contexts, OrderListView orders, TimeProvider time) : IPageView
{
    /// <summary>Orders shown of many.</summary>
    public const int Most = 8;

    /// <summary>Letters of a name from which on it is looked for: fewer are in too many names.</summary>
    private const int LeastLetters = 3;

    /// <summary>The orders; none for too few letters.</summary>
    public async Task<FoundOrders> ReadAsync(string? typed, CancellationToken cancel = default)
    {
        var text = (typed ?? "").Trim();
        if (!IsEnough(text))
            return new FoundOrders([], 0);
        var found = await orders.LoadAsync(text, OrderFilter.All, OrderSort.Newest, new OrderSpan(0, Most), cancel);
        var ids = found.Rows.Select(r => r.Id).ToList();
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var pieces = await context.Pieces.Where(p => ids.Contains(p.Order) && !p.IsTest).Select(p => p.Id).ToListAsync(cancel);
        var work = await OpenWork.LoadAsync(context, time.GetUtcNow(), pieces, cancel);
        var lines = work.Pieces.ToLookup(p => p.Order);
        return new FoundOrders(
            [
                .. found.Rows.Select(r => new FoundOrder(
                    r.Number,
                    r.Name,
                    r.PromisedAt,
                    r.ReadyAt,
                    r.NotPlanned,
                    r.IsRush,
                    r.IsCancelled,
                    Lines(work, lines[r.Id])
                )),
            ],
            found.Count
        );
    }

    /// <summary>True when a text that is no code of anything stands for an order or some.</summary>
    public async Task<bool> AnyAsync(string? typed, CancellationToken cancel = default)
    {
        var text = (typed ?? "").Trim();
        return IsEnough(text) && (await orders.LoadAsync(text, OrderFilter.All, OrderSort.Newest, new OrderSpan(0, 1), cancel)).Count > 0;
    }

    private static bool IsEnough(string text) => text.Length >= LeastLetters || (text.Length > 0 && text.All(char.IsAsciiDigit));

    private static IReadOnlyList<WorkLine> Lines(OpenWork work, IEnumerable<Piece> pieces) =>
        [
            .. pieces
                .GroupBy(p => (Key: p.Tray ?? p.Code, p.State, Step: p.Current?.Number, Running: p.Current?.State == WorkState.Running))
                .OrderBy(g => g.Key.State.IsEnd())
                .ThenBy(g => g.Key.Step ?? int.MaxValue)
                .Select(g => Line(work, g.Key.Key, [.. g])),
        ];

    // Of what somebody can go on with the step says more than the state.
    private static WorkLine Line(OpenWork work, string code, IReadOnlyList<Piece> alike)
    {
        var first = alike[0];
        var goesOn = first.State is PieceState.Received or PieceState.InWork or PieceState.Reworking;
        var step = goesOn && first.Current is { } current ? StepWords.Of(first, current) : null;
        var state = first.State.Words();
        return new WorkLine(
            code,
            step ?? state,
            step is null ? PieceSheet.Describe(work, work.LineOf(first)) : $"{state} · {PieceSheet.Describe(work, work.LineOf(first))}",
            alike.Count,
            0,
            work.Orders[first.Order].PromisedAt,
            null
        )
        {
            Step = first.Current?.Number,
            State = first.State,
            IsRunning = first.Current?.State == WorkState.Running,
        };
    }
}
