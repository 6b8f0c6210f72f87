using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Office.Plans;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>The timeline shows everything that the plan holds, drawn so that it can be read.</summary>
public sealed class TimelineRowsTests
{
    private static readonly Day Day = DayMaker.Make(20, 3);
    private static readonly Plan Plan = DayPlanner.First(Day);

    private static IReadOnlyList<TimelineRow> Rows() =>
        TimelineRows.Of(
            Day,
            Plan,
            TimelineAxis.Of(Day, Plan, 0, 0),
            new PlanWords(new Dictionary<string, string> { [Day.People[0].Id] = "Someone" })
        );

    [Fact]
    public void Of_AnyPlan_KeepsEverySecondOfWorkAndNoTwoBarsOfALaneOverlap()
    {
        var rows = Rows();
        Assert.Equal(Day.People.Count + Day.Stations.Count, rows.Count);
        Assert.Equal("Someone", rows[0].Name);
        foreach (var (person, row) in Day.People.Zip(rows))
        foreach (var task in Plan.Tasks.Where(t => t.Person == person.Id))
            Assert.Contains(row.Bars, b => b.From <= task.StartS && b.To >= task.EndS);
        foreach (var lane in rows.SelectMany(r => r.Bars.GroupBy(b => (r.Name, b.Lane))))
        foreach (var (earlier, later) in lane.Zip(lane.Skip(1)))
            Assert.True(later.From >= earlier.To);
    }

    [Fact]
    public void Of_Rack_CountsThePiecesThatRestAtEachInstant()
    {
        var rack = Day.Stations.First(s => s.Kind == StationKind.Rack);
        var row = Rows()[Day.People.Count + Day.Stations.ToList().FindIndex(s => s.Id == rack.Id)];
        var rests = Plan.Tasks.Where(t => t.Station == rack.Id).ToArray();
        Assert.NotEmpty(rests);
        foreach (var (from, to, pieces) in row.Waiting)
            Assert.Equal(rests.Count(t => t.StartS <= from && t.EndS >= to), pieces);
        Assert.Equal(rests.Sum(t => (long)(t.EndS!.Value - t.StartS)), row.Waiting.Sum(w => (long)(w.To - w.From) * w.Pieces));
    }
}
