using System.Text.Json;

namespace ShopFloor.Planning.Exchange;

internal static class PieceReader
{
    private static readonly string[] StepWords = [.. Enum.GetValues<StepKind>().Select(TaskKinds.Of)];

    public static Piece Read(Fields f)
    {
        var piece = new Piece(
            f.Id("id"),
            f.Id("order"),
            StationReader.Mm(f, "width_mm", 1),
            StationReader.Mm(f, "depth_mm", 1),
            StationReader.Mm(f, "thickness_mm"),
            f.Flag("may_turn"),
            f.Whole("earliest_s", -Limits.Seconds),
            f.Whole("promise_s", -Limits.Seconds),
            f.Whole("weight", 0, 1_000_000),
            f.List("after", (v, at) => Fields.IdOf(v, at, f.Problems)),
            f.Objects("route", ReadStep),
            f.Whole("done", 0, 1000),
            f.IsNull("last_end_s") ? null : f.Whole("last_end_s", -Limits.Seconds, 0),
            f.Objects("pins", ReadPin)
        )
        {
            Round = f.Has("round") && f.Flag("round"),
        };
        CheckRoute(piece, f);
        f.NothingElse();
        return piece;
    }

    private static void CheckRoute(Piece piece, Fields f)
    {
        var route = piece.Route;
        if (route.Count == 0)
            f.Problem("route", "must have at least one step");
        else if (route[0].Kind == StepKind.Rest || route[^1].Kind == StepKind.Rest)
            f.Problem("route", "must neither begin nor end with a rest");
        for (var i = 1; i < route.Count; i++)
            if (route[i].Kind == StepKind.Rest && route[i - 1].Kind == StepKind.Rest)
                f.Problem("route", $"steps {i} and {i + 1} are two rests in a row");
        if (piece.Done > route.Count)
            f.Problem("done", $"the route has only {route.Count} steps");
        if (piece.LastEndS is null != (piece.Done == 0))
            f.Problem("last_end_s", "must be null when no step is done, and given when one is");
        foreach (var pin in piece.Pins)
            if (pin.Step > route.Count)
                f.Problem("pins", $"step {pin.Step} of a route of {route.Count}");
    }

    private static Step? ReadStep(Fields f)
    {
        var word = f.Raw("kind") is { } raw ? DayReader.Word(raw, f.Under("kind"), StepWords, f.Problems) : null;
        if (word is null)
            return null;
        var kind = TaskKinds.StepOf(word)!.Value;
        var step = kind switch
        {
            StepKind.Spray => new Step(kind)
            {
                LengthS = Length(f),
                Coating = f.Id("coating"),
                Ul = f.Scaled("ml", 3, 0, Limits.Thousandths),
            },
            StepKind.Rest => Range(new Step(kind), f, 0, true),
            StepKind.Cure or StepKind.Dry => Range(Heated(kind, f), f, 1, false) with
            {
                HeatJ = f.Scaled("heat_kj", 3, 0, Limits.Thousandths),
                VapourMg = f.Scaled("vapour_g", 3, 0, Limits.Thousandths),
            },
            StepKind.Press => Range(Heated(kind, f), f, 1, false) with { Pressure = Word(f, "pressure"), LayUp = Word(f, "lay_up") },
            StepKind.Tape => new Step(kind) { LengthS = Length(f), ReadyS = f.Whole("ready_s", -Limits.Seconds) },
            _ => new Step(kind) { LengthS = Length(f) },
        };
        if (kind == StepKind.Wipe || (kind != StepKind.Rest && f.Has("max_wait_s")))
            step = step with { MaxWaitS = f.Whole("max_wait_s") };
        f.NothingElse();
        return step;
    }

    private static int Length(Fields f) => f.Whole("length_s", 1);

    private static string Word(Fields f, string name)
    {
        var text = f.Text(name, 200);
        if (text.Length == 0 && f.Has(name))
            f.Problem(name, "must not be empty");
        return text;
    }

    private static Step Heated(StepKind kind, Fields f) => new(kind) { TenthsC = f.Scaled("temperature_c", 1, -1000, Limits.TenthsC) };

    private static Step Range(Step step, Fields f, int least, bool mayBeOpen)
    {
        step = step with { MinS = f.Whole("min_s", least), MaxS = mayBeOpen && f.IsNull("max_s") ? null : f.Whole("max_s", least) };
        if (step.MaxS < step.MinS)
            f.Problem("max_s", "must not be below min_s");
        return step;
    }

    private static Pin ReadPin(Fields f)
    {
        var step = f.Whole("step", 1, 1000);
        var given = new[] { "not_before_s", "at_s", "station", "with" }.Count(f.Has);
        if (given != 1)
            f.Problem("step", "a pin has exactly one of not_before_s, at_s, station, with");
        var pin = new Pin(
            step,
            f.Has("not_before_s") ? f.Whole("not_before_s", -Limits.Seconds) : null,
            f.Has("at_s") ? f.Whole("at_s", -Limits.Seconds) : null,
            f.OptionalId("station"),
            f.OptionalId("with")
        );
        f.NothingElse();
        return pin;
    }
}
