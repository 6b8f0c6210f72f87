using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Tests.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>Loads that run at second 0 come out in time, whoever must stay for it.</summary>
public sealed class RunningLoadTests
{
    /// <summary>Both plates are in an oven of their own since 20 s, and who loaded the one is gone; P2 must come out within 20 s of its shortest time.</summary>
    private static ShopFloor.Planning.Exchange.Day InOvens(params Shift[] shifts)
    {
        var day = TwoPlates.Day;
        var oven = day.Stations.OfType<Oven>().Single();
        oven = oven with { Heat = oven.Heat with { NowTenthsC = 1_600 } };
        var (one, two) = (day.Pieces[0], day.Pieces[1] with { Pins = [] });
        two = two with { Route = [.. two.Route.Select(s => s.Kind == StepKind.Cure ? s with { MinS = 900, MaxS = 920 } : s)] };
        return day with
        {
            HorizonS = 172_800,
            Weights = day.Weights with { OvertimeS = 1_000 },
            People =
            [
                day.People[0] with
                {
                    Shifts = shifts,
                },
                new Person("bob", [StationKind.Oven], [new Shift(170_000, 171_000, 171_000)]),
            ],
            Stations = [.. day.Stations.Where(s => s is not Oven), oven, oven with { Id = "oven-2" }],
            Pieces = [.. new[] { one, two }.Select(p => p with { Done = 4, LastEndS = -60, PromiseS = 150_000 })],
            Running = new Running([.. Tasks("L1", "oven-1", "ada"), .. Tasks("L2", "oven-2", "bob")], [Load("L1", "P1"), Load("L2", "P2")]),
        };
    }

    private static PlanTask[] Tasks(string id, string oven, string person) =>
        [new(TaskKinds.Load, oven, person, -60, -20, Batch: id), new(TaskKinds.Dwell, oven, null, -20, null, Batch: id)];

    private static Batch Load(string id, string piece) =>
        new(id, BatchKinds.Load) { TenthsC = 1_600, Places = [new Place(piece, 5, 1, 10_000, 10_000, false)] };

    /// <summary>The normal day ends before the loads are done: they were left in until the next morning.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Plan_LoadsThatAreDoneInOvertime_ComeOutThen(int rounds)
    {
        var day = InOvens(new Shift(0, 600, 6_000), new Shift(54_000, 82_800, 88_200));
        var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = rounds, Chains = 1 });
        Assert.Empty(plan.LeftOut);
        Assert.Empty(PlanChecker.Check(day, plan));
        Assert.Equal(80, plan.Objective.Parts.Single(p => p.Name == "overtime_s").Amount);
    }

    /// <summary>One person, two loads: P1's may wait, P2's may not, and names do not decide.</summary>
    [Fact]
    public void First_TwoLoadsAndOnePerson_TheOneThatMayWaitWaits()
    {
        var day = InOvens(new Shift(0, 86_400, 86_400));
        var plan = DayPlanner.First(day);
        Assert.Empty(PlanChecker.Check(day, plan));
        var unloads = plan.Tasks.Where(t => t.Kind == TaskKinds.Unload && t.StartS < 2_000).OrderBy(t => t.StartS).Select(t => t.Batch);
        Assert.Equal(["L2", "L1"], unloads);
    }

    [Fact]
    public void Evaluate_LoadThatNobodyTakesOutInTime_WeighsEverySecond()
    {
        var room = new Workroom(InOvens(new Shift(2_000, 80_000, 80_000)));
        var first = room.First(out var cost);
        var late = (2_000 + 20 - 920) + (2_040 + 20 - 1_200);
        Assert.Equal(late, room.Decoder.OverbakedS());
        Assert.Equal(room.Value(first) + (late * 1_000_000_000L), cost);
    }
}
