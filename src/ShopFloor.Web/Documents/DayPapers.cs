using ShopFloor.Documents.Labels;
using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Documents;

/// <summary>
/// The published plan of a day on paper, station by station, in the language of the screen it is printed from. The same step on one piece after another
/// is one line.
/// </summary>
internal sealed class DayPapers(OpenWork work, PlanWords names, Spoken said)
{
    private Dictionary<string, PlannedRound>? rounds;

    public Result<PdfPaper> Make(PaperWish wish, ReadPlan? plan)
    {
        if (plan is null)
            return new Refusal("paper-nothing", "There is no plan yet. Wait a moment and try again.");
        if (wish.Day is not { } day)
            return new Refusal("paper-nothing", $"{wish.Subject} is no day. Write it like 2026-05-04.");
        var orders = work.Pieces.ToDictionary(p => p.Code, p => work.Orders[p.Order].Number, StringComparer.Ordinal);
        var untested = TestFirst.Waiting(work);
        var stations = work
            .Stations.Values.OrderBy(s => s.Code, StringComparer.Ordinal)
            .Select(s => new DayStation(s.Name, [.. Lines(plan, (s.Code, day), (orders, untested))]))
            .Where(s => s.Lines.Count > 0)
            .ToList();
        if (stations.Count == 0)
            return new Refusal("paper-nothing", $"Nothing is planned on {day.ToString("D", CultureInfo.CurrentCulture)}.");
        return DaySheets.Draw(
            day.ToString("D", CultureInfo.CurrentCulture),
            TimeZoneInfo.ConvertTime(work.Now, work.Settings.Zone).ToString("g", CultureInfo.CurrentCulture),
            plan.Number.ToString(CultureInfo.InvariantCulture),
            stations,
            work.Now.UtcDateTime,
            Words()
        );
    }

    private DayWords Words()
    {
        var own = new DayWords();
        return new DayWords
        {
            Columns = [.. own.Columns.Select(c => said[c])],
            AsOf = said[own.AsOf],
            Nothing = said[own.Nothing],
            Page = said[own.Page],
            Language = CultureInfo.CurrentUICulture.TwoLetterISOLanguageName is "de" ? "de" : "en",
        };
    }

    private IEnumerable<DayLine> Lines(
        ReadPlan plan,
        (string Station, DateOnly Day) of,
        (IReadOnlyDictionary<string, int> Orders, IReadOnlySet<string> Untested) known
    )
    {
        var tasks = plan.Plan.Tasks.Where(t => t.Station == of.Station && work.Settings.Day(plan.Instant(t.StartS)) == of.Day);
        // Two people at one bench take turns in the plan; each goes on with their own.
        return tasks
            .GroupBy(t => t.Person)
            .SelectMany(own => Runs([.. own.OrderBy(t => t.StartS)], known.Untested).SelectMany(Parted))
            .OrderBy(run => run[0].StartS)
            .Select(run => Line(run, plan, known));
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

    // Each piece stands once under what is done to it there, so that it can be ticked off.
    private static IEnumerable<List<PlanTask>> Parted(List<PlanTask> run) =>
        run.GroupBy(t => string.Join(", ", run.Where(o => o.Piece == t.Piece).Select(o => o.Kind).Distinct(StringComparer.Ordinal)))
            .Select(g => g.ToList());

    // A piece is inspected and packed in one go: two lines each would fill the wall.
    private static string Word(List<PlanTask> run, IReadOnlySet<string> untested) =>
        Finishing(run[0]) && run.Select(t => t.Kind).Distinct(StringComparer.Ordinal).Count() == 1
            ? run[0].Kind + AfterTest(run[0], untested)
            : Word(run[0], untested);

    private static bool GoesOn(PlanTask before, PlanTask after, IReadOnlySet<string> untested) =>
        Word(before, untested) == Word(after, untested) && before.Batch == after.Batch && after.ToTenthsC is null;

    private static bool Finishing(PlanTask task) => task.Kind is "inspect" or "pack";

    private static string Word(PlanTask task, IReadOnlySet<string> untested) =>
        (Finishing(task) ? "inspect, pack" : PlanWords.Verb(task.Kind)) + AfterTest(task, untested);

    // The Bench does not begin it before.
    private static string AfterTest(PlanTask task, IReadOnlySet<string> untested) =>
        task.Piece is { } piece && untested.Contains(piece) ? ", after the test piece" : "";

    private DayLine Line(List<PlanTask> run, ReadPlan plan, (IReadOnlyDictionary<string, int> Orders, IReadOnlySet<string> Untested) known)
    {
        var (first, ends) = (run[0], run.Select(t => t.EndS).Max());
        var codes = run.Where(t => t.Piece is not null).Select(t => t.Piece!).Distinct(StringComparer.Ordinal).ToList();
        var batch = plan.Plan.Batches.FirstOrDefault(b => b.Id == first.Batch);
        if (codes.Count == 0 && batch is not null)
            codes = [.. batch.Places.Select(p => p.Piece)];
        return new DayLine(
            Local(plan.Instant(first.StartS)),
            ends is { } end ? Local(plan.Instant(end)) : "",
            Capital(batch is null ? said[Word(run, known.Untested)] : $"{said[PlanWords.Verb(first.Kind)]} {PlannedName.Of(batch.Id)}")
                + (first.Person is { } person ? $", {names.Name(person)}" : ""),
            Pieces(codes, known.Orders),
            Settings(plan, first, batch)
        );
    }

    /// <summary>Order by order, so that a tray is found by its number.</summary>
    private string Pieces(IReadOnlyList<string> codes, IReadOnlyDictionary<string, int> orders) =>
        string.Join(
            "; ",
            codes
                .GroupBy(c => orders.GetValueOrDefault(c))
                .Select(g => g.Key == 0 ? string.Join(", ", g) : $"{said["order {0}", g.Key]}: {string.Join(", ", g)}")
        );

    private string Settings(ReadPlan plan, PlanTask task, Planning.Exchange.Batch? batch)
    {
        if (task.ToTenthsC is { } to)
            return Heat(plan, task.Station, to);
        if (batch is null)
            return "";
        List<string> parts = [];
        if (batch.TenthsC is { } tenths)
            parts.Add(Heat(plan, task.Station, tenths));
        if (batch.PressS is { } seconds)
            parts.Add(said[StepWords.Span(seconds)]);
        if (batch.Pressure is { Length: > 0 } pressure)
            parts.Add(said[pressure]);
        if (Sprayed(plan, batch) is { } sprayed)
            parts.Add(sprayed);
        if (batch.Can is { Length: > 0 } can)
            parts.Add(can);
        if (SavedBy(plan, batch) is { } saved)
            parts.Add(saved);
        return string.Join(", ", parts);
    }

    /// <summary>What to set, and beside it what it is in truth where the station shows something else, as on the card of a batch.</summary>
    private string Heat(ReadPlan plan, string station, int tenths)
    {
        var (dial, real) = (PlanWords.Dial(plan.Day, station, tenths), PlanWords.Degrees(tenths));
        return said[dial == real ? $"dial {dial}" : $"dial {dial} (true {real})"];
    }

    /// <summary>Coating and amount of a whole round; null where nothing is sprayed.</summary>
    private string? Sprayed(ReadPlan plan, Planning.Exchange.Batch batch)
    {
        if (batch.Coating is not { } coating)
            return null;
        var routes = plan.Day.Pieces.ToDictionary(p => p.Id, p => p.Route, StringComparer.Ordinal);
        var ul = plan.OfBatch[batch.Id].Where(t => t.Step is not null).Sum(t => routes[t.Piece!][t.Step!.Value - 1].Ul);
        return $"{said[names.Name(coating)]}, {said[string.Create(CultureInfo.InvariantCulture, $"{ul / 1000m:0.#} ml in all")]}";
    }

    /// <summary>What laying a round's pieces side by side saves; null: nothing.</summary>
    private string? SavedBy(ReadPlan plan, Planning.Exchange.Batch batch) =>
        (rounds ??= PlannedRounds.Of(plan.Day, plan.Plan, names).ToDictionary(r => r.Id, StringComparer.Ordinal))
            .GetValueOrDefault(batch.Id)
            ?.Use
            is { } use
            ? said[$"laid side by side {RoundSaving.Amount(use)} less than one by one"]
            : null;

    private string Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, work.Settings.Zone).ToString("t", CultureInfo.CurrentCulture);

    private static string Capital(string words) => words.Length == 0 ? "" : char.ToUpperInvariant(words[0]) + words[1..];
}
