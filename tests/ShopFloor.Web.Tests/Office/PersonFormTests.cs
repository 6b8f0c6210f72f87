using ShopFloor.Web.Office.People;

namespace ShopFloor.Web.Tests.Office;

public sealed class PersonFormTests
{
    [Fact]
    public void WeekAsMonday_CopiesToTheWorkingDaysOnly()
    {
        var form = new PersonForm(null) { Code = "ada", Name = "Ada" };
        var monday = form.Days[0];
        (monday.From, monday.To, monday.From2, monday.To2, monday.Overtime) = ("08:00", "12:00", "12:45", "16:30", "18:00");
        form.Days[1].From = "09:00";
        form.WeekAsMonday();
        var shifts = form.Read().Value.Shifts;
        Assert.Equal(10, shifts.Count);
        Assert.DoesNotContain(shifts, s => s.Day is DayOfWeek.Saturday or DayOfWeek.Sunday);
        foreach (var day in shifts.GroupBy(s => s.Day))
            Assert.Equal(
                [(new TimeOnly(8, 0), new TimeOnly(12, 0)), (new TimeOnly(12, 45), new TimeOnly(18, 0))],
                day.Select(s => (s.From, s.To))
            );
    }
}
