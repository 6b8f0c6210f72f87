using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>Names, times, kinds, and that every piece is there once and whole.</summary>
internal static class WholeRules
{
    public static void Check(Sheet sheet)
    {
        foreach (var entry in sheet.Entries)
        {
            Names(sheet, entry);
            Times(sheet, entry);
            Kinds(sheet, entry);
        }
        foreach (var batch in sheet.Batches)
        {
            Names(sheet, batch.Batch);
            Incomplete(sheet, batch);
        }
        OtherNames(sheet);
        foreach (var piece in sheet.Day.Pieces)
            Completeness(sheet, piece);
    }

    private static void Names(Sheet sheet, Entry e)
    {
        var task = e.Task;
        if (!IsTaskKind(task.Kind))
            sheet.Report("unknown-name", $"there is no kind of task \"{task.Kind}\"", 0, e);
        if (e.Station is null)
            sheet.Report("unknown-name", $"there is no station {task.Station}", 0, e);
        if (task.Person is not null && e.Person is null)
            sheet.Report("unknown-name", $"there is no person {task.Person}", 0, e);
        if (task.Piece is not null && e.Piece is null)
            sheet.Report("unknown-name", $"there is no piece {task.Piece}", 0, e);
        if (e.Piece is not null && task.Step is not null && e.Step is null)
            sheet.Report("unknown-name", $"piece {task.Piece} has no step {task.Step}", 0, e);
        if (task.Batch is not null && e.Batch is null)
            sheet.Report("unknown-name", $"there is no batch {task.Batch}", 0, e);
    }

    private static bool IsTaskKind(string kind) =>
        kind is TaskKinds.Shake or TaskKinds.Load or TaskKinds.Dwell or TaskKinds.Unload or TaskKinds.SetPoint
        || TaskKinds.StepOf(kind) is not (null or StepKind.Cure or StepKind.Dry);

    private static void Names(Sheet sheet, Batch batch)
    {
        void Unknown(string text, string? piece = null) =>
            sheet.Report("unknown-name", text, pieces: piece is null ? [] : [piece], batches: [batch.Id]);
        if (batch.Kind is not (BatchKinds.Round or BatchKinds.Load or BatchKinds.Session))
            Unknown($"there is no kind of batch \"{batch.Kind}\"");
        if (batch.Kind == BatchKinds.Round)
        {
            var coating = sheet.Coatings.GetValueOrDefault(batch.Coating ?? "");
            if (coating is null)
                Unknown($"there is no coating {batch.Coating}");
            else if (coating.Cans.All(c => c.Id != batch.Can))
                Unknown($"there is no can {batch.Can} of {batch.Coating}");
        }
        foreach (var place in batch.Places)
            if (!sheet.Pieces.TryGetValue(place.Piece, out var piece))
                Unknown($"there is no piece {place.Piece}", place.Piece);
            else if (place.Step < 1 || place.Step > piece.Route.Count)
                Unknown($"piece {place.Piece} has no step {place.Step}", place.Piece);
    }

    private static void OtherNames(Sheet sheet)
    {
        foreach (var left in sheet.Plan.LeftOut)
            if (!sheet.Pieces.ContainsKey(left.Piece))
                sheet.Report("unknown-name", $"left out: there is no piece {left.Piece}", pieces: [left.Piece]);
        foreach (var pin in sheet.Plan.UnmetPins)
            if (!sheet.Pieces.TryGetValue(pin.Piece, out var piece) || pin.Step < 1 || pin.Step > piece.Route.Count)
                sheet.Report("unknown-name", $"unmet pin: there is no step {pin.Step} of piece {pin.Piece}", pieces: [pin.Piece]);
        var batches = sheet.Plan.Batches.Select(b => b.Id).ToHashSet(StringComparer.Ordinal);
        foreach (var why in sheet.Plan.Why)
        {
            if (why.Batch is { } batch && !batches.Contains(batch))
                sheet.Report("unknown-name", $"why: there is no batch {batch}", batches: [batch]);
            if (why.Piece is { } id && !(sheet.Pieces.TryGetValue(id, out var piece) && (why.Step ?? 1) <= piece.Route.Count))
                sheet.Report("unknown-name", $"why: there is no step {why.Step} of piece {id}", pieces: [id]);
        }
    }

    private static void Times(Sheet sheet, Entry e)
    {
        if (e.End <= e.Start)
            sheet.Report("time-invalid", "the task ends no later than it starts", e.Start - e.End, e);
        if (e.End > sheet.Day.HorizonS && e.Given?.EndS is null)
            sheet.Report("time-invalid", "the task ends past the horizon", e.End - (long)sheet.Day.HorizonS, e);
        if (e.Start < 0 && !e.IsRunning)
            sheet.Report("time-invalid", "the task starts before the plan and was not running", -(long)e.Start, e);
    }

    private static void Kinds(Sheet sheet, Entry e)
    {
        if (!HasRightFields(e.Task))
            sheet.Report("kind-wrong", $"a {e.Task.Kind} task names what it must not name or lacks what it must", 0, e);
        if (e.Step is { } step && TaskKinds.Of(step.Kind) != e.Task.Kind)
            sheet.Report("kind-wrong", $"step {e.Task.Step} of {e.Task.Piece} is {TaskKinds.Of(step.Kind)}, not {e.Task.Kind}", 0, e);
        if (e.Batch is { } batch && BatchKindFor(e.Task.Kind) is { } right && batch.Kind != right)
            sheet.Report("kind-wrong", $"a {e.Task.Kind} task belongs to a batch of kind {right}", 0, e);
    }

    private static bool HasRightFields(PlanTask t)
    {
        var (piece, batch, change) = (t.Piece is not null && t.Step is not null, t.Batch is not null, t.FromTenthsC is not null);
        if (t.Piece is null != t.Step is null || t.FromTenthsC is null != t.ToTenthsC is null)
            return false;
        return t.Kind switch
        {
            TaskKinds.SetPoint => change && !piece && !batch,
            TaskKinds.Spray => piece && batch && !change,
            TaskKinds.Shake or TaskKinds.Load or TaskKinds.Dwell or TaskKinds.Unload or TaskKinds.Press => batch && !piece && !change,
            _ => piece && !batch && !change,
        };
    }

    private static string? BatchKindFor(string kind) =>
        kind switch
        {
            TaskKinds.Shake or TaskKinds.Spray => BatchKinds.Round,
            TaskKinds.Load or TaskKinds.Dwell or TaskKinds.Unload => BatchKinds.Load,
            TaskKinds.Press => BatchKinds.Session,
            _ => null,
        };

    private static void Incomplete(Sheet sheet, BatchEntry batch)
    {
        var b = batch.Batch;
        void Report(string text) => sheet.Report("batch-incomplete", $"{b.Id}: {text}", 0, batch.Positions, null, [b.Id]);
        string[] once = b.Kind switch
        {
            BatchKinds.Load => [TaskKinds.Load, TaskKinds.Dwell, TaskKinds.Unload],
            BatchKinds.Session => [TaskKinds.Press],
            BatchKinds.Round => [TaskKinds.Shake],
            _ => [],
        };
        foreach (var kind in once)
            if (batch.Of(kind).Count() is var count and not 1)
                Report($"has {count} {kind} tasks instead of one");
        if (b.Kind == BatchKinds.Round && !batch.Of(TaskKinds.Spray).Any())
            Report("has no spray");
        if (b.Kind is BatchKinds.Load or BatchKinds.Session && b.Places.Count == 0)
            Report("has no member");
        foreach (var place in b.Places)
            if (sheet.Pieces.TryGetValue(place.Piece, out var piece) && place.Step >= 1 && place.Step <= piece.Route.Count)
                MemberKind(sheet, batch, place, piece.Route[place.Step - 1]);
    }

    private static void MemberKind(Sheet sheet, BatchEntry batch, Place place, Step step)
    {
        var fits = batch.Batch.Kind == BatchKinds.Load ? step.Station == StationKind.Oven : step.Kind == StepKind.Press;
        if (!fits)
            sheet.Report(
                "kind-wrong",
                $"step {place.Step} of {place.Piece} is {TaskKinds.Of(step.Kind)} and does not belong into {batch.Batch.Id}",
                0,
                batch.Positions,
                [place.Piece],
                [batch.Batch.Id]
            );
    }

    private static void Completeness(Sheet sheet, Piece piece)
    {
        var steps = Enumerable.Range(1, piece.Route.Count).Select(k => (Step: k, Spans: sheet.Spans(piece.Id, k))).ToList();
        foreach (var (step, spans) in steps)
            if (spans.Count > 1 || (spans.Count == 1 && step <= piece.Done))
                sheet.Report(
                    "step-twice",
                    $"step {step} of {piece.Id} is {(step <= piece.Done ? "already done" : "planned more than once")}",
                    spans.Count,
                    [.. spans.SelectMany(s => s.Tasks)],
                    [piece.Id]
                );
        var planned = steps.Where(s => s.Step > piece.Done).ToList();
        if (sheet.LeftOut.Contains(piece.Id))
        {
            var wrong = planned.SelectMany(s => s.Spans).Where(s => !s.IsRunning).SelectMany(s => s.Tasks).ToList();
            if (wrong.Count > 0)
                sheet.Report("left-out-planned", $"{piece.Id} is left out and planned", 0, wrong, [piece.Id]);
        }
        else if (planned.Count > 0 && planned.All(s => s.Spans.Count == 0))
            sheet.Report("piece-missing", $"{piece.Id} is neither planned nor left out", 0, null, [piece.Id]);
        else
            foreach (var (step, _) in planned.Where(s => s.Spans.Count == 0))
                sheet.Report("step-missing", $"step {step} of {piece.Id} is not planned", 0, null, [piece.Id]);
    }
}
