using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>Now and next by the plan; without a plan what is open, by step.</summary>
internal static class WallRows
{
    internal static IReadOnlyList<NowNext> Of(WorkNow now, DateTimeOffset at, IReadOnlyCollection<string> stations) =>
        now.Plan is { } plan ? new PlannedRows(now, plan, at, stations).All() : Unplanned(now.Work, at);

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
