namespace ShopFloor.Planning.Exchange;

/// <summary>Writes plan files; equal plans give equal bytes but for the timing.</summary>
public static class PlanWriter
{
    /// <summary>The file's bytes: UTF-8, LF.</summary>
    public static byte[] Write(Plan plan)
    {
        var o = new JsonOut();
        return o.Bytes(() =>
        {
            o.Text("format", PlanReader.Format);
            o.Text("day_sha256", plan.DaySha256);
            o.Objects("tasks", plan.Tasks, t => Write(o, t));
            o.Objects("batches", plan.Batches, b => Write(o, b));
            o.Objects("left_out", plan.LeftOut, l => Write(o, l));
            o.Objects("unmet_pins", plan.UnmetPins, u => Write(o, u));
            o.Object("objective", () => Write(o, plan.Objective));
            o.Objects("why", plan.Why, w => Write(o, w));
            o.Object("search", () => Write(o, plan.Search));
            o.Object("timing", () => o.Whole("milliseconds", plan.TimingMs));
        });
    }

    /// <summary>Whether two plans are the same plan: all values equal, the timing left out.</summary>
    public static bool AreSame(Plan one, Plan other) =>
        Write(one with { TimingMs = 0 }).AsSpan().SequenceEqual(Write(other with { TimingMs = 0 }));

    internal static void Write(JsonOut o, PlanTask task)
    {
        o.Text("kind", task.Kind);
        o.Text("station", task.Station);
        o.Text("person", task.Person);
        o.Whole("start_s", task.StartS);
        o.Whole("end_s", task.EndS);
        o.OptionalText("piece", task.Piece);
        o.OptionalWhole("step", task.Step);
        o.OptionalText("batch", task.Batch);
        o.OptionalScaled("from_c", task.FromTenthsC, 1);
        o.OptionalScaled("to_c", task.ToTenthsC, 1);
    }

    internal static void Write(JsonOut o, Batch batch)
    {
        o.Text("id", batch.Id);
        o.Text("kind", batch.Kind);
        o.OptionalText("coating", batch.Coating);
        o.OptionalText("can", batch.Can);
        o.OptionalScaled("temperature_c", batch.TenthsC, 1);
        o.OptionalWhole("press_s", batch.PressS);
        o.OptionalText("pressure", batch.Pressure);
        o.OptionalText("lay_up", batch.LayUp);
        if (batch.Kind is BatchKinds.Load or BatchKinds.Session)
            o.Objects("places", batch.Places, p => Write(o, p));
    }

    private static void Write(JsonOut o, Place place)
    {
        o.Text("piece", place.Piece);
        o.Whole("step", place.Step);
        o.OptionalWhole("shelf", place.Shelf);
        o.Scaled("x_mm", place.XUm, 3);
        o.Scaled("y_mm", place.YUm, 3);
        o.Flag("turned", place.Turned);
    }

    private static void Write(JsonOut o, LeftOut left)
    {
        o.Text("piece", left.Piece);
        o.Text("reason", left.Reason);
        o.Text("text", left.Text);
    }

    private static void Write(JsonOut o, UnmetPin pin)
    {
        o.Text("piece", pin.Piece);
        o.Whole("step", pin.Step);
        o.Text("text", pin.Text);
    }

    private static void Write(JsonOut o, Objective objective)
    {
        o.Whole("value", objective.Value);
        o.Whole("bound", objective.Bound);
        o.Object(
            "parts",
            () =>
            {
                foreach (var part in objective.Parts)
                    o.Object(
                        part.Name,
                        () =>
                        {
                            o.Whole("amount", part.Amount);
                            o.Whole("points", part.Points);
                            o.Whole("bound", part.Bound);
                        }
                    );
            }
        );
    }

    private static void Write(JsonOut o, Why why)
    {
        o.OptionalText("piece", why.Piece);
        o.OptionalWhole("step", why.Step);
        o.OptionalText("batch", why.Batch);
        o.Text("held_by", why.HeldBy);
        o.OptionalText("name", why.Name);
        o.OptionalText("helps", why.Helps);
    }

    private static void Write(JsonOut o, SearchNote search)
    {
        o.Text("planner", search.Planner);
        o.Unsigned("seed", search.Seed);
        o.OptionalWhole("chains", search.Chains);
        o.Whole("rounds", search.Rounds);
        o.Whole("steps", search.Steps);
        o.Flag("proved", search.Proved);
    }
}
