using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Tests.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>Days that no workshop has often, each of which once ended in a broken rule, a gap or an error.</summary>
public sealed class OddDayTests
{
    [Theory]
    [InlineData("two-cures-in-a-circle")]
    [InlineData("after-a-running-pack")]
    [InlineData("clean-and-pack")]
    [InlineData("two-sprays-alone")]
    public void Plan_OddDay_BreaksNoRule(string name)
    {
        var day = Read(name);
        Assert.All([0, 1], rounds => Assert.Empty(PlanChecker.Check(day, DayPlanner.Plan(day, new PlanOptions { Rounds = rounds }))));
    }

    /// <summary>A piece that meets no oven and no press was placed step by step and once more as a whole.</summary>
    [Fact]
    public void First_StepsWithoutAnOven_FollowAtOnce() =>
        Assert.Equal([(0, 100), (100, 140)], DayPlanner.First(Read("clean-and-pack")).Tasks.Select(t => (t.StartS, t.EndS!.Value)));

    [Fact]
    public void First_AfterAPieceWhoseLastStepRuns_WaitsForItsEnd() =>
        Assert.Equal(400, DayPlanner.First(Read("after-a-running-pack")).Tasks.Where(t => t.Piece == "P2").Min(t => t.StartS));

    /// <summary>Giving a pin up costs nothing in the objective, and so the search gave up what it could keep.</summary>
    [Theory]
    [InlineData("pinned-to-a-time")]
    [InlineData("pinned-to-a-load")]
    public void Plan_PinThatCanBeKept_IsKept(string name)
    {
        var day = Read(name);
        var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = 1 });
        Assert.Empty(plan.UnmetPins);
        Assert.Empty(PlanChecker.Check(day, plan));
    }

    /// <summary>The order of pins in the file changes nothing, and what is said of a step says all of it.</summary>
    [Fact]
    public void Plan_TwoPinsOfOneStepNotKept_BothAreTold()
    {
        var day = Read("pinned-to-a-time");
        Pin[] pins = [new Pin(4, AtS: 1), new Pin(4, Station: "nowhere-else")];
        Assert.Equal(Texts(day, pins), Texts(day, [.. pins.Reverse()]));
        Assert.Equal(2, Assert.Single(Texts(day, pins)).Count(c => c == '.'));
    }

    /// <summary>Fourteen pieces that flash since two minutes lost the oven to a load that could wait, and were left out.</summary>
    [Fact]
    public void First_WetPieces_ComeBeforeWhatCanWait()
    {
        var day = Read("wet-pieces-and-an-oven");
        var plan = DayPlanner.First(day);
        Assert.Empty(plan.LeftOut);
        Assert.Empty(PlanChecker.Check(day, plan));
    }

    /// <summary>A rest takes at least a second, so a longest time of none leaves no window; to say that there was no time sent people looking for it.</summary>
    [Fact]
    public void First_RestThatMayNotLast_HasNoWindow()
    {
        var day = TwoPlates.Day;
        var first = day.Pieces[0];
        var at = first.Route.ToList().FindIndex(s => s.Kind == StepKind.Rest);
        var none = first with { Route = [.. first.Route.Select((s, i) => i == at ? s with { MinS = 0, MaxS = 0 } : s)] };
        var left = Assert.Single(DayPlanner.First(day with { Pieces = [none, .. day.Pieces.Skip(1)] }).LeftOut, l => l.Piece == first.Id);
        Assert.Equal("no window", left.Reason);
        Assert.Contains(FormattableString.Invariant($"before step {at + 2}"), left.Text, StringComparison.Ordinal);
    }

    /// <summary>What lies on a rack when it goes down, or that is down already, is taken from there as it would be anyway.</summary>
    [Theory]
    [InlineData(-100)]
    [InlineData(300)]
    public void First_PieceThatRestsOnARackThatGoesDown_IsPlanned(int down)
    {
        var day = TwoPlates.Day;
        var resting = day.Pieces[0] with { Done = 3, LastEndS = -60 };
        var rest = new PlanTask(TaskKinds.Rest, "rack-1", null, -60, null, resting.Id, 4);
        day = day with
        {
            Pieces = [resting],
            Running = new Running([rest], []),
            Stations = [.. day.Stations.Select(s => s is Rack ? s with { Down = [new Span(down, 700)] } : s)],
        };
        var plan = DayPlanner.First(day);
        Assert.Empty(plan.LeftOut);
        Assert.Empty(PlanChecker.Check(day, plan));
    }

    /// <summary>Overtime in a shift that had begun before second 0 was worked without anybody having weighed it.</summary>
    [Theory]
    [InlineData(5, 90_000)]
    [InlineData(0, 0)]
    public void First_ShiftThatBeganBefore_IsWorkedIntoOvertimeOnlyWhereThatPays(long overtime, int finishedAfter)
    {
        var day = TwoPlates.Day;
        Shift[] shifts = [new Shift(-20_000, 1_000, 9_000), new Shift(90_000, 110_000, 110_000)];
        day = day with
        {
            HorizonS = 150_000,
            People = [day.People[0] with { Shifts = shifts }],
            Pieces = [.. day.Pieces.Select(p => p with { PromiseS = 140_000 })],
            Weights = day.Weights with { OvertimeS = overtime * 1_000 },
        };
        var plan = DayPlanner.First(day);
        Assert.Empty(plan.LeftOut);
        Assert.Equal(overtime == 0, plan.Objective.Parts.Single(p => p.Name == "overtime_s").Amount > 0);
        Assert.True(plan.Tasks.Max(t => t.EndS) > finishedAfter);
        new Workroom(day).First(out var cost);
        Assert.Equal(plan.Objective.Value, cost);
    }

    /// <summary>A pin of a rest to a rack was passed over, and the reason given was not true.</summary>
    [Theory]
    [InlineData(4, 7_700, "")]
    [InlineData(6, 7_700, "")]
    [InlineData(6, 7_699, "rack-2 had no room for it; it rests at rack-1.")]
    public void Plan_RestPinnedToARack_LiesThereWhereThereIsRoom(int step, int areaMm2, string why)
    {
        // P1 takes 110 by 70 mm with its gaps.
        var day = TwoPlates.Day;
        var other = day.Stations.OfType<Rack>().Single() with { Id = "rack-2", AreaUm2 = areaMm2 * 1_000_000L };
        var (one, two) = (day.Pieces[0] with { Pins = [new Pin(step, Station: "rack-2")] }, day.Pieces[1] with { Pins = [] });
        day = day with { Pieces = [one, two], Stations = [.. day.Stations, other] };
        foreach (var rounds in new[] { 0, 1 })
        {
            var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = rounds, Chains = 1 });
            Assert.Empty(plan.LeftOut);
            Assert.Empty(PlanChecker.Check(day, plan));
            Assert.Equal(why, string.Join(' ', plan.UnmetPins.Select(u => u.Text)));
            var at = plan.Tasks.Single(t => t.Kind == TaskKinds.Rest && (t.Piece, t.Step) == ("P1", step)).Station;
            Assert.Equal(why.Length == 0 ? "rack-2" : "rack-1", at);
        }
    }

    /// <summary>A wiped piece was sprayed at once or never: that its spray may wait as long as its wipe lets it was not seen.</summary>
    [Fact]
    public void First_WipedPieceBeforeAnOvenThatIsCold_IsSprayedLater()
    {
        var day = TwoPlates.Day;
        var wiped = day.Pieces[0] with { Done = 2, LastEndS = -20 };
        wiped = wiped with { Route = [.. wiped.Route.Select((s, i) => i == 3 ? s with { MinS = 100, MaxS = 300 } : s)] };
        day = day with { Pieces = [wiped] };
        var plan = DayPlanner.First(day);
        Assert.Empty(plan.LeftOut);
        Assert.Empty(PlanChecker.Check(day, plan));
        Assert.Equal(260, plan.Tasks.Single(t => t.Kind == TaskKinds.Spray).StartS);
    }

    private static List<string> Texts(ShopFloor.Planning.Exchange.Day day, Pin[] pins) =>
        [
            .. DayPlanner
                .First(day with { Pieces = [.. day.Pieces.Select(p => p.Pins.Count > 0 ? p with { Pins = pins } : p)] })
                .UnmetPins.Select(u => u.Text),
        ];

    private static ShopFloor.Planning.Exchange.Day Read(string name) =>
        DayReader.Read(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Fixtures", name + ".day.json")), name).Value;

    /// <summary>A rest must be joined by the next step at once. One that ended a minute ago cannot be, so its piece is left out with that reason;
    /// one that ends just now can.</summary>
    [Theory]
    [InlineData(-60, "no window")]
    [InlineData(0, null)]
    public void First_DoneEndsOnARest_IsPlannedAtOnceOrLeftOut(int ended, string? reason)
    {
        var day = DayMaker.Make(5, 3);
        var resting = day.Pieces.First(p => p.Route.Any(s => s.Kind == StepKind.Rest));
        var done = resting.Route.ToList().FindIndex(s => s.Kind == StepKind.Rest) + 1;
        // What follows is work by hand: a load would first have to heat.
        List<Step> route = [.. resting.Route.Take(done), new Step(StepKind.Inspect) { LengthS = 60 }];
        var odd = resting with { Done = done, LastEndS = ended, Route = route, Pins = [] };
        var shift = day.People[0].Shifts[0];
        day = day with { Pieces = [odd], People = [day.People[0] with { Shifts = [shift with { FromS = 0 }] }] };
        var plan = DayPlanner.First(day);
        Assert.Empty(PlanChecker.Check(day, plan));
        Assert.Equal(reason, plan.LeftOut.SingleOrDefault()?.Reason);
        if (reason is not null)
            Assert.Contains("ended before the plan begins", plan.LeftOut[0].Text, StringComparison.Ordinal);
    }
}
