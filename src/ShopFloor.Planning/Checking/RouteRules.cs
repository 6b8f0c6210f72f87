using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>Order of the steps, rests and waits, earliest starts, transfers and pieces that come first.</summary>
internal static class RouteRules
{
    public static void Check(Sheet sheet)
    {
        foreach (var piece in sheet.Day.Pieces)
        {
            for (var k = piece.Done + 1; k <= piece.Route.Count; k++)
            {
                if (sheet.Span(piece.Id, k) is not { } span)
                    continue;
                Single(sheet, piece, k, span);
                if (k > piece.Done + 1 && sheet.Span(piece.Id, k - 1) is { } before)
                    Pair(sheet, piece, k, before, span);
                else if (k == piece.Done + 1 && piece.LastEndS is { } lastEnd)
                    Pair(sheet, piece, k, new StepSpan(lastEnd - 1, lastEnd, "", true, [], null), span);
            }
            After(sheet, piece);
        }
    }

    private static void Single(Sheet sheet, Piece piece, int k, StepSpan span)
    {
        var step = piece.Route[k - 1];
        void Report(string rule, string text, long amount) =>
            sheet.Report(rule, $"{piece.Id} step {k}: {text}", amount, span.Tasks, [piece.Id]);
        var length = span.End - span.Start;
        if (step.Kind == StepKind.Rest && length < step.MinS)
            Report("rest-too-short", $"rests {length} s, at least {step.MinS} s needed", step.MinS - length);
        if (step.Kind == StepKind.Rest && length > step.MaxS)
            Report("rest-too-long", $"rests {length} s, at most {step.MaxS} s allowed", length - step.MaxS.Value);
        if (k == 1 && !span.IsRunning && span.Start < piece.EarliestS)
            Report("too-early", $"starts before second {piece.EarliestS}", piece.EarliestS - span.Start);
        if (step.Kind == StepKind.Tape && !span.IsRunning && span.Start < step.ReadyS)
            Report("transfer-not-ready", $"the transfer is ready at second {step.ReadyS}", step.ReadyS - span.Start);
    }

    private static void Pair(Sheet sheet, Piece piece, int k, StepSpan before, StepSpan span)
    {
        var (earlier, step) = (piece.Route[k - 2], piece.Route[k - 1]);
        var gap = (long)span.Start - before.End;
        void Report(string rule, string text, long amount) =>
            sheet.Report(rule, $"{piece.Id} step {k}: {text}", amount, [.. before.Tasks, .. span.Tasks], [piece.Id]);
        if (gap < 0)
            Report("route-order", "starts before the step before it ended", -gap);
        if (gap != 0 && (step.Kind == StepKind.Rest || earlier.Kind == StepKind.Rest))
            Report("rest-gap", "a rest must join the steps around it without a gap", Math.Abs(gap));
        if (gap > earlier.MaxWaitS)
            Report("wait-too-long", $"waits {gap} s, at most {earlier.MaxWaitS} s allowed", gap - earlier.MaxWaitS.Value);
    }

    private static void After(Sheet sheet, Piece piece)
    {
        var first = Enumerable
            .Range(piece.Done + 1, piece.Route.Count - piece.Done)
            .SelectMany(k => sheet.Spans(piece.Id, k))
            .Where(s => !s.IsRunning)
            .MinBy(s => s.Start);
        if (first is null)
            return;
        foreach (var id in piece.After)
        {
            var end = sheet.Pieces.TryGetValue(id, out var other) && !sheet.LeftOut.Contains(id) ? sheet.EndOf(other) : null;
            if (end is null || first.Start < end)
                sheet.Report(
                    "after-piece",
                    end is null ? $"{piece.Id} comes after {id}, which is never finished" : $"{piece.Id} starts before {id} is finished",
                    end - first.Start ?? 0,
                    first.Tasks,
                    [piece.Id, id]
                );
        }
    }
}
