using ShopFloor.Domain.Pieces;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using Piece = ShopFloor.Domain.Pieces.Piece;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>Now and next: for each person of the plan, and for each oven, booth and press; without a plan what is open, by step.</summary>
internal static class WallRows
{
    internal static IReadOnlyList<NowNext> Of(WorkNow now, DateTimeOffset at, IReadOnlyCollection<string> stations) =>
        now.Plan is { } plan
            ? [.. People(Codes(now.Work), plan, at, stations), .. Stations(Codes(now.Work), plan, at, stations)]
            : Unplanned(now.Work, at);

    // A plan has thousands of tasks, and each asks for its piece.
    private static Dictionary<string, Piece> Codes(OpenWork work) => work.Pieces.ToDictionary(p => p.Code, StringComparer.Ordinal);

    private static IEnumerable<NowNext> People(
        Dictionary<string, Piece> work,
        ReadPlan plan,
        DateTimeOffset at,
        IReadOnlyCollection<string> stations
    )
    {
        foreach (var person in plan.Day.People.OrderBy(p => p.Id, StringComparer.Ordinal))
        {
            var tasks = plan.Plan.Tasks.Where(t => t.Person == person.Id && WallTimers.IsShown(t.Station, stations)).ToList();
            if (Row(work, plan, char.ToUpperInvariant(person.Id[0]) + person.Id[1..], tasks, at) is { } row)
                yield return row;
        }
    }

    private static IEnumerable<NowNext> Stations(
        Dictionary<string, Piece> work,
        ReadPlan plan,
        DateTimeOffset at,
        IReadOnlyCollection<string> stations
    )
    {
        var shown = plan.Day.Stations.Where(s => s is Booth or Oven or Press && WallTimers.IsShown(s.Id, stations)).Select(s => s.Id);
        foreach (var id in shown.Order(StringComparer.Ordinal))
        {
            if (Row(work, plan, id, [.. plan.Plan.Tasks.Where(t => t.Station == id && t.Kind != TaskKinds.SetPoint)], at) is { } row)
                yield return row;
        }
    }

    // The plan says what comes; what really goes on comes from the Bench, so a plan that lags never shows work that is done.
    private static NowNext? Row(Dictionary<string, Piece> work, ReadPlan plan, string who, IReadOnlyList<PlanTask> tasks, DateTimeOffset at)
    {
        var open = tasks.Where(t => !IsDone(work, t)).OrderBy(t => t.StartS).ToList();
        var current = open.Find(t => plan.Instant(t.StartS) <= at && (t.EndS is not { } end || plan.Instant(end) > at));
        var next = open.Find(t => t != current && plan.Instant(t.StartS) > at && !IsSame(t, current));
        if (current is null && next is null)
            return null;
        return new NowNext(
            who,
            current is null ? "free" : Words(work, plan, current),
            next is null ? "" : Words(work, plan, next),
            next is null ? null : plan.Instant(next.StartS)
        );
    }

    private static bool IsSame(PlanTask a, PlanTask? b) => b is not null && a.Kind == b.Kind && a.Batch is not null && a.Batch == b.Batch;

    private static bool IsDone(Dictionary<string, Piece> work, PlanTask task) =>
        task is { Piece: { } code, Step: { } step }
        && (!work.TryGetValue(code, out var piece) || piece.Items.Any(i => i.Number == step && i.IsClosed));

    private static string Words(Dictionary<string, Piece> work, ReadPlan plan, PlanTask task)
    {
        var what = task.Batch is { } batch ? batch : Tray(work, task.Piece);
        var coating =
            task.Kind is TaskKinds.Spray or TaskKinds.Shake && task.Batch is { } round
                ? plan.Plan.Batches.FirstOrDefault(b => b.Id == round)?.Coating
                : null;
        var verb = char.ToUpperInvariant(task.Kind[0]) + task.Kind[1..];
        return $"{verb} {coating} {what}".Replace("  ", " ", StringComparison.Ordinal).Trim();
    }

    private static string Tray(Dictionary<string, Piece> work, string? code) => work.GetValueOrDefault(code ?? "")?.Tray ?? code ?? "";

    private static IReadOnlyList<NowNext> Unplanned(OpenWork work, DateTimeOffset at)
    {
        var home = BenchHome.Project(work);
        return
        [
            .. home
                .Running.Where(l => l.Timer is null or { Min: null })
                .Select(l => new NowNext(l.Code, $"{l.Word}, {StepWords.Pieces(l.Count)}", "", null)),
            .. home
                .Ready.Where(l => l.Timer?.Min is not { } min || min <= at)
                .Select(l => new NowNext(l.Code, "", $"{l.Word}, {StepWords.Pieces(l.Count)}", null)),
        ];
    }
}
