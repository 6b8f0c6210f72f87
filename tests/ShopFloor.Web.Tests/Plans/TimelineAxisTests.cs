using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Office.Plans;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>The axis of the drawing: working hours to scale, closed ones as a gap.</summary>
public sealed class TimelineAxisTests
{
    private const int Hour = 3_600;

    // Twenty minutes past an hour now; work from the next 9:00 to 17:00 and again the day after.
    private static readonly Day Day = DayMaker.Make(2, 1) with
    {
        People = [new Person("ada", [StationKind.Bench], [Shift(10, 18), Shift(34, 42)])],
    };
    private static readonly Plan Empty = DayPlanner.First(Day with { Pieces = [] });

    private static Shift Shift(int from, int to) => new((from * Hour) - 1_200, (to * Hour) - 1_200, (to * Hour) - 1_200 + Hour);

    [Fact]
    public void Of_TwoDays_ShowsElevenWorkingHoursAndLeavesTheNightOut()
    {
        var axis = TimelineAxis.Of(Day, Empty, -1_200, 0);
        Assert.Equal([((10 * Hour) - 1_200, (18 * Hour) - 1_200), ((34 * Hour) - 1_200, (37 * Hour) - 1_200)], axis.Open);
        Assert.Equal((-1_200, 11 * Hour), (axis.From, axis.OpenS));
        Assert.Equal([true, true], axis.Ticks.Where(t => t.AfterGap).Select(t => t.AfterGap));
        Assert.Equal(9 + 4, axis.Ticks.Count());
    }

    [Fact]
    public void At_EverySecond_NeverGoesBackAndClosedHoursTakeLittle()
    {
        var axis = TimelineAxis.Of(Day, Empty, -1_200, 0);
        var places = Enumerable.Range(0, (axis.To - axis.From) / 60 + 1).Select(m => axis.At(axis.From + (m * 60))).ToList();
        Assert.Equal((0, 1), (places[0], Math.Round(places[^1], 9)));
        Assert.All(places.Zip(places.Skip(1)), p => Assert.True(p.Second >= p.First));
        Assert.Equal(TimelineAxis.Gap, axis.At(axis.Open[0].From), 9);
        var hour = axis.At(axis.Open[0].From + Hour) - axis.At(axis.Open[0].From);
        Assert.Equal(hour, axis.At(axis.Open[1].From + Hour) - axis.At(axis.Open[1].From), 9);
    }

    [Fact]
    public void Of_SkippedHours_BeginsWhereThatMuchWorkIsPast()
    {
        var axis = TimelineAxis.Of(Day, Empty, -1_200, 10);
        Assert.Equal((36 * Hour) - 1_200, axis.From);
        Assert.Equal(0, axis.At(axis.From));
    }

    [Fact]
    public void Of_NobodyEverThere_IsElevenHoursFromNow()
    {
        var axis = TimelineAxis.Of(Day with { People = [] }, Empty, 0, 0);
        Assert.Equal((0, 11 * Hour), (axis.From, axis.To));
    }
}
