using ShopFloor.Domain.Stations;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Reports;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Says in plain words what a new plan changed and what had happened. The same words stand in the Office and on the Wall.</summary>
/// <param name="report">What was compared.</param>
/// <param name="after">The new day, for orders and the time of batches.</param>
/// <param name="words">Names.</param>
/// <param name="fates">How pieces came or left, by code.</param>
/// <param name="clock">The shop's clock at a second of the new plan.</param>
public sealed class ChangeWords(
    PlanReport report,
    Day after,
    PlanWords words,
    IReadOnlyDictionary<string, string> fates,
    Func<int, string> clock
)
{
    private readonly Dictionary<string, string> orders = after.Pieces.ToDictionary(p => p.Id, p => p.Order, StringComparer.Ordinal);
    private readonly HashSet<string> rush = [.. after.Pieces.Where(p => p.Weight >= DayPieces.RushWeight).Select(p => p.Order)];

    /// <summary>What had happened; empty when the planner only found a better plan.</summary>
    public IReadOnlyList<string> Because() =>
        [.. Calendar, .. report.Causes.Where(c => c.Kind != CauseKind.ShiftsChanged || !Explained.Contains(c.Name)).SelectMany(Cause)];

    /// <summary>Days that were closed or opened again, or have other hours: they stand for the shifts of those whose shifts are others for it.</summary>
    public IReadOnlyList<string> Calendar { get; init; } = [];

    /// <summary>Codes of the people whose other shifts the calendar explains.</summary>
    public IReadOnlySet<string> Explained { get; init; } = new HashSet<string>();

    /// <summary>What was changed in the days on which the shop is closed, e.g. <c>closed on 30 November</c>.</summary>
    /// <param name="before">Closed days as they were.</param>
    /// <param name="now">Closed days as they are.</param>
    public static IReadOnlyList<string> CalendarOf(IReadOnlyList<DateOnly> before, IReadOnlyList<DateOnly> now) =>
        [.. Spans(now.Except(before)).Select(s => $"closed {s}"), .. Spans(before.Except(now)).Select(s => $"open again {s}")];

    /// <summary>What was changed in the hours of single days, e.g. <c>other hours on 24 December</c>.</summary>
    /// <param name="before">The hours as they were.</param>
    /// <param name="now">The hours as they are.</param>
    public static IReadOnlyList<string> HoursOf(IReadOnlyList<DayHours> before, IReadOnlyList<DayHours> now)
    {
        var given = now.Except(before).Select(h => h.Day).ToHashSet();
        var usual = before.Except(now).Select(h => h.Day).Where(d => !given.Contains(d)).Distinct();
        return [.. Spans(given).Select(s => $"other hours {s}"), .. Spans(usual).Select(s => $"usual hours again {s}")];
    }

    private static IEnumerable<string> Spans(IEnumerable<DateOnly> days)
    {
        var sorted = days.Order().ToList();
        for (var first = 0; first < sorted.Count; )
        {
            var next = first + 1;
            while (next < sorted.Count && sorted[next] == sorted[next - 1].AddDays(1))
                next++;
            yield return next == first + 1
                ? $"on {Written(sorted[first])}"
                : $"from {Written(sorted[first])} to {Written(sorted[next - 1])}";
            first = next;
        }
    }

    private static string Written(DateOnly day) => day.ToString("d MMMM", CultureInfo.InvariantCulture);

    /// <summary>What changed, most important first: what is late, what moved, which batches are others.</summary>
    public IReadOnlyList<string> Changed() =>
        [.. Promises(), .. Moves(), .. report.Batches.OrderBy(b => b.Kind == BatchKinds.Round).Select(Batch)];

    /// <summary>A few words for who stands before the Wall.</summary>
    public IReadOnlyList<string> Short()
    {
        var said = Because().Take(ShortCauses).ToList();
        if (report.NewlyLate.Count > 0)
            said.Add($"now late: order {Orders(report.NewlyLate)}");
        if (report.LeftOut.Count > 0)
            said.Add($"{PlanWords.Pieces(report.LeftOut.Count)} could not be planned");
        if (report.Moves.Count > 0)
            said.Add($"{PlanWords.Pieces(report.Moves.Count)} {Way(report.Moves)} (order {Orders(report.Moves.Select(m => m.Piece))})");
        foreach (var (kind, word) in new[] { (BatchKinds.Load, "load"), (BatchKinds.Session, "session") })
            if (report.Batches.FirstOrDefault(b => b.Kind == kind && b.Fate == BatchFate.New) is { } fresh)
                said.Add($"new {word} {PlannedName.Of(fresh.Id)} at {clock(fresh.StartS)}");
        return said;
    }

    private const int ShortCauses = 2;

    private IEnumerable<string> Cause(PlanCause cause)
    {
        var name = words.Name(cause.Name);
        var order = rush.Contains(cause.Name) ? $"rush order {cause.Name}" : $"order {cause.Name}";
        var pieces = PlanWords.Pieces(cause.Pieces.Count);
        return cause.Kind switch
        {
            CauseKind.PiecesNew => Fates(order, cause.Pieces, "new"),
            CauseKind.PiecesGone => Fates($"order {cause.Name}", cause.Pieces, "finished"),
            CauseKind.BegunAgain => Fates(order, cause.Pieces, "to be done again"),
            CauseKind.EndedLate => [$"{order}: done {PlanWords.Long(cause.Seconds)} later than planned"],
            CauseKind.EndedSoon => [$"{order}: done {PlanWords.Long(cause.Seconds)} sooner than planned"],
            CauseKind.NotBegun => [$"{order}: {pieces} not begun, {PlanWords.Long(cause.Seconds)} behind the plan"],
            CauseKind.TransferReady => [$"{order}: print ready sooner"],
            CauseKind.TransferWaits => [$"{order}: print not ready yet"],
            CauseKind.PromiseChanged => [$"{order}: promise or weight changed"],
            CauseKind.RouteChanged => [$"{order}: steps changed"],
            CauseKind.PinChanged => [$"{order}: pin changed"],
            CauseKind.StationDown => [$"{name} cannot be used"],
            CauseKind.StationBack => [$"{name} can be used"],
            CauseKind.StationChanged => [$"{name}: settings changed"],
            CauseKind.ShiftsChanged => [$"{name}: shift changed"],
            CauseKind.CanNew => [$"{name}: a can has come"],
            CauseKind.CanGone => [$"{name}: a can is empty or set aside"],
            _ => ["what plans are judged by was changed"],
        };
    }

    private IEnumerable<string> Fates(string order, IReadOnlyList<string> pieces, string otherwise) =>
        pieces
            .GroupBy(p => fates.GetValueOrDefault(p, otherwise), StringComparer.Ordinal)
            .OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => g.Count() == 1 ? $"{order}: {g.First()} {g.Key}" : $"{order}: {PlanWords.Pieces(g.Count())} {g.Key}");

    private IEnumerable<string> Promises()
    {
        if (report.NewlyLate.Count > 0)
            yield return $"Now late: {Several(report.NewlyLate)}";
        if (report.InTimeAgain.Count > 0)
            yield return $"In time again: {Several(report.InTimeAgain)}";
        foreach (var left in report.LeftOut)
            yield return $"{left.Piece} cannot be planned: {left.Text}";
    }

    private string Several(IReadOnlyList<string> pieces) => $"{PlanWords.Pieces(pieces.Count)} of order {Orders(pieces)}";

    private string Orders(IEnumerable<string> pieces)
    {
        var known = pieces
            .Select(p => orders.GetValueOrDefault(p, p))
            .Distinct()
            .OrderBy(o => o.Length)
            .ThenBy(o => o, StringComparer.Ordinal)
            .ToList();
        return string.Join(", ", known.Take(4)) + (known.Count > 4 ? " …" : "");
    }

    private static string Way(IReadOnlyList<PieceMove> moves) =>
        moves.All(m => m.MovedS > 0) ? "later"
        : moves.All(m => m.MovedS < 0) ? "earlier"
        : "moved";

    private IEnumerable<string> Moves() =>
        report
            .Moves.GroupBy(m => m.Order, StringComparer.Ordinal)
            .Select(g => $"Order {g.Key}: {PlanWords.Pieces(g.Count())} {Finish([.. g])}");

    private static string Finish(List<PieceMove> moves)
    {
        var (least, most) = (moves.Min(m => m.EndMovedS), moves.Max(m => m.EndMovedS));
        if (Math.Max(Math.Abs(least), Math.Abs(most)) <= PlanReport.NoticedS)
            return "moved, finished as before";
        if (least > 0 || (least >= -PlanReport.NoticedS && most > 0))
            return $"finished up to {PlanWords.Long(most)} later";
        return most < 0 || most <= PlanReport.NoticedS
            ? $"finished up to {PlanWords.Long(least)} sooner"
            : $"finished {PlanWords.Long(least)} sooner to {PlanWords.Long(most)} later";
    }

    private string Batch(BatchChange batch)
    {
        var where = $"{batch.Kind} at {clock(batch.StartS)}, {words.Name(batch.Station)}";
        return batch.Fate switch
        {
            BatchFate.New => $"New {where}: {PlanWords.Pieces(batch.Members.Count)}",
            BatchFate.Gone => $"No more: {where}",
            _ => $"Changed: {where}: {string.Join("; ", Differences(batch))}",
        };
    }

    private static IEnumerable<string> Differences(BatchChange batch)
    {
        if (Math.Abs(batch.MovedS) >= 60)
            yield return $"{PlanWords.Long(batch.MovedS)} {(batch.MovedS > 0 ? "later" : "sooner")}";
        if (batch.Joined.Count > 0)
            yield return $"{Named(batch.Joined)} joined";
        if (batch.Left.Count > 0)
            yield return $"{Named(batch.Left)} left it";
        if (Math.Abs(batch.MovedS) < 60 && batch.Joined.Count + batch.Left.Count == 0)
            yield return "another station";
    }

    private static string Named(IReadOnlyList<string> pieces) =>
        pieces.Count <= 3 ? string.Join(", ", pieces) : PlanWords.Pieces(pieces.Count);
}
