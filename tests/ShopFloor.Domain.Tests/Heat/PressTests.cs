using CsCheck;
using ShopFloor.Domain.Heat;

namespace ShopFloor.Domain.Tests.Heat;

public sealed class PressTests
{
    private static readonly ThermalProperties Aluminium = new(2800, 160, 880);
    private static readonly ThermalProperties Glass = new(2500, 1.0, 750);
    private static readonly ThermalProperties Tile = new(2300, 1.3, 840);

    [Fact]
    public void For_TheTwoAnchors_AreTheCommonSettings()
    {
        // Metal sheet 60 s and thin glass 240 s at 190 °C: common practice, no source.
        Assert.Equal(60, PressDwell.For(Aluminium, 1, HeatedSide.Print, PlatenSettings.Default).Value.Value.Seconds, 1e-6);
        Assert.Equal(240, PressDwell.For(Glass, 3, HeatedSide.Piece, PlatenSettings.Default).Value.Value.Seconds, 1e-6);
    }

    [Fact]
    public void For_ThickerPieceHeatedThrough_TakesLonger() =>
        Gen.Select(Gen.OneOf(Aluminium, Glass, Tile), Gen.Double[1, 8], Gen.Double[1.05, 1.5])
            .Sample(
                (material, mm, factor) =>
                {
                    var thin = PressDwell.For(material, mm, HeatedSide.Piece, PlatenSettings.Default).Value.Value;
                    var thick = PressDwell.For(material, mm * factor, HeatedSide.Piece, PlatenSettings.Default).Value.Value;
                    return thick.Seconds > thin.Seconds;
                },
                iter: 20
            );

    [Fact]
    public void For_AnyPiece_IsAnEstimateThatAsksForATestPiece()
    {
        var answer = PressDwell.For(Tile, 8, HeatedSide.Print, PlatenSettings.Default).Value;
        Assert.True(answer.Why.IsEstimate);
        Assert.Contains("test piece", string.Join(' ', answer.Why.Notes), StringComparison.Ordinal);
        Assert.InRange(answer.Value.FarSideCelsius, 20, 190);
    }

    [Fact]
    public void For_BothSidesHeated_IsNotSlowerThanThroughThePiece()
    {
        var both = PressDwell.HeatUpSeconds(Glass, 6, HeatedSide.Both, PlatenSettings.Default);
        var through = PressDwell.HeatUpSeconds(Glass, 6, HeatedSide.Piece, PlatenSettings.Default);
        Assert.True(both < through);
    }

    [Fact]
    public void For_TooThickToHeatThrough_IsRefused()
    {
        var wood = new ThermalProperties(700, 0.18, 1600);
        Assert.Equal("press-too-weak", PressDwell.For(wood, 40, HeatedSide.Piece, PlatenSettings.Default).Refusals[0].Code);
    }

    [Theory]
    [InlineData(double.NaN, 190)]
    [InlineData(-3, 190)]
    [InlineData(3, double.PositiveInfinity)]
    public void For_ImpossibleNumbers_AreRefused(double mm, double celsius) =>
        Assert.False(PressDwell.For(Glass, mm, HeatedSide.Piece, PlatenSettings.Default with { SetCelsius = celsius }).IsOk);

    [Fact]
    public void Step_InsulatedStack_KeepsItsHeatAndEvensOut() =>
        Gen.Double[10, 200]
            .Array[32]
            .Sample(
                start =>
                {
                    var stack = new PressStack(
                        [new StackLayer("upper", Aluminium, 1), new StackLayer("lower", Glass, 3)],
                        default,
                        default
                    );
                    var celsius = start;
                    for (var i = 0; i < 50; i++)
                    {
                        celsius = stack.Step(celsius, 5);
                    }

                    Assert.Equal(stack.HeatJM2(start), stack.HeatJM2(celsius), stack.HeatJM2(start) * 1e-9);
                    Assert.Equal(celsius[0], celsius[^1], 0.01);
                },
                iter: 50
            );

    [Fact]
    public void Step_HeatPushedIn_IsAllStored()
    {
        var stack = new PressStack([new StackLayer("glass", Glass, 4)], new StackEnd(0, 0, 1000), default);
        var celsius = stack.AllAt(20);
        var before = stack.HeatJM2(celsius);
        for (var i = 0; i < 10; i++)
        {
            celsius = stack.Step(celsius, 6);
        }

        Assert.Equal(60_000, stack.HeatJM2(celsius) - before, 1e-3);
    }

    [Fact]
    public void Step_OneLayerInAir_AgreesWithTheExactSeries()
    {
        // A plate heated through one face, the other insulated, is half of a plate heated through both.
        const double Coefficient = 100;
        var stack = new PressStack([new StackLayer("glass", Glass, 10)], new StackEnd(160, Coefficient), default, cellsPerLayer: 200);
        var series = new TransientSeries(HeatShape.Plate, Coefficient * 0.010 / Glass.ConductivityWMK);
        var celsius = stack.AllAt(20);
        for (var i = 1; i <= 100; i++)
        {
            celsius = stack.Step(celsius, 5);
            if (i % 20 == 0)
            {
                var fourier = Glass.DiffusivityM2S * i * 5 / (0.010 * 0.010);
                Assert.Equal(160 - (140 * series.Remaining(fourier, 0)), celsius[^1], 0.1);
            }
        }
    }

    [Fact]
    public void Step_ThickSteelFaceHeld_AgreesWithThePublishedExample()
    {
        // Holman, Heat Transfer, Ex. 4.2 A: 118.5 °C at 2.5 cm after 30 s, the layer cut there.
        var steel = new ThermalProperties(1, 45, 45 / 1.4e-5);
        var stack = new PressStack(
            [new StackLayer("upper", steel, 25), new StackLayer("lower", steel, 175)],
            new StackEnd(250, 1e9),
            default,
            cellsPerLayer: 200
        );
        var celsius = stack.AllAt(35);
        for (var i = 0; i < 300; i++)
        {
            celsius = stack.Step(celsius, 0.1);
        }

        Assert.Equal(118.5, stack.Below(celsius, 0), 0.2);
    }
}
