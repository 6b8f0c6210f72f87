using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>Tasks of fixed length have it; running ones are free of this rule.</summary>
internal static class LengthRules
{
    public static void Check(Sheet sheet)
    {
        foreach (var e in sheet.Entries)
            if (!e.IsRunning && Wanted(sheet, e) is { } wanted && e.Length != wanted)
                sheet.Report("length-wrong", $"{e.Task.Kind} takes {wanted} s, not {e.Length} s", Math.Abs(wanted - e.Length), e);
    }

    private static long? Wanted(Sheet sheet, Entry e)
    {
        var members = e.Batch?.Places.Count ?? 0;
        return e.Task.Kind switch
        {
            TaskKinds.Rest or TaskKinds.Dwell or TaskKinds.SetPoint => null,
            TaskKinds.Shake => sheet.Coatings.GetValueOrDefault(e.Batch?.Coating ?? "")?.ShakeS,
            TaskKinds.Load => e.Station is Oven oven ? oven.LoadS + ((long)members * oven.LoadEachS) : null,
            TaskKinds.Unload => e.Station is Oven oven ? oven.UnloadS + ((long)members * oven.UnloadEachS) : null,
            TaskKinds.Press => e.Station is Press press && e.Batch?.PressS is { } pressed
                ? press.LayUpS + ((long)members * press.LayUpEachS) + pressed
                : null,
            _ => e.Step is { LengthS: > 0 } step ? step.LengthS : null,
        };
    }
}
