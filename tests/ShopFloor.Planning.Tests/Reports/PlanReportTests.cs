using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Reports;
using ShopFloor.Planning.Tests.Day;
using PlannedDay = ShopFloor.Planning.Reports.PlannedDay;
using WholeDay = ShopFloor.Planning.Exchange.Day;

namespace ShopFloor.Planning.Tests.Reports;

/// <summary>After each new plan: what happened, what moved, which batches are others.</summary>
public sealed class PlanReportTests
{
    /// <summary>A plan that was followed for a while.</summary>
    private sealed record State(WholeDay Morning, Plan First, WholeDay Noon)
    {
        public int Now => (int)(Noon.Zero - Morning.Zero).TotalSeconds;

        public Plan Kept => First with { Tasks = [.. First.Tasks.Select(t => t with { StartS = t.StartS - Now, EndS = t.EndS - Now })] };

        public PlanReport Report(WholeDay after, Plan? plan = null) =>
            PlanReport.Between(new PlannedDay(Morning, First), new PlannedDay(after, plan ?? DayPlanner.First(after)));

        public WholeDay With(Func<Piece, Piece> change, string id) =>
            Noon with
            {
                Pieces = [.. Noon.Pieces.Select(p => p.Id == id ? change(p) : p)],
            };
    }

    private static readonly Lazy<List<State>> States = new(() =>
        [.. from seed in Enumerable.Range(1, 4) from now in new[] { 1_500, 3_000, 5_000, 9_000 } select Made(14, (ulong)seed, now)]
    );

    private static State Made(int pieces, ulong seed, int now)
    {
        var day = DayMaker.Make(pieces, seed);
        var plan = DayPlanner.First(day);
        return new State(day, plan, AtWork.Later(day, plan, now));
    }

    /// <summary>The plan itself, an hour on: nothing has happened and nothing has moved.</summary>
    [Fact]
    public void Between_SamePlanSeenLater_SaysNothing()
    {
        var unmoved = 0;
        foreach (var state in States.Value)
        {
            var report = state.Report(state.Noon, state.Kept);
            unmoved += report.Unmoved;
            Assert.DoesNotContain(report.Causes, c => c.Kind != CauseKind.PiecesGone);
            Assert.Empty(report.Moves);
            Assert.Empty(report.Batches);
            Assert.Empty(report.NewlyLate);
        }
        Assert.True(unmoved > 50, $"{unmoved} pieces were compared");
    }

    [Fact]
    public void Between_EveryStepAnHourLater_NamesEachPieceAndBatchWithTheHour()
    {
        var day = DayMaker.Make(8, 2);
        var plan = DayPlanner.First(day);
        var later = plan with { Tasks = [.. plan.Tasks.Select(t => t with { StartS = t.StartS + 3_600, EndS = t.EndS + 3_600 })] };
        var report = PlanReport.Between(new PlannedDay(day, plan), new PlannedDay(day, later));
        Assert.Equal(day.Pieces.Count, report.Moves.Count);
        Assert.All(report.Moves, m => Assert.Equal((1, 3_600, 3_600), (m.Step, m.MovedS, m.EndMovedS)));
        Assert.Equal(plan.Batches.Count, report.Batches.Count);
        Assert.All(report.Batches, b => Assert.Equal((BatchFate.Changed, 3_600), (b.Fate, b.MovedS)));
        Assert.Equal(0, report.Unmoved);
    }

    [Fact]
    public void Between_PieceGone_IsTheCauseAndItsBatchesAreNotBlamed()
    {
        var (state, gone) = Find(p => p.Done < 3);
        var after = state.Noon with { Pieces = [.. state.Noon.Pieces.Where(p => p.Id != gone.Id)] };
        var kept = state.Kept with
        {
            Tasks = [.. state.Kept.Tasks.Where(t => t.Piece != gone.Id)],
            Batches = [.. state.First.Batches.Select(b => b with { Places = [.. b.Places.Where(p => p.Piece != gone.Id)] })],
        };
        var report = state.Report(after, kept);
        Assert.Contains(report.Causes, c => c.Kind == CauseKind.PiecesGone && c.Pieces.Contains(gone.Id));
        // Whoever is no more cannot leave: only pieces that are still to be made are told of.
        Assert.DoesNotContain(report.Batches, b => b.Left.Contains(gone.Id));
        Assert.Empty(report.Moves);
    }

    [Fact]
    public void Between_RushOrder_IsTheCauseAndItsBatchesAreNewOrJoined()
    {
        var state = States.Value[1];
        var more = DayMaker.Make(3, 77).Pieces.Select((p, i) => p with { Id = $"rush-{i}", Order = "rush", Weight = 4, PromiseS = 9_000 });
        var report = state.Report(state.Noon with { Pieces = [.. state.Noon.Pieces, .. more] });
        var cause = Assert.Single(report.Causes, c => c.Kind == CauseKind.PiecesNew);
        Assert.Equal(("rush", 3), (cause.Name, cause.Pieces.Count));
        Assert.Contains(report.Batches, b => b.Members.Any(m => m.StartsWith("rush", StringComparison.Ordinal)));
        Assert.DoesNotContain(report.Moves, m => m.Order == "rush");
    }

    [Fact]
    public void Between_BrokenOven_IsTheCauseAndLoadsComeLater()
    {
        var state = States.Value[0];
        var broken = state.Noon.Stations.Select(s => s is Oven ? s with { Down = [new Span(0, 10_800)] } : s);
        var report = state.Report(state.Noon with { Stations = [.. broken] });
        var ovens = state.Noon.Stations.OfType<Oven>().Select(o => o.Id);
        Assert.Equal(ovens, report.Causes.Where(c => c.Kind == CauseKind.StationDown).Select(c => c.Name));
        Assert.Contains(report.Moves, m => m.MovedS > PlanReport.NoticedS);
        Assert.Contains(report.Batches, b => b.Fate != BatchFate.Gone && b.Kind == BatchKinds.Load);
    }

    [Theory]
    [InlineData(null)]
    [InlineData(0)]
    public void Between_LoadParted_OneIsChangedAndTheOtherNew(int? start)
    {
        var day = DayMaker.Make(14, 3);
        var plan = DayPlanner.First(day);
        var load = plan.Batches.First(b => b.Kind == BatchKinds.Load && b.Places.Count > 3);
        var left = load.Places[0];
        var later = start is { } at ? at - plan.Tasks.Where(t => t.Batch == load.Id).Min(t => t.StartS) : 9_000;
        var parted = plan with
        {
            Batches =
            [
                .. plan.Batches.Select(b => b == load ? b with { Places = [.. b.Places.Skip(1)] } : b),
                load with
                {
                    Id = "L99",
                    Places = [left],
                },
            ],
            Tasks =
            [
                .. plan.Tasks,
                .. plan
                    .Tasks.Where(t => t.Batch == load.Id)
                    .Select(t => t with { Batch = "L99", StartS = t.StartS + later, EndS = t.EndS + later }),
            ],
        };
        var report = PlanReport.Between(new PlannedDay(day, plan), new PlannedDay(day, parted));
        var kept = Assert.Single(report.Batches, b => b.Fate == BatchFate.Changed);
        Assert.Equal([left.Piece], kept.Left);
        var fresh = Assert.Single(report.Batches, b => b.Fate == BatchFate.New);
        Assert.Equal([left.Piece], fresh.Members);
        var back = PlanReport.Between(new PlannedDay(day, parted), new PlannedDay(day, plan));
        Assert.Equal([left.Piece], Assert.Single(back.Batches, b => b.Fate == BatchFate.Changed).Joined);
        Assert.Equal("L99", Assert.Single(back.Batches, b => b.Fate == BatchFate.Gone).Id);
    }

    [Fact]
    public void Between_PromisesTightened_NamesWhoIsLateNowAndWhoIsAgainInTime()
    {
        var day = DayMaker.Make(6, 2);
        var plan = DayPlanner.First(day);
        var end = PlanEnds.Of(plan)["P0001"];
        var tight = day with { Pieces = [.. day.Pieces.Select(p => p.Id == "P0001" ? p with { PromiseS = end - 1 } : p)] };
        Assert.Equal(["P0001"], PlanReport.Between(new PlannedDay(day, plan), new PlannedDay(tight, plan)).NewlyLate);
        Assert.Equal(["P0001"], PlanReport.Between(new PlannedDay(tight, plan), new PlannedDay(day, plan)).InTimeAgain);
    }

    public static TheoryData<CauseKind, string> Single() =>
        new()
        {
            { CauseKind.BegunAgain, "rework" },
            { CauseKind.TransferReady, "transfer printed" },
            { CauseKind.TransferWaits, "transfer not printed" },
            { CauseKind.PromiseChanged, "promise" },
            { CauseKind.RouteChanged, "recipe" },
            { CauseKind.PinChanged, "pin" },
            { CauseKind.StationBack, "station" },
            { CauseKind.StationChanged, "settings" },
            { CauseKind.ShiftsChanged, "shift" },
            { CauseKind.CanNew, "can" },
            { CauseKind.CanGone, "can gone" },
            { CauseKind.WeightsChanged, "weights" },
            { CauseKind.EndedLate, "late" },
            { CauseKind.EndedSoon, "soon" },
            { CauseKind.NotBegun, "not begun" },
        };

    [Theory]
    [MemberData(nameof(Single))]
    public void Between_OneThingHappened_IsTheOnlyCauseBesideWhatWasFinished(CauseKind kind, string what)
    {
        var (state, after) = Happened(what);
        var causes = state.Report(after).Causes.Where(c => c.Kind != CauseKind.PiecesGone);
        Assert.Equal([kind], causes.Select(c => c.Kind));
    }

    private static (State State, WholeDay After) Happened(string what) =>
        what switch
        {
            "rework" => Again(),
            "transfer printed" => Transfer(-1_000),
            "transfer not printed" => Transfer(1_000),
            "promise" => Of(_ => true, p => p with { PromiseS = p.PromiseS + 7_200 }),
            "recipe" => Of(_ => true, p => p with { Route = [.. p.Route.Take(p.Route.Count - 1), p.Route[^1] with { LengthS = 999 }] }),
            "pin" => Of(p => p.Done < 3, p => p with { Pins = [new Pin(p.Route.Count, NotBeforeS: 9_000)] }),
            "late" => Of(p => p.Done > 0 && p.LastEndS < -700, p => p with { LastEndS = p.LastEndS + 700 }),
            "soon" => Of(p => p.Done > 0 && p.LastEndS < -700, p => p with { LastEndS = p.LastEndS - 700 }),
            "not begun" => Of(p => p.Done == 1 && p.LastEndS < -900, p => p with { Done = 0, LastEndS = null }),
            "station" => Whole(d => d with { Stations = [.. d.Stations, d.Stations.OfType<Press>().First() with { Id = "press-more" }] }),
            "settings" => Whole(d => d with { Stations = [.. d.Stations.Select(s => s is Oven o ? o with { LoadS = o.LoadS + 5 } : s)] }),
            "shift" => Whole(d => d with { People = [d.People[0] with { Shifts = [.. d.People[0].Shifts.Skip(1)] }, .. d.People.Skip(1)] }),
            "can" => Cans(c => [.. c, c[0] with { Id = "can-more" }]),
            "can gone" => Cans(c => [.. c.Skip(1)]),
            _ => Whole(d => d with { Weights = d.Weights with { Shakes = 1 } }),
        };

    private static (State State, Piece Piece) Find(Func<Piece, bool> which) =>
        States.Value.SelectMany(s => AtWork.Idle(s.Noon).Where(which).Select(p => (s, p))).First();

    // The plan before knew how far the piece had come.
    private static (State, WholeDay) Again()
    {
        var (state, piece) = Find(p => p.Done > 2);
        var noon = new State(state.Noon, DayPlanner.First(state.Noon), state.Noon);
        return (noon, noon.With(p => p with { Done = 1, LastEndS = 0 }, piece.Id));
    }

    private static (State, WholeDay) Whole(Func<WholeDay, WholeDay> change) => (States.Value[1], change(States.Value[1].Noon));

    private static (State, WholeDay) Of(Func<Piece, bool> which, Func<Piece, Piece> change)
    {
        var (state, piece) = Find(which);
        return (state, state.With(change, piece.Id));
    }

    private static (State, WholeDay) Transfer(int by) =>
        Of(
            p => p.Route.Skip(p.Done).Any(s => s.Kind == StepKind.Tape && s.ReadyS > 1_000),
            p => p with { Route = [.. p.Route.Select(s => s.Kind == StepKind.Tape ? s with { ReadyS = s.ReadyS + by } : s)] }
        );

    private static (State, WholeDay) Cans(Func<IReadOnlyList<Can>, IReadOnlyList<Can>> change) =>
        Whole(d => d with { Coatings = [.. d.Coatings.Select((c, i) => i == 0 ? c with { Cans = change(c.Cans) } : c)] });
}
