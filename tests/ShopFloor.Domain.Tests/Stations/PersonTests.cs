using ShopFloor.Domain.Stations;

namespace ShopFloor.Domain.Tests.Stations;

/// <summary>What is wrong with somebody's hours is said with its day.</summary>
public sealed class PersonTests
{
    [Fact]
    public void Change_ShiftsOfADayOverlap_NamesTheDay()
    {
        IReadOnlyList<Shift> shifts =
        [
            new(DayOfWeek.Monday, new(8, 0), new(12, 0), new(12, 0)),
            new(DayOfWeek.Tuesday, new(8, 0), new(12, 0), new(12, 0)),
            new(DayOfWeek.Tuesday, new(11, 0), new(16, 0), new(16, 0)),
        ];
        var person = new Person(new(Guid.CreateVersion7()), "ada", "Ada", [StationKind.Bench], []);
        var refused = Assert.Single(person.Change("Ada", [StationKind.Bench], shifts, true).Refusals);
        Assert.Equal(("shift-overlap", "shifts"), (refused.Code, refused.Field));
        Assert.StartsWith("Tuesday: ", refused.Text, StringComparison.Ordinal);
    }
}
