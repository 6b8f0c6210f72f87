using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>What a load, and in part a session, asks of its members together.</summary>
internal static class Members
{
    public static List<(Place Place, Piece Piece, Step Step)> Of(Sheet sheet, Batch batch) =>
        [
            .. batch
                .Places.Where(p => sheet.Pieces.TryGetValue(p.Piece, out var piece) && p.Step >= 1 && p.Step <= piece.Route.Count)
                .Select(p => (p, sheet.Pieces[p.Piece], sheet.Pieces[p.Piece].Route[p.Step - 1])),
        ];

    public static void Temperature(Sheet sheet, BatchEntry batch, HeatedStation station)
    {
        var tenths = batch.Batch.TenthsC ?? 0;
        var dial = tenths + station.Heat.ErrorTenthsC;
        var outside = Math.Max(station.Heat.LowestTenthsC - dial, dial - station.Heat.HighestTenthsC);
        if (outside > 0)
            Report(sheet, "temperature-out", batch, $"the dial of {station.Id} does not reach {dial / 10m} °C", outside);
        foreach (var (_, piece, step) in Of(sheet, batch.Batch))
            if (step.TenthsC != tenths)
                Report(
                    sheet,
                    "temperature-mixed",
                    batch,
                    $"{piece.Id} wants {step.TenthsC / 10m} °C, the batch has {tenths / 10m} °C",
                    Math.Abs(step.TenthsC - tenths),
                    piece.Id
                );
    }

    public static void Dwell(Sheet sheet, BatchEntry batch, long seconds)
    {
        foreach (var (_, piece, step) in Of(sheet, batch.Batch))
            if (seconds < step.MinS || seconds > step.MaxS)
                Report(
                    sheet,
                    "dwell-outside",
                    batch,
                    $"{piece.Id} wants {step.MinS} to {step.MaxS} s, gets {seconds} s",
                    Math.Max(step.MinS - seconds, seconds - (step.MaxS ?? seconds)),
                    piece.Id
                );
    }

    public static void Report(Sheet sheet, string rule, BatchEntry batch, string text, long amount = 0, params string[] pieces) =>
        sheet.Report(rule, FormattableString.Invariant($"{batch.Batch.Id}: {text}"), amount, batch.Positions, pieces, [batch.Batch.Id]);
}

/// <summary>Oven loads.</summary>
internal static class LoadRules
{
    public static void Check(Sheet sheet)
    {
        foreach (var batch in sheet.Batches.Where(b => b.Batch.Kind == BatchKinds.Load))
        {
            var kinds = Members.Of(sheet, batch.Batch).Select(m => m.Step.Kind).Distinct().Count();
            if (kinds > 1)
                Members.Report(sheet, "temperature-mixed", batch, "cures and dryings never share a load");
            if (batch.Tasks.FirstOrDefault()?.Station is Oven oven)
                InOven(sheet, batch, oven);
        }
    }

    private static void InOven(Sheet sheet, BatchEntry batch, Oven oven)
    {
        Members.Temperature(sheet, batch, oven);
        Opened(sheet, batch);
        var members = Members.Of(sheet, batch.Batch);
        var vapour = members.Sum(m => (long)m.Step.VapourMg);
        if (vapour > oven.VapourLimitMg)
            Members.Report(sheet, "oven-vapour", batch, $"gives off {vapour} mg", vapour - oven.VapourLimitMg.Value);
        if (batch.Only(TaskKinds.Dwell) is not { } dwell)
            return;
        if (dwell.Given?.EndS is null)
            Members.Dwell(sheet, batch, dwell.Length);
        var heat = members.Sum(m => (long)m.Step.HeatJ);
        if (oven.HeaterW is { } watts && (long)dwell.Length * watts < heat)
            Members.Report(sheet, "oven-too-heavy", batch, $"{oven.Id} cannot bring {heat} J in time", heat - ((long)dwell.Length * watts));
    }

    private static void Opened(Sheet sheet, BatchEntry batch)
    {
        var (load, dwell, unload) = (batch.Only(TaskKinds.Load), batch.Only(TaskKinds.Dwell), batch.Only(TaskKinds.Unload));
        foreach (var (before, next) in new[] { (load, dwell), (dwell, unload), (load, unload) })
        {
            if (before is null || next is null)
                continue;
            var joined = next == unload && before == load ? before.End <= next.Start : before.End == next.Start;
            if (!joined || before.Task.Station != next.Task.Station)
                Members.Report(sheet, "oven-opened", batch, "load, dwell and unload must follow without a gap in one oven");
        }
    }
}

/// <summary>Press sessions.</summary>
internal static class SessionRules
{
    public static void Check(Sheet sheet)
    {
        foreach (var batch in sheet.Batches.Where(b => b.Batch.Kind == BatchKinds.Session))
        {
            foreach (var (_, piece, step) in Members.Of(sheet, batch.Batch))
                if (step.Pressure != batch.Batch.Pressure || step.LayUp != batch.Batch.LayUp)
                    Members.Report(sheet, "press-mixed", batch, $"{piece.Id} wants another pressure or lay-up", 0, piece.Id);
            if (batch.Only(TaskKinds.Press) is not { } task || task.Given is null)
                Members.Dwell(sheet, batch, batch.Batch.PressS ?? 0);
            if (batch.Tasks.FirstOrDefault()?.Station is Press press)
            {
                Members.Temperature(sheet, batch, press);
                Thickness(sheet, batch, press);
                Form(sheet, batch, press);
            }
        }
    }

    // Round pieces go round a wrap press, all others under a flat one.
    private static void Form(Sheet sheet, BatchEntry batch, Press press)
    {
        foreach (var (_, piece, _) in Members.Of(sheet, batch.Batch))
            if (piece.Round != (press.WrapsFromUm is not null))
                Members.Report(sheet, "kind-wrong", batch, $"{piece.Id} has another form than {press.Id} takes", 0, piece.Id);
            else if (press.WrapsFromUm is { } least && piece.WidthUm < least)
                Members.Report(sheet, "press-thickness", batch, $"{piece.Id} is too thin for {press.Id}", least - piece.WidthUm, piece.Id);
    }

    private static void Thickness(Sheet sheet, BatchEntry batch, Press press)
    {
        var thick = Members.Of(sheet, batch.Batch).ConvertAll(m => m.Piece.ThicknessUm);
        if (thick.Count == 0)
            return;
        var over = Math.Max(thick.Max() - thick.Min() - press.ThicknessToleranceUm, thick.Max() - press.ThickestUm);
        if (over > 0)
            Members.Report(sheet, "press-thickness", batch, $"thicknesses do not fit {press.Id}", over);
    }
}
