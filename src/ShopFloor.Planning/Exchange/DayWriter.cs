namespace ShopFloor.Planning.Exchange;

/// <summary>Writes day files; the same day always gives the same bytes.</summary>
public static class DayWriter
{
    /// <summary>The file's bytes: UTF-8, LF.</summary>
    public static byte[] Write(Day day)
    {
        var o = new JsonOut();
        return o.Bytes(() =>
        {
            o.Text("format", HasRound(day) ? DayReader.FormatWithRoundPieces : DayReader.Format);
            o.Text("zero", day.Zero.ToString("yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz", CultureInfo.InvariantCulture));
            o.Whole("horizon_s", day.HorizonS);
            o.Scaled("room_c", day.RoomTenthsC, 1);
            o.Objects("people", day.People, p => Write(o, p));
            o.Objects("stations", day.Stations, s => Write(o, s));
            o.Objects("coatings", day.Coatings, c => Write(o, c));
            o.Objects("pieces", day.Pieces, p => Write(o, p));
            o.Object("running", () => Write(o, day.Running));
            if (day.Published is { } published)
                o.Object("published", () => Write(o, published));
            else
                o.Null("published");
            o.Object("weights", () => Write(o, day.Weights));
        });
    }

    private static bool HasRound(Day day) =>
        day.Pieces.Any(p => p.Round) || day.Stations.OfType<Press>().Any(p => p.WrapsFromUm is not null);

    private static void Write(JsonOut o, Person person)
    {
        o.Text("id", person.Id);
        o.Texts("can", person.Can.Select(k => StationReader.Kinds[(int)k]));
        o.Objects(
            "shifts",
            person.Shifts,
            s =>
            {
                o.Whole("from_s", s.FromS);
                o.Whole("normal_to_s", s.NormalToS);
                o.Whole("to_s", s.ToS);
            }
        );
    }

    private static void Write(JsonOut o, Station station)
    {
        o.Text("id", station.Id);
        o.Text("kind", StationReader.Kinds[(int)station.Kind]);
        switch (station)
        {
            case Bench bench:
                o.Whole("places", bench.Places);
                break;
            case Booth booth:
                o.Texts("shares_air_with", booth.SharesAirWith);
                break;
            case Rack rack:
                o.Scaled("area_mm2", rack.AreaUm2 / 1000, 3);
                o.Scaled("gap_mm", rack.GapUm, 3);
                break;
            case Oven oven:
                Write(o, oven);
                break;
            case Press press:
                Write(o, press);
                break;
        }
        o.Objects("down", station.Down, s => Write(o, s));
    }

    private static void Write(JsonOut o, Span span)
    {
        o.Whole("from_s", span.FromS);
        o.Whole("to_s", span.ToS);
    }

    private static void Write(JsonOut o, Oven oven)
    {
        o.Objects(
            "shelves",
            oven.Shelves,
            s =>
            {
                o.Scaled("width_mm", s.WidthUm, 3);
                o.Scaled("depth_mm", s.DepthUm, 3);
                o.Scaled("clear_mm", s.ClearUm, 3);
            }
        );
        WriteHeated(o, oven);
        o.Whole("load_s", oven.LoadS);
        o.Whole("load_each_s", oven.LoadEachS);
        o.Whole("unload_s", oven.UnloadS);
        o.Whole("unload_each_s", oven.UnloadEachS);
        o.Whole("heater_w", oven.HeaterW);
        o.Scaled("vapour_limit_g", oven.VapourLimitMg, 3);
        o.Scaled("hot_above_c", oven.HotAboveTenthsC, 1);
    }

    private static void Write(JsonOut o, Press press)
    {
        o.Scaled("width_mm", press.WidthUm, 3);
        o.Scaled("depth_mm", press.DepthUm, 3);
        WriteHeated(o, press);
        o.Scaled("thickest_mm", press.ThickestUm, 3);
        o.Scaled("thickness_tolerance_mm", press.ThicknessToleranceUm, 3);
        o.Whole("lay_up_s", press.LayUpS);
        o.Whole("lay_up_each_s", press.LayUpEachS);
        if (press.WrapsFromUm is { } least)
            o.Scaled("wraps_from_mm", least, 3);
    }

    private static void WriteHeated(JsonOut o, HeatedStation station)
    {
        var heat = station.Heat;
        o.Scaled("margin_mm", station.MarginUm, 3);
        o.Scaled("gap_mm", station.GapUm, 3);
        o.Scaled("lowest_c", heat.LowestTenthsC, 1);
        o.Scaled("highest_c", heat.HighestTenthsC, 1);
        o.Scaled("error_c", heat.ErrorTenthsC, 1);
        o.Scaled("now_c", heat.NowTenthsC, 1);
        o.Scaled("heating_c_per_min", heat.HeatingMilliCPerMin, 3);
        o.Scaled("cooling_c_per_min", heat.CoolingMilliCPerMin, 3);
    }

    private static void Write(JsonOut o, Coating coating)
    {
        o.Text("id", coating.Id);
        o.Whole("shake_s", coating.ShakeS);
        o.Whole("shake_again_after_s", coating.ShakeAgainAfterS);
        o.Objects(
            "cans",
            coating.Cans,
            c =>
            {
                o.Text("id", c.Id);
                o.Scaled("left_ml", c.LeftUl, 3);
                o.Whole("use_by_s", c.UseByS);
            }
        );
    }

    private static void Write(JsonOut o, Piece piece)
    {
        o.Text("id", piece.Id);
        o.Text("order", piece.Order);
        o.Scaled("width_mm", piece.WidthUm, 3);
        o.Scaled("depth_mm", piece.DepthUm, 3);
        o.Scaled("thickness_mm", piece.ThicknessUm, 3);
        o.Flag("may_turn", piece.MayTurn);
        o.Whole("earliest_s", piece.EarliestS);
        o.Whole("promise_s", piece.PromiseS);
        o.Whole("weight", piece.Weight);
        o.Texts("after", piece.After);
        o.Objects("route", piece.Route, s => Write(o, s));
        o.Whole("done", piece.Done);
        o.Whole("last_end_s", piece.LastEndS);
        o.Objects("pins", piece.Pins, p => Write(o, p));
        if (piece.Round)
            o.Flag("round", true);
    }

    private static void Write(JsonOut o, Step step)
    {
        o.Text("kind", TaskKinds.Of(step.Kind));
        switch (step.Kind)
        {
            case StepKind.Rest:
                WriteRange(o, step);
                break;
            case StepKind.Cure or StepKind.Dry:
                o.Scaled("temperature_c", step.TenthsC, 1);
                WriteRange(o, step);
                o.Scaled("heat_kj", step.HeatJ, 3);
                o.Scaled("vapour_g", step.VapourMg, 3);
                break;
            case StepKind.Press:
                o.Scaled("temperature_c", step.TenthsC, 1);
                WriteRange(o, step);
                o.Text("pressure", step.Pressure);
                o.Text("lay_up", step.LayUp);
                break;
            default:
                o.Whole("length_s", step.LengthS);
                break;
        }
        if (step.Kind == StepKind.Spray)
        {
            o.Text("coating", step.Coating);
            o.Scaled("ml", step.Ul, 3);
        }
        if (step.Kind == StepKind.Tape)
            o.Whole("ready_s", step.ReadyS);
        o.OptionalWhole("max_wait_s", step.MaxWaitS);
    }

    private static void WriteRange(JsonOut o, Step step)
    {
        o.Whole("min_s", step.MinS);
        o.Whole("max_s", step.MaxS);
    }

    private static void Write(JsonOut o, Pin pin)
    {
        o.Whole("step", pin.Step);
        o.OptionalWhole("not_before_s", pin.NotBeforeS);
        o.OptionalWhole("at_s", pin.AtS);
        o.OptionalText("station", pin.Station);
        o.OptionalText("with", pin.With);
    }

    private static void Write(JsonOut o, Running running)
    {
        o.Objects("tasks", running.Tasks, t => PlanWriter.Write(o, t));
        o.Objects("batches", running.Batches, b => PlanWriter.Write(o, b));
    }

    private static void Write(JsonOut o, Published published)
    {
        o.Whole("version", published.Version);
        o.Whole("near_s", published.NearS);
        o.Whole("moved_s", published.MovedS);
        o.Objects(
            "steps",
            published.Steps,
            s =>
            {
                o.Text("piece", s.Piece);
                o.Whole("step", s.Step);
                o.Text("station", s.Station);
                o.Whole("start_s", s.StartS);
            }
        );
    }

    private static void Write(JsonOut o, Weights w)
    {
        long[] all = [w.LeftOut, w.LateS, w.LatePieces, w.OvertimeS, w.OvenLoads, w.OvenS, w.Shakes, w.SetPoints, w.FinishS, w.Changed];
        for (var i = 0; i < all.Length; i++)
            o.Whole(Objective.Names[i], all[i]);
    }
}
