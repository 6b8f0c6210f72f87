using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Office.Plans;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>Every task says in plain words why it stands where it does.</summary>
public sealed class WhyWordsTests
{
    private static string Clock(int second) => FormattableString.Invariant($"{second / 3600:00}:{second / 60 % 60:00}");

    private static WhyWords Of(Day day, Plan plan) =>
        new(
            day,
            plan,
            new PlanWords(
                new Dictionary<string, string>
                {
                    ["ada"] = "Ada",
                    ["oven-1"] = "Big oven",
                    ["white"] = "White base",
                }
            ),
            Clock
        );

    [Fact]
    public void Of_EveryTaskOfRandomPlans_IsASentenceWithoutCodesOfTheProgram()
    {
        var said = new HashSet<string>();
        for (var seed = 1UL; seed <= 6; seed++)
        {
            var day = DayMaker.Make(10 + (int)seed, seed, seed % 2 == 0);
            var plan = DayPlanner.First(day);
            var why = Of(day, plan);
            foreach (var task in plan.Tasks)
            {
                var reason = why.Of(task);
                Assert.Matches(@"^[A-Za-z0-9].*\.$", reason.Why);
                Assert.DoesNotContain("does not say", reason.Why, StringComparison.Ordinal);
                Assert.DoesNotContain("held_by", reason.Why, StringComparison.Ordinal);
                Assert.NotEmpty(reason.What);
                said.Add(reason.Why.Split(' ')[1]);
            }
        }
        Assert.True(said.Count > 6, string.Join(", ", said));
    }

    [Fact]
    public void Of_PersonStillAtAnotherTask_NamesPersonAndTask()
    {
        var day = DayMaker.Make(12, 3);
        var plan = DayPlanner.First(day);
        var held = plan.Why.First(w => w is { Piece: not null, HeldBy: "person", Name: "ada" } && Ends(plan, w).Any());
        var task = plan.Tasks.First(t => t.Piece == held.Piece && t.Step == held.Step);
        var sentence = Of(day, plan).Of(task).Why;
        Assert.StartsWith("Ada is busy until then: ", sentence, StringComparison.Ordinal);
    }

    private static IEnumerable<PlanTask> Ends(Plan plan, Why why)
    {
        var task = plan.Tasks.First(t => t.Piece == why.Piece && t.Step == why.Step);
        return task.Kind == TaskKinds.Spray ? [] : plan.Tasks.Where(t => t.Person == why.Name && t.EndS == task.StartS);
    }

    [Fact]
    public void TimeOf_LatePiece_NamesWhatTakesLongestFirst()
    {
        var day = DayMaker.Make(12, 3);
        day = day with { People = [.. day.People.Select(p => p with { Shifts = [.. p.Shifts.Skip(1)] })] };
        var plan = DayPlanner.First(day);
        Assert.Matches("^[0-9]+ h( [0-9]+ min)?: nobody is at work; ", Of(day, plan).TimeOf(day.Pieces[0].Id));
    }
}
