using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Intake;

namespace ShopFloor.Web.Tests.Counter;

public sealed class WordingsTests
{
    /// <summary>Recipes press at other temperatures too, and what was accepted is kept without a number: so it names none.</summary>
    [Fact]
    public void Risk_ThatACustomerAccepts_NamesNoTemperature()
    {
        Assert.DoesNotContain(Wordings.Risk, char.IsDigit);
        Assert.NotEqual("2026-11", BookOrder.WordingVersion);
    }
}
