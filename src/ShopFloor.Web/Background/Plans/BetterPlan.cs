using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Says whether a plan is worth replacing the published one: each new version is read by people who had begun to follow the last.</summary>
public static class BetterPlan
{
    /// <summary>Whether a plan leaves out fewer pieces or keeps more of what the owner pinned, or else is better by more than one moved step.</summary>
    /// <param name="better">The plan that was found, what it moves counted.</param>
    /// <param name="standing">The published one.</param>
    /// <param name="day">The day of both.</param>
    public static bool Is(Plan better, Plan standing, Day day)
    {
        var (now, before) = (PlanRank.Of(day, better), PlanRank.Of(day, standing));
        return now with { Value = now.Value + day.Weights.Changed } < before with { Value = Standing(standing) };
    }

    /// <summary>What a plan costs once it is the published one: nothing has changed against it.</summary>
    private static long Standing(Plan plan) =>
        plan.Objective.Value - plan.Objective.Parts.Where(p => p.Name == "changed").Sum(p => p.Points);
}
