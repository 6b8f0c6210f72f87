using ShopFloor.Documents.Labels;
using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Documents;

/// <summary>The published plan of the day on paper, station by station.</summary>
internal static class DayPapers
{
    private const int LongestListed = 12;

    public static Result<PdfPaper> Make(OpenWork work, ReadPlan? plan)
    {
        if (plan is null)
            return new Refusal("paper-nothing", "There is no plan yet. Wait a moment and try again.");
        var today = work.Settings.Day(work.Now);
        var stations = work
            .Stations.Values.OrderBy(s => s.Code, StringComparer.Ordinal)
            .Select(s => new DayStation(s.Name, [.. Lines(plan, s.Code, today, work)]))
            .Where(s => s.Lines.Count > 0)
            .ToList();
        var title = today.ToString("dddd, d MMMM yyyy", CultureInfo.CurrentCulture);
        return DaySheets.Draw(
            title,
            Local(work, work.Now),
            plan.Number.ToString(CultureInfo.InvariantCulture),
            stations,
            work.Now.UtcDateTime
        );
    }

    private static IEnumerable<DayLine> Lines(ReadPlan plan, string station, DateOnly today, OpenWork work) =>
        plan
            .Plan.Tasks.Where(t => t.Station == station && work.Settings.Day(plan.Instant(t.StartS)) == today)
            .OrderBy(t => t.StartS)
            .Select(t => new DayLine(
                Local(work, plan.Instant(t.StartS)),
                t.EndS is { } end ? Local(work, plan.Instant(end)) : "",
                t.Batch is { } batch ? $"{t.Kind}, {batch}" : t.Kind,
                Pieces(plan, t),
                Settings(plan, t)
            ));

    private static string Local(OpenWork work, DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, work.Settings.Zone).ToString("HH:mm", CultureInfo.InvariantCulture);

    private static string Pieces(ReadPlan plan, PlanTask task)
    {
        if (task.Piece is { } piece)
            return piece;
        var members = plan.Plan.Batches.FirstOrDefault(b => b.Id == task.Batch)?.Places.Select(p => p.Piece).ToList() ?? [];
        var listed = string.Join(", ", members.Take(LongestListed));
        return members.Count > LongestListed ? $"{listed} and {members.Count - LongestListed} more" : listed;
    }

    private static string Settings(ReadPlan plan, PlanTask task)
    {
        if (task.ToTenthsC is { } to)
            return Degrees(to);
        if (plan.Plan.Batches.FirstOrDefault(b => b.Id == task.Batch) is not { } batch)
            return "";
        List<string> parts = [];
        if (batch.TenthsC is { } tenths)
            parts.Add(Degrees(tenths));
        if (batch.PressS is { } seconds)
            parts.Add($"{seconds} s");
        if (batch.Pressure is { Length: > 0 } pressure)
            parts.Add(pressure);
        if (batch.Can is { Length: > 0 } can)
            parts.Add(can);
        return string.Join(", ", parts);
    }

    private static string Degrees(int tenths) => string.Create(CultureInfo.InvariantCulture, $"{tenths / 10m:0.#} °C");
}
