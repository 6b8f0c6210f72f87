using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Tests.Exchange;

namespace ShopFloor.Planning.Tests.Checking;

public sealed class WorkedExampleTests
{
    [Fact]
    public void Check_TwoPlates_HasNoFindings() => Assert.Empty(PlanChecker.Check(TwoPlates.Day, TwoPlates.Plan, TwoPlates.Sha));

    [Fact]
    public void Amounts_TwoPlates_AreAsSummedByHand() =>
        Assert.Equal([0, 0, 0, 0, 1, 960, 1, 2, 3402, 0], PlanChecker.Amounts(TwoPlates.Day, TwoPlates.Plan));

    [Fact]
    public void First_TwoPlates_IsAsGoodAsByHand()
    {
        var plan = DayPlanner.First(TwoPlates.Day, TwoPlates.Sha);
        Assert.Empty(PlanChecker.Check(TwoPlates.Day, plan, TwoPlates.Sha));
        Assert.True(plan.Objective.Value <= 10_362, $"value {plan.Objective.Value}");
    }
}
