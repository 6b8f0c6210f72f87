using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

public sealed class RandomDayTests
{
    private static readonly int Days = int.Parse(
        Environment.GetEnvironmentVariable("SHOPFLOOR_RANDOM_DAYS") ?? "60",
        CultureInfo.InvariantCulture
    );

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void First_RandomDay_BreaksNoRule(bool awkward)
    {
        var broken = new List<string>();
        for (var seed = 1; seed <= Days; seed++)
        {
            var day = DayMaker.Make(1 + (seed * 7 % 31), (ulong)seed, awkward);
            var findings = PlanChecker.Check(day, DayPlanner.First(day));
            broken.AddRange(findings.Select(f => $"seed {seed}: {f.Rule}: {f.Text}"));
        }
        Assert.True(broken.Count == 0, $"{broken.Count} findings:\n{string.Join('\n', broken.Take(40))}");
    }

    [Fact]
    public void First_RandomDay_LeavesNothingOut()
    {
        for (var seed = 1; seed <= 20; seed++)
            Assert.Empty(DayPlanner.First(DayMaker.Make(20, (ulong)seed)).LeftOut);
    }

    [Fact]
    public void First_ShopInTheMiddleOfWork_LeavesNothingOut()
    {
        var path = Path.Combine(AppContext.BaseDirectory, "Fixtures", "running-shop.day.json");
        var day = DayReader.Read(File.ReadAllBytes(path), path).Value;
        var plan = DayPlanner.First(day);
        Assert.Empty(PlanChecker.Check(day, plan));
        Assert.Empty(plan.LeftOut);
    }

    [Fact]
    public void Plan_SearchedAwkwardDay_BreaksNoRuleAndIsNoWorseThanTheFirst()
    {
        for (var seed = 1; seed <= 10; seed++)
        {
            var day = DayMaker.Make(4 + seed, (ulong)seed, true);
            var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = 1, Chains = 1 });
            Assert.Empty(PlanChecker.Check(day, plan));
            Assert.True(PlanRank.Of(day, plan) <= PlanRank.Of(day, DayPlanner.First(day)), $"seed {seed}");
        }
    }

    [Fact]
    public void Plan_SameDaySeedAndRounds_IsTheSamePlan()
    {
        var day = DayMaker.Make(12, 3);
        var options = new PlanOptions { Rounds = 2, Seed = 5 };
        Assert.True(PlanWriter.AreSame(DayPlanner.Plan(day, options), DayPlanner.Plan(day, options)));
    }

    [Fact]
    public void First_LongChainOfPieces_DoesNotFall()
    {
        var day = DayMaker.Make(300, 1);
        var chained = day with { Pieces = [.. day.Pieces.Select((p, i) => i == 0 ? p : p with { After = [day.Pieces[i - 1].Id] })] };
        Assert.Empty(PlanChecker.Check(chained, DayPlanner.First(chained)));
    }
}
