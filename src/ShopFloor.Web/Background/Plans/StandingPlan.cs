using System.Text;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Reports;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Says whether the published plan still tells the truth, so that quiet hours bring no new order of work for its own sake.</summary>
public static class StandingPlan
{
    /// <summary>A plan older than this is made anew all the same: the days it looks ahead move on.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromHours(2);

    /// <summary>Work that has not begun so long after its time calls for a new plan, seconds.</summary>
    private const int LateS = 120;

    /// <summary>Whether nothing has happened since the last plan was made.</summary>
    /// <param name="shop">The shop now, with the last plan.</param>
    /// <param name="day">The day a new plan would be made for.</param>
    public static bool Holds(ShopSnapshot shop, Day day)
    {
        if (shop.Last is not { } last || last.Journal != shop.Journal || shop.Now - last.Zero > Longest)
            return false;
        var before = DayReader.Read(Encoding.UTF8.GetBytes(last.DayJson), "day");
        var plan = PlanReader.Read(Encoding.UTF8.GetBytes(last.PlanJson), "plan");
        return before.IsOk
            && plan.IsOk
            && RunsAsLong(before.Value, day)
            && PlanReport.Happened(new PlannedDay(before.Value, plan.Value), day, LateS).Count == 0;
    }

    // What was read in an oven may say that its load has to stay in longer, and moves no piece.
    private static bool RunsAsLong(Day before, Day day) =>
        day.Running.Batches.SelectMany(b => b.Places).All(p => Window(before, p) == Window(day, p));

    private static (int Min, int? Max)? Window(Day day, Place place) =>
        day.Pieces.FirstOrDefault(p => p.Id == place.Piece)?.Route[place.Step - 1] is { } step ? (step.MinS, step.MaxS) : null;
}
