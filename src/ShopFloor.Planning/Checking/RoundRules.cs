using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>Spray rounds: one booth, person, coating and can, shaken in time; cans last and are not too old.</summary>
internal static class RoundRules
{
    public static void Check(Sheet sheet)
    {
        foreach (var batch in sheet.Batches.Where(b => b.Batch.Kind == BatchKinds.Round && b.Tasks.Count > 0))
        {
            Mixed(sheet, batch);
            Between(sheet, batch);
            Unshaken(sheet, batch);
            Expired(sheet, batch);
        }
        Empty(sheet);
    }

    private static Can? CanOf(Sheet sheet, Batch batch) =>
        sheet.Coatings.GetValueOrDefault(batch.Coating ?? "")?.Cans.FirstOrDefault(c => c.Id == batch.Can);

    private static void Mixed(Sheet sheet, BatchEntry batch)
    {
        void Report(string what, Entry e) => sheet.Report("round-mixed", $"{batch.Batch.Id} mixes {what}", 0, batch.Tasks[0], e);
        var first = batch.Tasks[0];
        foreach (var e in batch.Tasks)
        {
            if (e.Task.Station != first.Task.Station)
                Report("booths", e);
            if (e.Task.Person != first.Task.Person)
                Report("people", e);
            if (e.Step is { Kind: StepKind.Spray } step && step.Coating != batch.Batch.Coating)
                Report("coatings", e);
        }
    }

    private static void Between(Sheet sheet, BatchEntry batch)
    {
        var (from, to) = (batch.Tasks[0].Start, batch.Tasks.Max(t => t.End));
        foreach (var e in sheet.Entries)
            if (e.Task.Station == batch.Tasks[0].Task.Station && e.Task.Batch != batch.Batch.Id && e.Overlaps(from, to))
                sheet.Report("round-mixed", $"something else is done in the booth during {batch.Batch.Id}", 0, batch.Tasks[0], e);
    }

    private static void Unshaken(Sheet sheet, BatchEntry batch)
    {
        if (batch.Tasks[0].Task.Kind != TaskKinds.Shake)
            sheet.Report("round-unshaken", $"{batch.Batch.Id} does not begin with a shake", 0, batch.Tasks[0]);
        if (sheet.Coatings.GetValueOrDefault(batch.Batch.Coating ?? "") is not { } coating)
            return;
        for (var i = 1; i < batch.Tasks.Count; i++)
        {
            var (before, e) = (batch.Tasks[i - 1], batch.Tasks[i]);
            var pause = e.Start - before.End;
            if (before.Task.Kind == TaskKinds.Shake && pause < 0)
                sheet.Report("round-unshaken", $"{batch.Batch.Id} is sprayed before its shake is over", -pause, before, e);
            if (pause > coating.ShakeAgainAfterS && !e.IsRunning)
                sheet.Report("round-unshaken", $"{batch.Batch.Id} pauses {pause} s", pause - coating.ShakeAgainAfterS, before, e);
        }
    }

    private static void Expired(Sheet sheet, BatchEntry batch)
    {
        if (CanOf(sheet, batch.Batch) is not { UseByS: { } useBy } can)
            return;
        foreach (var e in batch.Of(TaskKinds.Spray))
            if (e.End > useBy)
                sheet.Report("can-expired", $"can {can.Id} is to be used by second {useBy}", e.End - useBy, e);
    }

    private static void Empty(Sheet sheet)
    {
        foreach (var rounds in sheet.Batches.Where(b => b.Batch.Kind == BatchKinds.Round).GroupBy(b => (b.Batch.Coating, b.Batch.Can)))
        {
            var sprays = rounds.SelectMany(r => r.Of(TaskKinds.Spray)).ToList();
            var needed = sprays.Sum(e => (long)(e.Step?.Ul ?? 0));
            if (CanOf(sheet, rounds.First().Batch) is { } can && needed > can.LeftUl)
                sheet.Report("can-empty", $"can {can.Id} lacks {needed - can.LeftUl} µl", needed - can.LeftUl, [.. sprays]);
        }
    }
}
