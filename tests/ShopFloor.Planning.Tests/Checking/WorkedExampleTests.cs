using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Tests.Exchange;

namespace ShopFloor.Planning.Tests.Checking;

public sealed class WorkedExampleTests
{
    [Fact]
    public void Check_TwoPlates_HasNoFindings() => Assert.Empty(PlanChecker.Check(TwoPlates.Day, TwoPlates.Plan, TwoPlates.Sha));

    /// <summary>Germans write 160,5 and Swedes write minus otherwise: what is found reads alike everywhere.</summary>
    [Theory]
    [InlineData("de-DE")]
    [InlineData("sv-SE")]
    public void Check_InAnyLanguage_SaysTheSame(string language)
    {
        var plan = TwoPlates.Plan;
        var broken = plan with
        {
            Batches = [.. plan.Batches.Select(b => b.Kind == BatchKinds.Load ? b with { TenthsC = 1_605 } : b)],
            Tasks = [.. plan.Tasks.Select((t, i) => i == 0 ? t with { StartS = -5 } : t)],
        };
        var culture = CultureInfo.CurrentCulture;
        try
        {
            var texts = Texts(CultureInfo.InvariantCulture, broken);
            Assert.Contains("L1: P1 wants 160 °C, the batch has 160.5 °C", texts);
            Assert.Equal(texts, Texts(CultureInfo.GetCultureInfo(language), broken));
        }
        finally
        {
            CultureInfo.CurrentCulture = culture;
        }
    }

    private static List<string> Texts(CultureInfo culture, Plan plan)
    {
        CultureInfo.CurrentCulture = culture;
        return [.. PlanChecker.Check(TwoPlates.Day, plan, TwoPlates.Sha).Select(f => f.Text)];
    }

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
