using ShopFloor.Domain.Workshop;

namespace ShopFloor.Domain.Tests.Workshop;

/// <summary>What may be said of a season on which day, and which dates cannot be.</summary>
public sealed class SeasonTests
{
    private static readonly Season Christmas = new("Christmas", new(2026, 12, 4), new(2026, 12, 23)) { German = "Weihnachten" };

    [Theory]
    [InlineData("2026-11-20", null, SeasonWord.Open)]
    [InlineData("2026-11-20", "2026-12-23", SeasonWord.InTime)]
    [InlineData("2026-12-04", "2026-12-23", SeasonWord.InTime)]
    [InlineData("2026-11-20", "2026-12-24", SeasonWord.TooLate)]
    [InlineData("2026-12-05", null, SeasonWord.Over)]
    [InlineData("2026-12-05", "2026-12-08", SeasonWord.Over)]
    [InlineData("2026-12-05", "2026-12-24", SeasonWord.OverAndTooLate)]
    public void Say_ByDayAndPromise_NeverInTimeAfterTheLastDay(string today, string? promised, SeasonWord said) =>
        Assert.Equal(said, Christmas.Say(Day(today), promised is null ? null : Day(promised)));

    [Theory]
    [InlineData("2026-10-08", false)]
    [InlineData("2026-10-09", true)]
    [InlineData("2026-12-23", true)]
    [InlineData("2026-12-24", false)]
    public void IsNear_EightWeeksBeforeTheLastDayUntilAllIsHandedOver(string today, bool near) =>
        Assert.Equal(near, Christmas.IsNear(Day(today)));

    [Fact]
    public void NameIn_GermanWhereThereIsOne()
    {
        Assert.Equal(("Weihnachten", "Christmas"), (Christmas.NameIn("de"), Christmas.NameIn("en")));
        Assert.Equal("Christmas", (Christmas with { German = "" }).NameIn("de"));
    }

    [Theory]
    [InlineData("", "2026-12-04", "2026-12-23", "Name")]
    [InlineData("Christmas", "2026-12-24", "2026-12-23", "LastDay")]
    [InlineData("Christmas", "2026-11-04", "2026-11-19", "HandOverBy")]
    [InlineData("Christmas", "2028-12-04", "2028-12-23", "HandOverBy")]
    [InlineData("Christmas", "2026-12-04", "2027-12-23", "LastDay")]
    public void Faults_DatesThatCannotBe_AreNamedAtTheirField(string name, string last, string by, string field) =>
        Assert.Equal(field, Assert.Single(new Season(name, Day(last), Day(by)).Faults(new(2026, 11, 20))).Field);

    [Fact]
    public void Faults_LastDayThatIsOverAlready_IsNone() => Assert.Empty(Christmas.Faults(new(2026, 12, 10)));

    private static DateOnly Day(string text) => DateOnly.ParseExact(text, "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
}
