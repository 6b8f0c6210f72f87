using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Reports;

/// <summary>A plan with the day that it plans.</summary>
/// <param name="Day">The day.</param>
/// <param name="Plan">Its plan; must break no rule.</param>
public sealed record PlannedDay(Day Day, Plan Plan);

/// <summary>How one piece stands in a new plan.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Order">Its order.</param>
/// <param name="Step">The first of its steps that moved, counted from 1.</param>
/// <param name="MovedS">How much later that step starts, in seconds; negative: sooner; 0: only its station is another.</param>
/// <param name="From">The step's station before.</param>
/// <param name="To">The step's station now.</param>
/// <param name="EndMovedS">How much later the piece is finished, in seconds; negative: sooner.</param>
public sealed record PieceMove(string Piece, string Order, int Step, int MovedS, string From, string To, int EndMovedS);

/// <summary>What a new plan changed, and what had happened before it was made.</summary>
/// <param name="Causes">What is different between the two days; empty: the planner only found a better plan.</param>
/// <param name="Moves">Pieces in both plans with a step that moved, those that moved most first.</param>
/// <param name="Batches">Rounds, loads and sessions that are new, gone or different, by start.</param>
/// <param name="NewlyLate">Pieces that were in time, or not there, and are late now.</param>
/// <param name="InTimeAgain">Pieces that were late and are in time now.</param>
/// <param name="LeftOut">Pieces left out now that were not before.</param>
/// <param name="Unmoved">Pieces in both plans of which nothing moved.</param>
public sealed record PlanReport(
    IReadOnlyList<PlanCause> Causes,
    IReadOnlyList<PieceMove> Moves,
    IReadOnlyList<BatchChange> Batches,
    IReadOnlyList<string> NewlyLate,
    IReadOnlyList<string> InTimeAgain,
    IReadOnlyList<LeftOut> LeftOut,
    int Unmoved
)
{
    /// <summary>A start that moves by no more than this is no change, in seconds (common practice, no source).</summary>
    public const int NoticedS = 600;

    /// <summary>Compares two plans that follow each other. Pure.</summary>
    /// <param name="before">The plan that people followed.</param>
    /// <param name="after">The new one; its <see cref="Day.Zero"/> is no earlier.</param>
    public static PlanReport Between(PlannedDay before, PlannedDay after)
    {
        var shift = (int)(after.Day.Zero - before.Day.Zero).TotalSeconds;
        var was = Shifted(before.Plan, shift);
        var open = after.Day.Pieces.ToDictionary(p => p.Id, p => p.Done, StringComparer.Ordinal);
        var moves = Moving(was, after, out var unmoved);
        var (late, lateNow) = (Late(before), Late(after));
        var left = before.Plan.LeftOut.Select(l => l.Piece).ToHashSet(StringComparer.Ordinal);
        return new PlanReport(
            Happened(before, after.Day, NoticedS),
            moves,
            BatchChanges.Between(
                was,
                before.Day.Running.Batches,
                after.Plan,
                m => open.TryGetValue(m.Piece, out var done) && m.Step > done,
                NoticedS
            ),
            [.. lateNow.Except(late, StringComparer.Ordinal)],
            [.. late.Except(lateNow, StringComparer.Ordinal).Where(p => PlannedIn(after.Plan, p, open))],
            [.. after.Plan.LeftOut.Where(l => !left.Contains(l.Piece)).OrderBy(l => l.Piece, StringComparer.Ordinal)],
            unmoved
        );
    }

    /// <summary>What is different between a plan's day and a later one; empty when the plan still holds. Pure.</summary>
    /// <param name="before">The plan that people follow.</param>
    /// <param name="after">The day as it is now.</param>
    /// <param name="movedS">Work that is off its planned time by no more than this is as planned, in seconds.</param>
    public static IReadOnlyList<PlanCause> Happened(PlannedDay before, Day after, int movedS) =>
        new PlanCauses(before.Day, before.Plan, after, (int)(after.Zero - before.Day.Zero).TotalSeconds, movedS).Find();

    private static bool PlannedIn(Plan plan, string piece, Dictionary<string, int> open) =>
        open.ContainsKey(piece) && plan.LeftOut.All(l => l.Piece != piece);

    private static List<PieceMove> Moving(Plan was, PlannedDay after, out int unmoved)
    {
        var (past, now) = (StepTimes.Of(was), StepTimes.Of(after.Plan));
        var (ends, endsNow) = (PlanEnds.Of(was), PlanEnds.Of(after.Plan));
        var running = after.Day.Running.Tasks.Where(t => t.Piece is not null).Select(t => (t.Piece!, t.Step!.Value)).ToHashSet();
        var moves = new List<PieceMove>();
        unmoved = 0;
        foreach (var piece in after.Day.Pieces.OrderBy(p => p.Id, StringComparer.Ordinal))
        {
            var steps = Enumerable
                .Range(piece.Done + 1, piece.Route.Count - piece.Done)
                .Where(s => piece.Route[s - 1].Kind != StepKind.Rest && !running.Contains((piece.Id, s)))
                .Where(s => past.ContainsKey((piece.Id, s)) && now.ContainsKey((piece.Id, s)))
                .ToList();
            if (steps.Count == 0)
                continue;
            var first = steps.Find(s => Moved(past[(piece.Id, s)], now[(piece.Id, s)]));
            if (first == 0)
                unmoved++;
            else
                moves.Add(Move(piece, first, past[(piece.Id, first)], now[(piece.Id, first)], endsNow[piece.Id] - ends[piece.Id]));
        }
        return [.. moves.OrderByDescending(m => Math.Abs(m.EndMovedS)).ThenBy(m => m.Piece, StringComparer.Ordinal)];
    }

    private static PieceMove Move(Piece piece, int step, StepTime was, StepTime now, int end) =>
        new(piece.Id, piece.Order, step, now.StartS - was.StartS, was.Station, now.Station, end);

    private static bool Moved(StepTime was, StepTime now) => was.Station != now.Station || Math.Abs(now.StartS - was.StartS) > NoticedS;

    private static List<string> Late(PlannedDay planned)
    {
        var ends = PlanEnds.Of(planned.Plan);
        return
        [
            .. planned
                .Day.Pieces.Where(p => ends.TryGetValue(p.Id, out var end) && end > p.PromiseS)
                .Where(p => planned.Plan.LeftOut.All(l => l.Piece != p.Id))
                .Select(p => p.Id)
                .Order(StringComparer.Ordinal),
        ];
    }

    private static Plan Shifted(Plan plan, int shift) =>
        plan with
        {
            Tasks = [.. plan.Tasks.Select(t => t with { StartS = t.StartS - shift, EndS = t.EndS - shift })],
        };
}
