using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>A published plan, read.</summary>
/// <param name="Number">Its version.</param>
/// <param name="Zero">The instant its seconds count from, UTC.</param>
/// <param name="At">When published, UTC.</param>
/// <param name="Day">The day it plans.</param>
/// <param name="Plan">The plan.</param>
/// <param name="Note">Why it was made.</param>
/// <param name="Journal">Last journal entry that it knows of.</param>
public sealed record ReadPlan(int Number, DateTimeOffset Zero, DateTimeOffset At, Day Day, Plan Plan, string Note, long Journal)
{
    /// <summary>Answers when more pieces would be finished beside it.</summary>
    public Promises Promises { get; } = Promises.Prepare(Day, Plan);

    /// <summary>The instant of a second of the plan, UTC.</summary>
    public DateTimeOffset Instant(int second) => Zero.AddSeconds(second);

    private readonly Lazy<IReadOnlyDictionary<string, DateTimeOffset>> pieceEnds = new(() => Ends(Plan, Zero));
    private readonly Lazy<ILookup<string, PlanTask>> ofBatch = new(() =>
        Plan.Tasks.Where(t => t.Batch is not null).ToLookup(t => t.Batch!, StringComparer.Ordinal)
    );

    /// <summary>The tasks of each batch.</summary>
    public ILookup<string, PlanTask> OfBatch => ofBatch.Value;

    private readonly Lazy<IReadOnlyDictionary<string, LeftOut>> leftOut = new(() =>
        Plan.LeftOut.ToDictionary(l => l.Piece, StringComparer.Ordinal)
    );

    /// <summary>The pieces it leaves out, by code.</summary>
    public IReadOnlyDictionary<string, LeftOut> LeftOut => leftOut.Value;

    /// <summary>
    /// When each planned piece is through, UTC: the end of its own last task. A piece left out has no end, though a rest of it may be running.
    /// </summary>
    public IReadOnlyDictionary<string, DateTimeOffset> PieceEnds() => pieceEnds.Value;

    /// <summary>When the last piece of each planned order is through, by its number, UTC. An order of which a piece is left out has no end.</summary>
    public IReadOnlyDictionary<string, DateTimeOffset> OrderEnds() =>
        Day
            .Pieces.GroupBy(p => p.Order, StringComparer.Ordinal)
            .Where(g => g.All(p => PieceEnds().ContainsKey(p.Id)))
            .ToDictionary(g => g.Key, g => g.Max(p => PieceEnds()[p.Id]), StringComparer.Ordinal);

    private static Dictionary<string, DateTimeOffset> Ends(Plan plan, DateTimeOffset zero)
    {
        var ends = new Dictionary<string, DateTimeOffset>(StringComparer.Ordinal);
        foreach (var task in plan.Tasks)
            if (task is { Piece: { } piece, EndS: { } end } && (!ends.TryGetValue(piece, out var known) || zero.AddSeconds(end) > known))
                ends[piece] = zero.AddSeconds(end);
        foreach (var left in plan.LeftOut)
            ends.Remove(left.Piece);
        return ends;
    }
}

/// <summary>The published plans, each read once for all screens.</summary>
public sealed class PlanShelf(IDbContextFactory<ShopContext> contexts)
{
    private const int Kept = 4;
    private readonly Lock gate = new();
    private readonly SortedList<int, ReadPlan> read = [];

    /// <summary>The latest plan; null while there is none.</summary>
    public Task<ReadPlan?> LatestAsync(CancellationToken cancel = default) => FindAsync(0, cancel);

    /// <summary>A version; null when it is not kept.</summary>
    /// <param name="number">Which; 0: the latest.</param>
    /// <param name="cancel">Ends the reading.</param>
    public async Task<ReadPlan?> FindAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (number == 0)
            number = await context.Plans.MaxAsync(p => (int?)p.Number, cancel) ?? 0;
        lock (gate)
            if (read.TryGetValue(number, out var known))
                return known;
        var row = await context.Plans.AsNoTracking().FirstOrDefaultAsync(p => p.Number == number, cancel);
        if (row is null)
            return null;
        var day = DayReader.Read(Encoding.UTF8.GetBytes(row.DayJson), "day");
        var plan = PlanReader.Read(Encoding.UTF8.GetBytes(row.PlanJson), "plan");
        // Written in a version of the files that is no longer read: there is no such plan any more.
        if (!day.IsOk || !plan.IsOk)
            return null;
        var found = new ReadPlan(row.Number, row.Zero, row.At, day.Value, plan.Value, row.Note, row.Journal);
        Put(found);
        return found;
    }

    /// <summary>Takes a plan that is about to be published, so that nobody has to read it from its file.</summary>
    public void Put(ReadPlan plan)
    {
        lock (gate)
        {
            read[plan.Number] = plan;
            while (read.Count > Kept)
                read.RemoveAt(0);
        }
    }
}
