using ShopFloor.Documents.Labels;
using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.TestPieces;

namespace ShopFloor.Web.Documents;

/// <summary>The published plan of a day on paper, station by station. The same step on one piece after another is one line.</summary>
internal static class DayPapers
{
    public static Result<PdfPaper> Make(OpenWork work, PaperWish wish, ReadPlan? plan)
    {
        if (plan is null)
            return new Refusal("paper-nothing", "There is no plan yet. Wait a moment and try again.");
        if (wish.Day is not { } day)
            return new Refusal("paper-nothing", $"{wish.Subject} is no day. Write it like 2026-05-04.");
        var orders = work.Pieces.ToDictionary(p => p.Code, p => work.Orders[p.Order].Number, StringComparer.Ordinal);
        var untested = TestFirst.Waiting(work);
        var stations = work
            .Stations.Values.OrderBy(s => s.Code, StringComparer.Ordinal)
            .Select(s => new DayStation(s.Name, [.. Lines(plan, (s.Code, day), work, orders, untested)]))
            .Where(s => s.Lines.Count > 0)
            .ToList();
        if (stations.Count == 0)
            return new Refusal("paper-nothing", $"Nothing is planned on {day.ToString("D", CultureInfo.CurrentCulture)}.");
        return DaySheets.Draw(
            day.ToString("D", CultureInfo.CurrentCulture),
            TimeZoneInfo.ConvertTime(work.Now, work.Settings.Zone).ToString("g", CultureInfo.CurrentCulture),
            plan.Number.ToString(CultureInfo.InvariantCulture),
            stations,
            work.Now.UtcDateTime
        );
    }

    private static IEnumerable<DayLine> Lines(
        ReadPlan plan,
        (string Station, DateOnly Day) of,
        OpenWork work,
        IReadOnlyDictionary<string, int> orders,
        IReadOnlySet<string> untested
    )
    {
        var tasks = plan.Plan.Tasks.Where(t => t.Station == of.Station && work.Settings.Day(plan.Instant(t.StartS)) == of.Day);
        // Two people at one bench take turns in the plan; each goes on with their own.
        return tasks
            .GroupBy(t => t.Person)
            .SelectMany(own => Runs([.. own.OrderBy(t => t.StartS)], untested))
            .OrderBy(run => run[0].StartS)
            .Select(run => Line(run, plan, work, (orders, untested)));
    }

    private static IEnumerable<List<PlanTask>> Runs(List<PlanTask> tasks, IReadOnlySet<string> untested)
    {
        for (var first = 0; first < tasks.Count; )
        {
            var next = first + 1;
            while (next < tasks.Count && GoesOn(tasks[next - 1], tasks[next], untested))
                next++;
            yield return tasks[first..next];
            first = next;
        }
    }

    private static bool GoesOn(PlanTask before, PlanTask after, IReadOnlySet<string> untested) =>
        Word(before, untested) == Word(after, untested) && before.Batch == after.Batch && after.ToTenthsC is null;

    // A piece is inspected and packed in one go: two lines each would fill the wall.
    private static string Word(PlanTask task, IReadOnlySet<string> untested) =>
        (task.Kind is "inspect" or "pack" ? "inspect, pack" : task.Kind)
        // The Bench does not begin it before.
        + (task.Piece is { } piece && untested.Contains(piece) ? ", after the test piece" : "");

    private static DayLine Line(
        List<PlanTask> run,
        ReadPlan plan,
        OpenWork work,
        (IReadOnlyDictionary<string, int> Orders, IReadOnlySet<string> Untested) known
    )
    {
        var (first, ends) = (run[0], run.Select(t => t.EndS).Max());
        var codes = run.Where(t => t.Piece is not null).Select(t => t.Piece!).Distinct(StringComparer.Ordinal).ToList();
        var batch = plan.Plan.Batches.FirstOrDefault(b => b.Id == first.Batch);
        if (codes.Count == 0 && batch is not null)
            codes = [.. batch.Places.Select(p => p.Piece)];
        return new DayLine(
            Local(work, plan.Instant(first.StartS)),
            ends is { } end ? Local(work, plan.Instant(end)) : "",
            Capital(batch is null ? Word(first, known.Untested) : $"{first.Kind} {PlannedName.Of(batch.Id)}"),
            Pieces(codes, known.Orders),
            Settings(first, batch)
        );
    }

    /// <summary>Order by order, so that a tray is found by its number.</summary>
    private static string Pieces(IReadOnlyList<string> codes, IReadOnlyDictionary<string, int> orders) =>
        string.Join(
            "; ",
            codes
                .GroupBy(c => orders.GetValueOrDefault(c))
                .Select(g => g.Key == 0 ? string.Join(", ", g) : $"order {g.Key}: {string.Join(", ", g)}")
        );

    private static string Settings(PlanTask task, Planning.Exchange.Batch? batch)
    {
        if (task.ToTenthsC is { } to)
            return Degrees(to);
        if (batch is null)
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

    private static string Local(OpenWork work, DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, work.Settings.Zone).ToString("t", CultureInfo.CurrentCulture);

    private static string Capital(string words) => words.Length == 0 ? "" : char.ToUpperInvariant(words[0]) + words[1..];

    private static string Degrees(int tenths) => string.Create(CultureInfo.InvariantCulture, $"{tenths / 10m:0.#} °C");
}
