using ShopFloor.Web.Shared.Layouts;

namespace ShopFloor.Web.Tests.Look;

/// <summary>
/// Height of capitals against ISO 9241-303 as quoted in public articles: at least 16, preferred 20 to 22 minutes of arc at the farthest place.
/// The millimetres are the angle's own geometry.
/// </summary>
public sealed class WallLettersTests
{
    [Theory]
    [InlineData(3, 17.5, 19.2)]
    [InlineData(4, 23.3, 25.6)]
    public void For_Distance_CapitalsAreWithinThePreferredHeight(double metres, double least, double most) =>
        Assert.InRange(WallLetters.For(55, metres).CapitalMm, least, most);

    [Theory]
    [InlineData(55, 52, 58)]
    [InlineData(43, 67, 74)]
    public void For_ScreenOf1920PixelsAtFourMetres_LettersAreSoManyPixels(double inch, double least, double most) =>
        Assert.InRange(WallLetters.For(inch, 4).ShareOfWidth * 1920, least, most);

    [Theory]
    [InlineData(0, 0)]
    [InlineData(1e9, -5)]
    public void For_AbsurdSettings_StayWithinTheEnds(double inch, double metres) =>
        Assert.InRange(WallLetters.For(inch, metres).ShareOfWidth, 0.0005, 1);

    [Fact]
    public void FontShare_InAnyCulture_HasAPoint()
    {
        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
        Assert.Matches(@"^\d+\.\d+vw$", WallLetters.For(43, 4).FontShare);
    }
}
