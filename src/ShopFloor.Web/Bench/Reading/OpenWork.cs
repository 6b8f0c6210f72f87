using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>What Bench and Wall need of an order: never who it is for.</summary>
public sealed record OrderFacts(
    OrderId Id,
    int Number,
    DateTimeOffset PromisedAt,
    bool IsRush,
    ProofState Proof,
    IReadOnlyDictionary<OrderLineId, OrderLine> Lines,
    bool IsPrinted
)
{
    /// <summary>What the customer was asked and has not answered.</summary>
    public IReadOnlyList<OrderQuestion> Unanswered { get; init; } = [];
}

/// <summary>Everything that is in work now, read once and projected from.</summary>
public sealed record OpenWork(
    DateTimeOffset Now,
    CurrentSettings Settings,
    IReadOnlyList<Piece> Pieces,
    IReadOnlyDictionary<OrderId, OrderFacts> Orders,
    IReadOnlyList<Batch> Batches,
    IReadOnlyDictionary<StationId, Station> Stations
)
{
    /// <summary>Lines of which a test piece came out well: it is open no more.</summary>
    public IReadOnlySet<OrderLineId> TestedLines { get; init; } = new HashSet<OrderLineId>();

    /// <summary>The line a piece belongs to.</summary>
    public OrderLine LineOf(Piece piece) => Orders[piece.Order].Lines[piece.Line];

    /// <summary>Members of a batch that are open.</summary>
    public IEnumerable<Piece> MembersOf(Batch batch)
    {
        var ids = batch.Places.Select(p => p.Piece).ToHashSet();
        return Pieces.Where(p => ids.Contains(p.Id));
    }

    /// <summary>The step that a batch does for the first of its members that is open; in a mixed one each piece may have another number for it. Null: none is open.</summary>
    internal WorkItem? StepIn(Batch batch)
    {
        var places = batch.Places.ToDictionary(p => p.Piece, p => p.Step);
        return MembersOf(batch).SelectMany(p => p.Items.Where(i => i.Number == places[p.Id])).FirstOrDefault();
    }

    /// <summary>Pieces that lie in a batch: their step in it runs, or it is the one they stand at before it begins.</summary>
    /// <param name="which">The batches that are asked about.</param>
    internal IReadOnlySet<PieceId> Batched(Func<Batch, bool> which)
    {
        var pieces = Pieces.ToDictionary(p => p.Id);
        return Batches
            .Where(which)
            .SelectMany(b => b.Places.Where(p => pieces.TryGetValue(p.Piece, out var piece) && LiesIn(piece, b, p.Step)))
            .Select(p => p.Piece)
            .ToHashSet();
    }

    private static bool LiesIn(Piece piece, Batch batch, int step) =>
        batch.State == BatchState.Building
            ? piece.NextAttended?.Number == step
            : piece.Items.Any(i => i.Batch == batch.Id && i.State == WorkState.Running);

    /// <summary>The same with some pieces, and all batches, read anew. New orders need a new read of all.</summary>
    internal async Task<OpenWork> WithAsync(ShopContext context, DateTimeOffset now, IReadOnlySet<PieceId> changed)
    {
        var anew = changed.Count == 0 ? [] : await context.Pieces.AsNoTracking().Where(p => changed.Contains(p.Id)).ToListAsync();
        var open = anew.Where(p => !p.IsOver && Orders.ContainsKey(p.Order));
        var kept = Pieces.Where(p => !changed.Contains(p.Id));
        return this with
        {
            Now = now,
            Pieces = [.. kept.Concat(open).OrderBy(p => p.Code, StringComparer.Ordinal)],
            Batches = await BatchesAsync(context, default),
            TestedLines = anew.Any(p => p.IsTest) ? await TestedAsync(context, [.. Orders.Keys], default) : TestedLines,
        };
    }

    private static async Task<IReadOnlySet<OrderLineId>> TestedAsync(ShopContext context, List<OrderId> orders, CancellationToken cancel)
    {
        var good = context.Pieces.AsNoTracking().Where(p => p.IsTest && p.State == PieceState.CheckedGood && orders.Contains(p.Order));
        return (await good.Select(p => p.Line).ToListAsync(cancel)).ToHashSet();
    }

    private static Task<List<Batch>> BatchesAsync(ShopContext context, CancellationToken cancel) =>
        context
            .Batches.AsNoTracking()
            .Where(b => b.State == BatchState.Building || b.State == BatchState.Running)
            .OrderBy(b => b.MadeAt)
            .ToListAsync(cancel);

    /// <summary>Reads all open pieces, but for those of orders that were called off, or those given, with their orders and batches.</summary>
    public static async Task<OpenWork> LoadAsync(
        ShopContext context,
        DateTimeOffset now,
        IReadOnlyCollection<PieceId>? only,
        CancellationToken cancel
    )
    {
        var wanted = context.Pieces.AsNoTracking();
        wanted = only is null
            ? wanted
                .Where(p => OpenStates.Open.Contains(p.State))
                .Where(p => !p.IsTest || p.State != PieceState.CheckedGood)
                .Where(p => !context.Orders.Any(o => o.Id == p.Order && o.CancelledAt != null))
            : wanted.Where(p => only.Contains(p.Id));
        var pieces = await wanted.OrderBy(p => p.Code).ToListAsync(cancel);
        var orderIds = pieces.Select(p => p.Order).Distinct().ToList();
        var orders = await context
            .Orders.AsNoTracking()
            .Where(o => orderIds.Contains(o.Id))
            .Select(o => new
            {
                o.Id,
                o.Number,
                o.PromisedAt,
                o.IsRush,
                o.Proof,
                o.PrintedAt,
                o.Lines,
                o.Questions,
            })
            .ToListAsync(cancel);
        return new OpenWork(
            now,
            await CurrentSettings.LoadAsync(context, now, cancel),
            pieces,
            orders.ToDictionary(
                o => o.Id,
                o => new OrderFacts(
                    o.Id,
                    o.Number,
                    o.PromisedAt,
                    o.IsRush,
                    o.Proof,
                    o.Lines.ToDictionary(l => l.Id),
                    o.PrintedAt is not null
                )
                {
                    Unanswered = [.. o.Questions.Where(q => q.IsOpen)],
                }
            ),
            await BatchesAsync(context, cancel),
            await context.Stations.AsNoTracking().ToDictionaryAsync(s => s.Id, cancel)
        )
        {
            TestedLines = await TestedAsync(context, orderIds, cancel),
        };
    }
}
