using ShopFloor.Cli;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>Whoever ends a search is answered at once with the best so far; whoever has only had rounds enough gets the plan of those rounds.</summary>
public sealed class CancelTests
{
    /// <summary>More changes than could be tried in hours: a test that is not heard by the search does not end.</summary>
    private const int Endless = int.MaxValue;

    [Fact]
    public void LineUps_CancelledMeanwhile_AnswerWithWhatTheyHave()
    {
        var day = DayMaker.Make(12, 3);
        var room = new Workroom(day);
        var plan = DayPlanner.First(day);
        using var cancel = new CancellationTokenSource(TimeSpan.FromMilliseconds(300));
        var best = LineUpSearch.Best(room, [plan], Floor.Of(room, true).Any, new PlanOptions { Chains = 1 }, Endless, cancel.Token);
        Assert.True(cancel.IsCancellationRequested);
        Assert.True(best.Objective.Value <= plan.Objective.Value);
    }

    [Fact]
    public void Plan_CancelledInARound_IsThatOfTheRoundsBeforeWithoutLineUps()
    {
        var day = DayMaker.Make(12, 3);
        using var cancel = new CancellationTokenSource();
        var seen = new List<PlanProgress>();
        var plan = DayPlanner.Plan(
            day,
            new PlanOptions { Rounds = 50, Chains = 1 },
            cancel.Token,
            p =>
            {
                seen.Add(p);
                if (p.Round == 2)
                    cancel.Cancel();
            }
        );
        Assert.Equal(2, plan.Search.Rounds);
        Assert.Equal(2, seen.Count);
        Assert.True(plan.Objective.Value <= seen[^1].Value);
    }

    /// <summary>A limit of time chooses how many rounds, nothing else: the plan names them and can be made again.</summary>
    [Fact]
    public void Plan_RoundsEnoughAfterTwo_IsThePlanOfTwoRounds()
    {
        var day = DayMaker.Make(6, 5);
        using var enough = new CancellationTokenSource();
        var plan = DayPlanner.Plan(
            day,
            new PlanOptions { Rounds = 50 },
            progress: p =>
            {
                if (p.Round == 2)
                    enough.Cancel();
            },
            enough: enough.Token
        );
        Assert.Equal(2, plan.Search.Rounds);
        Assert.Equal(PlanWriter.Write(DayPlanner.Plan(day, new PlanOptions { Rounds = 2 })), PlanWriter.Write(plan));
    }

    /// <summary>At the console: rounds enough, then all enough, then out.</summary>
    [Fact]
    public void Wish_EachOneMore_EndsTheRoundsThenAllThenTheProgram()
    {
        using var rounds = new CancellationTokenSource();
        using var said = new StringWriter();
        using var wish = new StopWish(rounds, said);
        Assert.True(wish.Wish());
        Assert.Equal((true, false), (rounds.IsCancellationRequested, wish.All.IsCancellationRequested));
        Assert.True(wish.Wish());
        Assert.True(wish.All.IsCancellationRequested);
        Assert.False(wish.Wish());
        Assert.Contains("nothing is written", said.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Help_Cancelled_LeavesThePlanAsItIs()
    {
        var day = DayMaker.Make(6, 5);
        day = day with { Pieces = [.. day.Pieces.Select(p => p with { PromiseS = 60 })] };
        var plan = DayPlanner.Bare(day, new PlanOptions { Rounds = 1 });
        Assert.Same(plan, LateHelp.Add(day, plan, new CancellationToken(canceled: true)));
        Assert.NotSame(plan, LateHelp.Add(day, plan));
    }
}
