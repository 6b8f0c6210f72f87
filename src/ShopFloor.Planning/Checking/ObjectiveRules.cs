using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>The objective, recomputed from the tasks.</summary>
internal static class ObjectiveRules
{
    public static void Check(Sheet sheet)
    {
        var given = sheet.Plan.Objective;
        var (amounts, weights) = (Amounts(sheet), Weights(sheet.Day.Weights));
        for (var i = 0; i < amounts.Count; i++)
        {
            var part = given.Parts[i];
            var points = (Int128)amounts[i] * weights[i];
            if (part.Amount != amounts[i])
                Report(sheet, Objective, $"{part.Name}: amount is {amounts[i]}, not {part.Amount}", (Int128)amounts[i] - part.Amount);
            if (part.Points != points)
                Report(sheet, Objective, $"{part.Name}: points are {points}, not {part.Points}", points - part.Points);
            if (part.Bound > points)
                Report(sheet, Bound, $"{part.Name}: the bound {part.Bound} is above the points {points}", part.Bound - points);
        }
        var (value, bound) = (Sum(given.Parts.Select(p => p.Points)), Sum(given.Parts.Select(p => p.Bound)));
        if (given.Value != value)
            Report(sheet, Objective, $"value: the points sum to {value}, not {given.Value}", value - given.Value);
        if (given.Bound != bound)
            Report(sheet, Bound, $"the bounds sum to {bound}, not {given.Bound}", bound - given.Bound);
    }

    private const string Objective = "objective-wrong";
    private const string Bound = "bound-wrong";

    // A plan file may hold any number, so nothing here may run over.
    private static Int128 Sum(IEnumerable<long> numbers) => numbers.Aggregate(Int128.Zero, (sum, n) => sum + n);

    private static void Report(Sheet sheet, string rule, string text, Int128 amount) =>
        sheet.Report(rule, text, (long)Int128.Min(Int128.Abs(amount), long.MaxValue));

    public static IReadOnlyList<long> Weights(Weights w) =>
        [w.LeftOut, w.LateS, w.LatePieces, w.OvertimeS, w.OvenLoads, w.OvenS, w.Shakes, w.SetPoints, w.FinishS, w.Changed];

    public static IReadOnlyList<long> Amounts(Sheet sheet)
    {
        var (lateS, latePieces) = Late(sheet);
        var attended = sheet.Entries.Where(e => e.IsAttended).ToList();
        return
        [
            sheet.Plan.LeftOut.Count,
            lateS,
            latePieces,
            attended.Sum(Overtime),
            sheet.Plan.Batches.Count(b => b.Kind == BatchKinds.Load),
            sheet.Entries.Where(e => e.Task.Kind == TaskKinds.Dwell).Sum(e => (long)e.Length),
            sheet.Entries.Count(e => e.Task.Kind == TaskKinds.Shake),
            sheet.Entries.Count(e => e.Task.Kind == TaskKinds.SetPoint && e.Task.ToTenthsC != sheet.Day.RoomTenthsC),
            attended.Select(e => e.End).DefaultIfEmpty(0).Max(),
            Changed(sheet),
        ];
    }

    private static (long Seconds, long Pieces) Late(Sheet sheet)
    {
        var (seconds, pieces) = (0L, 0L);
        foreach (var piece in sheet.Day.Pieces.Where(p => !sheet.LeftOut.Contains(p.Id)))
            if (sheet.EndOf(piece) is { } end && end > piece.PromiseS)
            {
                seconds += piece.Weight * ((long)end - piece.PromiseS);
                pieces++;
            }
        return (seconds, pieces);
    }

    private static long Overtime(Entry e) =>
        e.Person?.Shifts.Sum(s => Math.Max(0L, (long)Math.Min(e.End, s.ToS) - Math.Max(e.Start, s.NormalToS))) ?? 0;

    private static long Changed(Sheet sheet)
    {
        if (sheet.Day.Published is not { } published)
            return 0;
        return published
            .Steps.Where(s => s.StartS < published.NearS)
            .Count(s =>
                sheet.Span(s.Piece, s.Step) is { } span
                && (span.Station != s.Station || Math.Abs((long)span.Start - s.StartS) > published.MovedS)
            );
    }
}
