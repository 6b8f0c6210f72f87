using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Domain.Tests.Stations;

/// <summary>How a press may be built: so that a piece's time can be told.</summary>
public sealed class PressNumbersTests
{
    [Theory]
    [InlineData(1000, 0.15, null)]
    [InlineData(500, 0.15, null)]
    [InlineData(80, 0.15, "press-settings-odd")]
    [InlineData(50, 0.15, "press-settings-odd")]
    [InlineData(1000, 5, "press-settings-odd")]
    [InlineData(49, 0.15, "out-of-range")]
    public void Faults_NumbersByWhichNothingGetsHotInTime_AreSaidAtTheContact(int contact, double paper, string? code)
    {
        var press = new PressSettings
        {
            Width = Length.FromMillimetres(400),
            Depth = Length.FromMillimetres(500),
            Thickest = Length.FromMillimetres(25),
            ContactWM2K = contact,
            PaperMillimetres = (decimal)paper,
        };
        Assert.Equal(code is null ? [] : [code], press.Faults().Select(f => f.Code));
        Assert.All(press.Faults(), f => Assert.Equal("contact", f.Field));
    }
}
