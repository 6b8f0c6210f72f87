using System.Text.Json;

namespace ShopFloor.Planning.Exchange;

internal static class TaskReader
{
    private static readonly string[] OpenKinds = [TaskKinds.Dwell, TaskKinds.Rest];

    public static PlanTask Read(Fields f) => Read(f, false);

    /// <summary>A running task began at or before second 0, and a dwell or a rest may have an open end.</summary>
    public static PlanTask ReadRunning(Fields f)
    {
        var task = Read(f, true);
        if (task.StartS > 0)
            f.Problem("start_s", "a running task began at or before second 0");
        if (task.EndS <= task.StartS)
            f.Problem("end_s", "must be after start_s");
        if (task.EndS is null && !OpenKinds.Contains(task.Kind, StringComparer.Ordinal))
            f.Problem("end_s", "only the end of a dwell or a rest may be open");
        return task;
    }

    private static PlanTask Read(Fields f, bool mayBeOpen)
    {
        var task = new PlanTask(
            f.Text("kind", 40),
            f.Id("station"),
            f.IdOrNull("person"),
            f.Whole("start_s", -Limits.Seconds),
            mayBeOpen && f.IsNull("end_s") ? null : f.Whole("end_s", -Limits.Seconds),
            f.OptionalId("piece"),
            f.Has("step") ? f.Whole("step", -Limits.Seconds) : null,
            f.OptionalId("batch"),
            Temperature(f, "from_c"),
            Temperature(f, "to_c")
        );
        f.NothingElse();
        return task;
    }

    private static int? Temperature(Fields f, string name) => f.Has(name) ? f.Scaled(name, 1, -Limits.TenthsC, Limits.TenthsC) : null;
}

internal static class BatchReader
{
    public static Batch Read(Fields f)
    {
        var batch = new Batch(f.Id("id"), f.Text("kind", 40));
        batch = batch.Kind switch
        {
            BatchKinds.Round => batch with { Coating = f.Id("coating"), Can = f.Id("can") },
            BatchKinds.Load => batch with { TenthsC = Temperature(f), Places = f.Objects("places", g => ReadPlace(g, true)) },
            BatchKinds.Session => batch with
            {
                TenthsC = Temperature(f),
                PressS = f.Whole("press_s", -Limits.Seconds),
                Pressure = f.Text("pressure", 200),
                LayUp = f.Text("lay_up", 200),
                Places = f.Objects("places", g => ReadPlace(g, false)),
            },
            _ => Unknown(batch, f),
        };
        f.NothingElse();
        return batch;
    }

    /// <summary>An unknown kind is the checker's to report; its fields are not judged.</summary>
    private static Batch Unknown(Batch batch, Fields f)
    {
        foreach (var name in new[] { "coating", "can", "temperature_c", "press_s", "pressure", "lay_up", "places" })
            f.Optional(name);
        return batch;
    }

    private static int Temperature(Fields f) => f.Scaled("temperature_c", 1, -Limits.TenthsC, Limits.TenthsC);

    private static Place ReadPlace(Fields f, bool onShelf)
    {
        var place = new Place(
            f.Id("piece"),
            f.Whole("step", -Limits.Seconds),
            onShelf ? f.Whole("shelf", -Limits.Seconds) : null,
            f.Scaled("x_mm", 3, -Limits.Micrometres, Limits.Micrometres),
            f.Scaled("y_mm", 3, -Limits.Micrometres, Limits.Micrometres),
            f.Flag("turned")
        );
        f.NothingElse();
        return place;
    }
}
