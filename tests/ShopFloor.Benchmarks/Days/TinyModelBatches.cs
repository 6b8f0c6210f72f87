using Google.OrTools.Sat;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Layout;

namespace ShopFloor.Benchmarks.Days;

/// <summary>Oven loads and press sessions in the model, as slots that nodes join.</summary>
internal sealed partial class TinyModel
{
    /// <summary>Every node is in one slot; slots are used in order, a slot has one setting, and a piece is in it once.</summary>
    private (Member[] Members, BoolVar[] Used, IntVar[] From, IntVar[] To) Slots(
        List<(int Piece, int Step)> all,
        Func<Step, string> setting
    )
    {
        var count = all.Count;
        BoolVar[] used = [.. all.Select(_ => model.NewBoolVar(""))];
        IntVar[] from = [.. all.Select(_ => model.NewIntVar(0, horizon, ""))];
        IntVar[] to = [.. all.Select(_ => model.NewIntVar(0, horizon, ""))];
        Member[] members = [.. all.Select(n => new Member(n.Piece, n.Step, [.. used.Select(_ => model.NewBoolVar(""))]))];
        foreach (var m in members)
        {
            model.AddExactlyOne(m.In);
            for (var l = 0; l < count; l++)
            {
                model.AddImplication(m.In[l], used[l]);
                model.Add(start[m.Piece][m.Step] == from[l]).OnlyEnforceIf(m.In[l]);
                model.Add(end[m.Piece][m.Step] == to[l]).OnlyEnforceIf(m.In[l]);
                foreach (var other in members)
                    if (other != m && (other.Piece == m.Piece || setting(Of(other)) != setting(Of(m))))
                        model.AddBoolOr([m.In[l].Not(), other.In[l].Not()]);
            }
        }
        for (var l = 0; l < count; l++)
        {
            model.AddBoolOr([.. members.Select(m => (ILiteral)m.In[l]), used[l].Not()]);
            if (l > 0)
                model.AddImplication(used[l], used[l - 1]);
        }
        return (members, used, from, to);
    }

    private Step Of(Member m) => day.Pieces[m.Piece].Route[m.Step];

    /// <summary>Between slots of different temperature, and before the first, the set point changes; it takes its time and its points.</summary>
    private void SetPoints(HeatedStation station, Member[] members, BoolVar[] used, IntVar[] from, IntVar[] to)
    {
        int[] temperatures =
        [
            station.Heat.NowTenthsC,
            .. members.Select(m => Of(m).TenthsC).Distinct().Where(t => t != station.Heat.NowTenthsC),
        ];
        BoolVar[][] has = [.. used.Select(_ => temperatures.Select(_ => model.NewBoolVar("")).ToArray())];
        for (var l = 0; l < used.Length; l++)
        {
            model.AddExactlyOne(has[l]);
            foreach (var m in members)
                model.AddImplication(m.In[l], has[l][Array.IndexOf(temperatures, Of(m).TenthsC)]);
            for (var a = 0; a < temperatures.Length; a++)
            for (var b = 0; b < temperatures.Length; b++)
            {
                if (a == b || (l == 0 && a != 0))
                    continue;
                var change = model.NewBoolVar("");
                ILiteral[] not =
                    l == 0 ? [has[l][b].Not(), used[l].Not(), change] : [has[l - 1][a].Not(), has[l][b].Not(), used[l].Not(), change];
                model.AddBoolOr(not);
                var length = ChangeS(station, temperatures[a], temperatures[b]);
                if (l == 0)
                    model.Add(from[l] >= length).OnlyEnforceIf(change);
                else
                    model.Add(from[l] >= to[l - 1] + length).OnlyEnforceIf(change);
                cost.Add((change, temperatures[b] == day.RoomTenthsC ? 0 : day.Weights.SetPoints));
            }
            if (l > 0)
                model.Add(from[l] >= to[l - 1]).OnlyEnforceIf(used[l]);
        }
    }

    private void Loads(Oven oven)
    {
        var all = Steps(s => s.Station == StationKind.Oven);
        var task = LayoutTask.Create(
            [.. oven.Shelves.Select(s => new Surface(s.WidthUm, s.DepthUm, s.ClearUm))],
            new Spacing(oven.MarginUm, oven.GapUm),
            Footprints()
        );
        if (!new FitCheck(task, 20_000).Fits([.. Enumerable.Range(0, day.Pieces.Count)]))
            throw new InputFault("The model is for days whose pieces all lie in the oven together.");
        var (members, used, from, to) = Slots(all, s => FormattableString.Invariant($"{s.Kind} {s.TenthsC}"));
        for (var l = 0; l < used.Length; l++)
        {
            var count = LinearExpr.Sum(members.Select(m => m.In[l]));
            var (dwell, dwellFrom, dwellTo) = (
                model.NewIntVar(0, 10_000, ""),
                model.NewIntVar(0, horizon, ""),
                model.NewIntVar(0, horizon, "")
            );
            var (load, unload) = (model.NewIntVar(0, 10_000, ""), model.NewIntVar(0, 10_000, ""));
            model.Add(load == (oven.LoadEachS * count) + oven.LoadS);
            model.Add(unload == (oven.UnloadEachS * count) + oven.UnloadS);
            model.Add(dwellFrom == from[l] + load).OnlyEnforceIf(used[l]);
            model.Add(dwellTo == dwellFrom + dwell).OnlyEnforceIf(used[l]);
            model.Add(to[l] == dwellTo + unload).OnlyEnforceIf(used[l]);
            model.Add(dwell == 0).OnlyEnforceIf(used[l].Not());
            foreach (var m in members)
            {
                model.Add(dwell >= Of(m).MinS).OnlyEnforceIf(m.In[l]);
                model.Add(dwell <= (Of(m).MaxS ?? 10_000)).OnlyEnforceIf(m.In[l]);
            }
            if (oven.HeaterW is { } watts)
                model.Add(
                    (long)watts * dwell >= LinearExpr.WeightedSum(members.Select(m => m.In[l]), members.Select(m => (long)Of(m).HeatJ))
                );
            if (oven.VapourLimitMg is { } limit)
                model.Add(LinearExpr.WeightedSum(members.Select(m => m.In[l]), members.Select(m => (long)Of(m).VapourMg)) <= limit);
            Attend(new Work(TaskKinds.Load, oven.Id, Slot: l), from[l], load, dwellFrom, used[l]);
            Attend(new Work(TaskKinds.Unload, oven.Id, Slot: l), dwellTo, unload, to[l], used[l]);
            cost.Add((used[l], day.Weights.OvenLoads));
            cost.Add((dwell, day.Weights.OvenS));
        }
        SetPoints(oven, members, used, from, to);
        (ovenTask, loads) = (new FitCheck(task, 20_000), members);
    }

    private List<Footprint> Footprints() =>
        [.. day.Pieces.Select(p => new Footprint(p.Id, p.WidthUm, p.DepthUm, p.ThicknessUm, p.MayTurn))];

    private void Sessions(Press press)
    {
        var all = Steps(s => s.Kind == StepKind.Press);
        var (members, used, from, to) = Slots(all, s => FormattableString.Invariant($"{s.TenthsC} {s.Pressure} {s.LayUp}"));
        var task = LayoutTask.Create([new Surface(press.WidthUm, press.DepthUm)], new Spacing(press.MarginUm, press.GapUm), Footprints());
        var fits = new FitCheck(task, 20_000);
        for (var l = 0; l < used.Length; l++)
        {
            Together(press, fits, members, l);
            var (pressed, length) = (model.NewIntVar(0, 10_000, ""), model.NewIntVar(0, 20_000, ""));
            model.Add(length == (press.LayUpEachS * LinearExpr.Sum(members.Select(m => m.In[l]))) + press.LayUpS + pressed);
            model.Add(to[l] == from[l] + length).OnlyEnforceIf(used[l]);
            foreach (var m in members)
            {
                model.Add(pressed >= Of(m).MinS).OnlyEnforceIf(m.In[l]);
                model.Add(pressed <= (Of(m).MaxS ?? 10_000)).OnlyEnforceIf(m.In[l]);
            }
            Attend(new Work(TaskKinds.Press, press.Id, Slot: l), from[l], length, to[l], used[l]);
            pressedIn.Add(pressed);
        }
        SetPoints(press, members, used, from, to);
        (platen, sessions) = (fits, members);
    }

    /// <summary>Sets that differ too much in thickness or do not lie on the platen together are no session.</summary>
    private void Together(Press press, FitCheck fits, Member[] members, int slot)
    {
        for (var set = 1; set < 1 << members.Length; set++)
        {
            Member[] chosen = [.. members.Where((_, i) => (set & (1 << i)) != 0)];
            int[] pieces = [.. chosen.Select(m => m.Piece).Distinct()];
            var thick = pieces.Select(p => day.Pieces[p].ThicknessUm).ToArray();
            if (pieces.Length == chosen.Length && thick.Max() - thick.Min() <= press.ThicknessToleranceUm && fits.Fits(pieces))
                continue;
            model.AddBoolOr([.. chosen.Select(m => (ILiteral)m.In[slot].Not())]);
        }
    }
}
