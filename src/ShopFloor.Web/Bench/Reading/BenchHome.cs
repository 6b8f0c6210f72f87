using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>One line of work: pieces that are alike and at the same step.</summary>
/// <param name="Code">Opens it: piece, tray or batch.</param>
/// <param name="Word">The step.</param>
/// <param name="What">What the pieces are.</param>
/// <param name="Count">How many.</param>
/// <param name="Order">Number of the order; 0 for a batch over several.</param>
/// <param name="PromisedAt">The earliest promise, UTC.</param>
/// <param name="Timer">What runs.</param>
public sealed record WorkLine(string Code, string Word, string What, int Count, int Order, DateTimeOffset PromisedAt, StepTimer? Timer)
{
    /// <summary>Number of the step; null: none, or a batch's.</summary>
    public int? Step { get; init; }

    /// <summary>The state by which lines of one tray are told apart; null: they are not.</summary>
    public PieceState? State { get; init; }

    /// <summary>True when a test piece has to come out well before these are begun.</summary>
    public bool IsTestFirst { get; init; }

    /// <summary>True for a test piece.</summary>
    public bool IsTest { get; init; }

    /// <summary>What brings it in, while it is still to come: <c>lay out</c> for the workshop's own blanks, <c>take in</c> for the customer's piece; null: it is here.</summary>
    public string? Brings { get; init; }

    /// <summary>True while the step runs.</summary>
    public bool IsRunning { get; init; }

    /// <summary>Names it among the lines that stand with it: a tray can be at two steps of one word.</summary>
    public (string Code, int? Step, PieceState? State, bool IsRunning) Key => (Code, Step, State, IsRunning);
}

/// <summary>A station that cannot be used now.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Until">Until when, UTC.</param>
public sealed record DownLine(string Code, string Name, DateTimeOffset Until);

/// <summary>The Bench's first page: what runs, what is being put together, what can begin.</summary>
public sealed record BenchHomeSheet(
    IReadOnlyList<WorkLine> Running,
    IReadOnlyList<WorkLine> Building,
    IReadOnlyList<WorkLine> Ready,
    IReadOnlyList<WorkLine> Aside,
    IReadOnlyList<WorkLine> Coming
)
{
    /// <summary>The plan's next round, load and session of which pieces can join now; or that its can is gone and a new plan is still to come.</summary>
    public IReadOnlyList<NextBatch> Proposed { get; init; } = [];

    /// <summary>Stations that are broken or away.</summary>
    public IReadOnlyList<DownLine> Down { get; init; } = [];

    /// <summary>The shop's zone, for the times of those.</summary>
    public TimeZoneInfo Zone { get; init; } = TimeZoneInfo.Utc;
}

/// <summary>Reads the Bench's first page.</summary>
public sealed class BenchHome(SharedWork shared) : IPageView
{
    public async Task<BenchHomeSheet> ReadAsync()
    {
        var now = await shared.ReadAsync();
        var next = new WallNext(now, now.Work.Now, []);
        var proposed = Enum.GetValues<BatchKind>()
            .Select(next.Proposed)
            .OfType<NextBatch>()
            .Where(b => b.Ready.Count > 0 || b.WaitsForPlan);
        var home = Project(now.Work);
        // The plan that works without a broken station is still to come.
        return home with { Proposed = [.. proposed.Where(b => home.Down.All(d => d.Code != b.Station))], Zone = now.Work.Settings.Zone };
    }

    /// <summary>The page out of what is open.</summary>
    public static BenchHomeSheet Project(OpenWork work)
    {
        var batched = work.Batched(_ => true);
        var waiting = TestFirst.Waiting(work);
        var free = work.Pieces.Where(p => !batched.Contains(p.Id)).ToList();
        return new BenchHomeSheet(
            [
                .. work.Batches.Where(b => b.State == BatchState.Running).Select(b => OfBatch(work, b)),
                .. Lines(work, waiting, free.Where(p => p.State.IsUp() && p.NextAttended is { State: WorkState.Running })),
            ],
            [.. work.Batches.Where(b => b.State == BatchState.Building && b.Places.Count > 0).Select(b => OfBatch(work, b))],
            [
                .. Lines(work, waiting, free.Where(p => p.State.IsUp() && p.NextAttended is { State: not WorkState.Running }))
                    .OrderBy(l => Urgency(l))
                    .ThenBy(l => l.IsTestFirst)
                    .ThenBy(l => l.PromisedAt),
            ],
            [.. Lines(work, waiting, free.Where(p => p.State == PieceState.Held)).Select(l => l with { Timer = null })],
            // The others of its line wait for a test piece.
            [.. Lines(work, waiting, free.Where(p => p.State == PieceState.Booked)).OrderByDescending(l => l.IsTest)]
        )
        {
            Down =
            [
                .. work
                    .Stations.Values.Where(s => s.IsActive && s.DownUntil > work.Now)
                    .OrderBy(s => s.Code, StringComparer.Ordinal)
                    .Select(s => new DownLine(s.Code, s.Name, s.DownUntil!.Value)),
            ],
        };
    }

    // Whatever has a limit that runs comes first; then the promise decides.
    private static DateTimeOffset Urgency(WorkLine line) => line.Timer?.Max ?? DateTimeOffset.MaxValue;

    private static WorkLine OfBatch(OpenWork work, Batch batch)
    {
        var members = work.MembersOf(batch).ToList();
        var word = work.StepIn(batch) is { } step ? StepWords.Of(step.Settings) : StepWords.Of(batch.Kind);
        var promise = members.Count == 0 ? DateTimeOffset.MaxValue : members.Min(p => work.Orders[p.Order].PromisedAt);
        return new WorkLine(
            batch.Code,
            word,
            work.Stations[batch.Station].Name,
            batch.Places.Count,
            0,
            promise,
            BatchSheet.TimerOf(batch, word)
        );
    }

    private static IEnumerable<WorkLine> Lines(OpenWork work, IReadOnlySet<string> waiting, IEnumerable<Piece> pieces) =>
        pieces
            .GroupBy(p => (Key: p.Tray ?? p.Code, Step: p.NextAttended?.Number, Running: p.NextAttended?.State == WorkState.Running))
            .Select(g => Line(work, g.Key.Key, [.. g]) with { IsTestFirst = g.Any(p => waiting.Contains(p.Code)) });

    private static WorkLine Line(OpenWork work, string code, IReadOnlyList<Piece> pieces)
    {
        var first = pieces[0];
        var next = first.NextAttended;
        var timers = next is null ? [] : pieces.Select(p => p.NextAttended is { } n ? StepCard.TimerOf(p, n) : null).OfType<StepTimer>();
        var word = next is null ? "Hand over" : StepWords.Of(first, next);
        return new WorkLine(
            code,
            word,
            PieceSheet.Describe(work, work.LineOf(first)),
            pieces.Count,
            work.Orders[first.Order].Number,
            work.Orders[first.Order].PromisedAt,
            timers.OrderBy(t => t.Max ?? DateTimeOffset.MaxValue).FirstOrDefault()
        )
        {
            Step = next?.Number,
            IsTest = first.IsTest,
            Brings = first switch
            {
                { State: not PieceState.Booked } => null,
                { IsOwn: true, IsTest: false } => "Take in",
                _ => "Lay out",
            },
            IsRunning = next?.State == WorkState.Running,
        };
    }
}
