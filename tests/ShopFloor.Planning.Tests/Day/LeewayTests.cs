using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>A longest wait is not used up where something else can be done meanwhile: whoever is two minutes late does not spoil a wiped piece.</summary>
public sealed class LeewayTests
{
    private static readonly SearchNote Note = new("test", 1, 1, 0, 0, false);

    public static TheoryData<int, ulong, bool> Days()
    {
        var days = new TheoryData<int, ulong, bool>();
        for (var seed = 1UL; seed <= 12; seed++)
            days.Add(10 + (int)(seed * 11 % 50), seed, seed % 3 == 0);
        return days;
    }

    [Theory]
    [MemberData(nameof(Days))]
    public void Plan_WithLeeway_KeepsEveryRuleAndCostsNoMore(int pieces, ulong seed, bool awkward)
    {
        var day = DayMaker.Make(pieces, seed, awkward);
        AssertSameButLooser(day);
        AssertSameButLooser(AtWork.Later(day, DayPlanner.First(day), 3_600 + (int)(600 * seed)));
    }

    private static void AssertSameButLooser(ShopFloor.Planning.Exchange.Day day)
    {
        var room = new Workroom(day);
        var first = room.First(out _);
        var (plain, loose) = (Made(false), Made(true));
        Assert.Equal(Findings(plain), Findings(loose));
        Assert.True(loose.Objective.Value <= plain.Objective.Value);
        Assert.Equal(plain.Batches.Select(b => b.Id), loose.Batches.Select(b => b.Id));
        Assert.Equal(Fixed(plain), Fixed(loose));
        Assert.All(Waits(day, plain).Zip(Waits(day, loose)), w => Assert.True(w.Second.Wait <= w.First.Wait));

        Plan Made(bool leeway) => room.Plan(first, new string('0', 64), Note, PartBounds.None, leeway);
        List<string> Findings(Plan plan) => [.. PlanChecker.Check(day, plan).Select(f => f.Rule)];
    }

    /// <summary>Where all pieces of a day are wiped and sprayed, most of what waited to the last second does not any more.</summary>
    [Fact]
    public void Plan_DaysOfSixty_SeldomUseUpAWait()
    {
        var (before, after, all) = (0, 0, 0);
        for (var seed = 1UL; seed <= 5; seed++)
        {
            var day = DayMaker.Make(60, seed);
            var room = new Workroom(day);
            var first = room.First(out _);
            var (plain, loose) = (Plan(false), Plan(true));
            (before, after) = (before + UsedUp(day, plain), after + UsedUp(day, loose));
            all += Waits(day, plain).Count;

            Plan Plan(bool leeway) => room.Plan(first, new string('0', 64), Note, PartBounds.None, leeway);
        }
        Assert.True(before > all / 5, $"{before} of {all} before");
        Assert.True(after < before / 2, $"{after} of {before} after");
    }

    /// <summary>A plan that was searched gets the same at its end, however it was found.</summary>
    [Theory]
    [InlineData(24, 5)]
    [InlineData(30, 2)]
    public void Plan_Searched_HasLeewayToo(int pieces, ulong seed)
    {
        var day = DayMaker.Make(pieces, seed);
        var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = 2 });
        Assert.Empty(PlanChecker.Check(day, plan));
        var room = new Workroom(day);
        var again = PlanMaker.WithLeeway(room, plan, PartBounds.None);
        Assert.Equal(Fixed(plan), Fixed(again));
        Assert.Equal(UsedUp(day, again), UsedUp(day, plan));
    }

    private static int UsedUp(ShopFloor.Planning.Exchange.Day day, Plan plan) => Waits(day, plan).Count(w => 10 * w.Wait > 9 * w.Longest);

    /// <summary>How long each wiped piece waits for its spray, and how long it may.</summary>
    private static List<(string Piece, int Wait, int Longest)> Waits(ShopFloor.Planning.Exchange.Day day, Plan plan)
    {
        var ends = plan.Tasks.Where(t => t.Kind == "wipe").ToDictionary(t => (t.Piece!, t.Step!.Value), t => t.EndS!.Value);
        var sprays = plan.Tasks.Where(t => t.Kind == TaskKinds.Spray).ToDictionary(t => (t.Piece!, t.Step!.Value), t => t.StartS);
        return
        [
            .. from piece in day.Pieces
            from wipe in ends.Keys.Where(k => k.Item1 == piece.Id && piece.Route[k.Item2 - 1].MaxWaitS is not null)
            where sprays.ContainsKey((piece.Id, wipe.Item2 + 1))
            select (piece.Id, sprays[(piece.Id, wipe.Item2 + 1)] - ends[wipe], piece.Route[wipe.Item2 - 1].MaxWaitS!.Value),
        ];
    }

    /// <summary>What leeway leaves alone: everything but steps at benches.</summary>
    private static List<(string, string, int, int?)> Fixed(Plan plan) =>
        [
            .. plan
                .Tasks.Where(t =>
                    t.Kind is TaskKinds.Spray or TaskKinds.Shake or TaskKinds.Load or TaskKinds.Unload or TaskKinds.Press or TaskKinds.Dwell
                )
                .Select(t => (t.Kind, t.Piece ?? t.Batch!, t.StartS, t.EndS)),
        ];
}
