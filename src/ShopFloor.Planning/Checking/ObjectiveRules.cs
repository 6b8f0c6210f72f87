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
            if (part.Amount != amounts[i])
                Wrong(sheet, part.Name, $"amount is {amounts[i]}, not {part.Amount}", amounts[i] - part.Amount);
            if (part.Points != amounts[i] * weights[i])
                Wrong(
                    sheet,
                    part.Name,
                    $"points are {amounts[i] * weights[i]}, not {part.Points}",
                    (amounts[i] * weights[i]) - part.Points
                );
            if (part.Bound > part.Points)
                sheet.Report("bound-wrong", $"{part.Name}: the bound {part.Bound} is above the points", part.Bound - part.Points);
        }
        var (value, bound) = (given.Parts.Sum(p => p.Points), given.Parts.Sum(p => p.Bound));
        if (given.Value != value)
            Wrong(sheet, "value", $"the points sum to {value}, not {given.Value}", value - given.Value);
        if (given.Bound != bound)
            sheet.Report("bound-wrong", $"the bounds sum to {bound}, not {given.Bound}", bound - given.Bound);
    }

    private static void Wrong(Sheet sheet, string name, string text, long amount) =>
        sheet.Report("objective-wrong", $"{name}: {text}", Math.Abs(amount));

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
