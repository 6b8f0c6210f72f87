using System.Text;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Exchange;

/// <summary>Points are whole numbers that never run over: what could is refused when a day is read, and a plan may say what it likes.</summary>
public sealed class DayPointsTests
{
    private static readonly Weights Plain = DayMaker.Make(2, 1).Weights;

    private static ReadResult<ShopFloor.Planning.Exchange.Day> Read(Weights weights, int promise = 30_000, int weight = 1)
    {
        var day = DayMaker.Make(2, 1);
        var pieces = day.Pieces.Select(p => p with { PromiseS = promise, Weight = weight });
        return DayReader.Read(DayWriter.Write(day with { Weights = weights, Pieces = [.. pieces] }), "day.json");
    }

    [Fact]
    public void Read_PointsThatCouldRunOver_NamesTheWeightThatBringsMost()
    {
        var problem = Assert.Single(Read(Plain with { LateS = 1_000_000_000_000 }, -100_000_000, 1_000_000).Problems);
        Assert.Equal("weights.late_s", problem.Path);
        Assert.Contains("could not be counted exactly", problem.Reason, StringComparison.Ordinal);
        Assert.True(problem.Line > 1);
    }

    [Fact]
    public void Read_LargeWeightsThatFit_AreTakenAndCountedExactly()
    {
        var day = Read(Plain with { LateS = 1_000_000_000_000, FinishS = 1_000_000_000_000 }, -1).Value;
        var plan = DayPlanner.First(day);
        Assert.Empty(PlanChecker.Check(day, plan, plan.DaySha256));
        Assert.Equal(plan.Objective.Parts.Sum(p => (decimal)p.Points), plan.Objective.Value);
        Assert.All(plan.Objective.Parts, p => Assert.True(p.Points >= 0 && p.Bound >= 0, p.ToString()));
    }

    [Theory]
    [InlineData(long.MaxValue)]
    [InlineData(long.MinValue)]
    public void Check_PlanThatSaysHugeNumbers_HasFindingsAndNoFault(long huge)
    {
        var day = TwoPlates.Day;
        var parts = TwoPlates.Plan.Objective.Parts.Select(p => new ObjectivePart(p.Name, huge, huge, huge)).ToList();
        var findings = PlanChecker.Check(day, TwoPlates.Plan with { Objective = new Objective(huge, huge, parts) }, TwoPlates.Sha);
        Assert.Contains(findings, f => f.Rule == "objective-wrong");
        Assert.Contains(findings, f => f.Rule == "bound-wrong");
        Assert.All(findings, f => Assert.True(f.Amount >= 0, f.Text));
    }

    [Fact]
    public void Check_BoundAboveTheTruePointsButNotTheStated_IsWrong()
    {
        var objective = TwoPlates.Plan.Objective;
        var parts = objective.Parts.Select(p => p.Name == "shakes" ? p with { Points = p.Points + 500, Bound = p.Points + 400 } : p);
        var findings = PlanChecker.Check(
            TwoPlates.Day,
            TwoPlates.Plan with
            {
                Objective = objective with { Parts = [.. parts] },
            },
            TwoPlates.Sha
        );
        Assert.Contains(findings, f => f.Rule == "bound-wrong" && f.Text.StartsWith("shakes: ", StringComparison.Ordinal));
    }

    /// <summary>Where being late costs more than being left out, leaving all out is a plan: no bound may lie above what it costs.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1_000)]
    [InlineData(10_000_000)]
    public void Bounds_LeavingOutIsCheaper_AreNotAboveLeavingAllOut(long leftOut)
    {
        for (var seed = 1UL; seed <= 12; seed++)
        {
            var day = DayMaker.Make(5, seed);
            day = day with
            {
                Weights = day.Weights with { LeftOut = leftOut },
                Pieces = [.. day.Pieces.Select((p, i) => i % 2 == 0 || leftOut < 10_000_000 ? p with { PromiseS = -2_000_000 } : p)],
            };
            var floor = Floor.Of(new Workroom(day), thorough: true);
            Assert.True(floor.Sum(pinsKept: false) <= leftOut * day.Pieces.Count, $"seed {seed}: {floor.Sum(false)}");
            Assert.All(floor.Any.Together.Concat(floor.Any.Apart), bound => Assert.True(bound >= 0));
        }
    }

    [Fact]
    public void Write_RoundPieceOrWrapPress_RaisesTheVersionAndOthersDoNot()
    {
        var day = DayMaker.Make(2, 1);
        Assert.Contains("\"shopfloor-day/1\"", Text(day), StringComparison.Ordinal);
        var round = day with { Pieces = [day.Pieces[0] with { Round = true, DepthUm = day.Pieces[0].WidthUm }, day.Pieces[1]] };
        Assert.Contains("\"shopfloor-day/1.1\"", Text(round), StringComparison.Ordinal);
        Assert.True(DayReader.Read(DayWriter.Write(round), "day.json").IsOk);
        var older = Text(round).Replace("shopfloor-day/1.1", "shopfloor-day/1", StringComparison.Ordinal);
        Assert.True(DayReader.Read(Encoding.UTF8.GetBytes(older), "day.json").IsOk);
        var newer = Text(round).Replace("shopfloor-day/1.1", "shopfloor-day/2", StringComparison.Ordinal);
        Assert.False(DayReader.Read(Encoding.UTF8.GetBytes(newer), "day.json").IsOk);
    }

    private static string Text(ShopFloor.Planning.Exchange.Day day) => Encoding.UTF8.GetString(DayWriter.Write(day));
}
