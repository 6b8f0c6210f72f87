using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Domain.Tests.Stations;

public sealed class HeatReachTests
{
    private static readonly OvenSettings Low = new() { LowestCelsius = 50, HighestCelsius = 120 };
    private static readonly OvenSettings High = new() { LowestCelsius = 150, HighestCelsius = 230 };

    private static RecipeStep Cure(decimal celsius) => new(1, StepKind.Cure) { Celsius = celsius };

    [Theory]
    [InlineData(50)]
    [InlineData(120)]
    [InlineData(150)]
    [InlineData(230)]
    public void Missed_WithinOneOven_IsNone(int celsius) => Assert.Null(HeatReach.Missed(Cure(celsius), [Low, High]));

    [Theory]
    [InlineData(49)]
    [InlineData(130)]
    [InlineData(231)]
    public void Missed_OutsideOfEach_SaysWhatTheyReachTogether(int celsius) =>
        Assert.Equal(new HeatReach(50, 230), HeatReach.Missed(Cure(celsius), [Low, High]));

    /// <summary>An oven that shows 10 °C too much holds 220 °C at most.</summary>
    [Fact]
    public void Missed_ByTheOvensError_CountsTrueTemperatures() =>
        Assert.Equal(new HeatReach(140, 220), HeatReach.Missed(Cure(225), [High with { ErrorCelsius = 10 }]));

    [Fact]
    public void Missed_WhereThereIsNoSuchStation_IsNone() =>
        Assert.Null(HeatReach.Missed(new RecipeStep(1, StepKind.Press) { Celsius = 900 }, [Low]));

    /// <summary>A plate is not pressed round a wrap press, however hot that gets, nor a cup under a flat one.</summary>
    [Theory]
    [InlineData(220, 180, Form.Flat, null)]
    [InlineData(220, 180, Form.Cylinder, 180)]
    [InlineData(180, 220, Form.Flat, 180)]
    [InlineData(180, 220, Form.Cylinder, null)]
    public void Missed_ByAForm_CountsThePressesThatTakeItAlone(int flat, int wrap, Form form, int? highest)
    {
        PressSettings Press(int celsius) => new() { LowestCelsius = 100, HighestCelsius = celsius };
        StationSettings[] presses = [Press(flat), Press(wrap) with { Wrap = WrapFit.Usual }];
        var step = new RecipeStep(1, StepKind.Press) { Celsius = 200 };
        Assert.Null(HeatReach.Missed(step, presses));
        Assert.Equal(highest, (int?)HeatReach.Missed(step, presses, form)?.Highest);
    }
}
