using CsCheck;
using ShopFloor.Domain.Heat;

namespace ShopFloor.Domain.Tests.Heat;

public sealed class HeatLawTests
{
    private static readonly Gen<ThermalProperties> Materials = Gen.OneOf(
        new ThermalProperties(2800, 160, 880),
        new ThermalProperties(7900, 17, 460),
        new ThermalProperties(2500, 1.0, 750),
        new ThermalProperties(2300, 1.3, 840),
        new ThermalProperties(700, 0.18, 1600)
    );

    private static readonly Gen<HeatShape> Shapes = Gen.Enum<HeatShape>();

    private static readonly Gen<Surroundings> Ovens = Gen.Select(
        Gen.Double[120, 220],
        Gen.Double[5, 60],
        Gen.Double[0, 1],
        (celsius, h, emissivity) => Surroundings.Oven(celsius, h, emissivity)
    );

    [Fact]
    public void Time_ThickerPiece_NeverShorterWhicheverModelIsPicked() =>
        Gen.Select(Materials, Shapes, Ovens, Gen.Double[0.2, 40], Gen.Double[1.001, 3])
            .Sample(
                (material, shape, oven, mm, factor) =>
                {
                    var target = oven.AirCelsius - 5;
                    var thin = HeatUp.Time(new HeatBody(material, shape, mm / 1000), oven, 20, target);
                    var thick = HeatUp.Time(new HeatBody(material, shape, mm * factor / 1000), oven, 20, target);
                    return thick.Seconds > thin.Seconds;
                },
                iter: 2000
            );

    [Fact]
    public void Time_Cooling_ThickerPieceNeverShorter() =>
        Gen.Select(Materials, Gen.Double[0.5, 30], Gen.Double[1.001, 3])
            .Sample(
                (material, mm, factor) =>
                {
                    var room = Surroundings.StillAir(20);
                    var thin = HeatUp.Time(HeatBody.PlateBothFaces(material, mm), room, 190, 35);
                    var thick = HeatUp.Time(HeatBody.PlateBothFaces(material, mm * factor), room, 190, 35);
                    return thick.Seconds > thin.Seconds;
                },
                iter: 500
            );

    [Fact]
    public void Time_HigherTarget_TakesLonger() =>
        Gen.Select(Materials, Shapes, Ovens, Gen.Double[0.5, 40], Gen.Double[0.05, 0.9], Gen.Double[0.01, 0.09])
            .Sample(
                (material, shape, oven, mm, share, more) =>
                {
                    var body = new HeatBody(material, shape, mm / 1000);
                    double Seconds(double s) => HeatUp.Time(body, oven, 20, 20 + ((oven.AirCelsius - 20) * s)).Seconds;
                    return Seconds(share + more) > Seconds(share);
                },
                iter: 1000
            );

    [Fact]
    public void SecondsTo_ConvectionOnly_IsTheClosedForm() =>
        Gen.Select(Materials, Gen.Double[0.1, 20], Gen.Double[5, 100], Gen.Double[0.01, 0.99])
            .Sample(
                (material, mm, h, share) =>
                {
                    var body = HeatBody.PlateBothFaces(material, mm);
                    var target = 20 + (140 * share);
                    var closed = body.HeatPerSquareMetreJK / h * Math.Log(140 / (160 - target));
                    Assert.Equal(closed, LumpedModel.SecondsTo(body, Surroundings.Oven(160, h, 0), 20, target), closed * 1e-9);
                }
            );

    [Fact]
    public void SecondsTo_InTwoParts_AddsUp() =>
        Gen.Select(Materials, Ovens, Gen.Double[0.1, 0.5], Gen.Double[0.1, 0.45])
            .Sample(
                (material, oven, first, second) =>
                {
                    var body = HeatBody.PlateBothFaces(material, 3);
                    var (middle, end) = (20 + (100 * first), 20 + (100 * (first + second)));
                    var whole = LumpedModel.SecondsTo(body, oven, 20, end);
                    var parts = LumpedModel.SecondsTo(body, oven, 20, middle) + LumpedModel.SecondsTo(body, oven, middle, end);
                    Assert.Equal(whole, parts, whole * 1e-6);
                }
            );

    [Fact]
    public void CelsiusAfter_SecondsTo_RoundTrips() =>
        Gen.Select(Materials, Ovens, Gen.Double[0.2, 20], Gen.Double[0.02, 0.98])
            .Sample(
                (material, oven, mm, share) =>
                {
                    var body = HeatBody.PlateBothFaces(material, mm);
                    var target = 20 + ((oven.AirCelsius - 20) * share);
                    var seconds = LumpedModel.SecondsTo(body, oven, 20, target);
                    Assert.Equal(target, LumpedModel.CelsiusAfter(body, oven, 20, seconds), 1e-5);
                },
                iter: 200
            );

    [Fact]
    public void MiddleCelsiusAfter_TimeTo_RoundTripsForBothModels() =>
        Gen.Select(Materials, Shapes, Gen.Double[1, 40], Gen.Double[0.1, 0.95])
            .Sample(
                (material, shape, mm, share) =>
                {
                    var body = new HeatBody(material, shape, mm / 1000);
                    // Without radiation the mean coefficient is the same for every target, so that the way back is exact.
                    var oven = Surroundings.Oven(160, 30, 0);
                    var target = 20 + (140 * share);
                    var time = HeatUp.TimeTo(body, oven, 20, target).Value.Value;
                    Assert.Equal(target, HeatUp.MiddleCelsiusAfter(body, oven, 20, time.Seconds).Value, 1e-4);
                },
                iter: 40
            );

    [Theory]
    [InlineData(2, HeatModel.Lumped)]
    [InlineData(40, HeatModel.Series)]
    public void TimeTo_BiotNumber_PicksTheModelAndSaysWhich(double glassMm, HeatModel model)
    {
        var glass = new ThermalProperties(2500, 1.0, 750);
        var answer = HeatUp.TimeTo(HeatBody.PlateBothFaces(glass, glassMm), Surroundings.Oven(160, 15), 20, 155).Value;
        Assert.Equal(model, answer.Value.Model);
        Assert.Equal(answer.Value.Biot < 0.1, model == HeatModel.Lumped);
        Assert.True(answer.Why.IsEstimate);
    }

    [Fact]
    public void TimeTo_SmallBiotNumber_SeriesAndLumpedMeet() =>
        Gen.Select(Shapes, Gen.Double[0.001, 0.01])
            .Sample(
                (shape, biot) =>
                {
                    // One metre deep, k = 1: the Biot number with the full depth is then h itself.
                    var body = new HeatBody(new ThermalProperties(1, 1, 1), shape, 1);
                    var lumped = LumpedModel.SecondsTo(body, Surroundings.Oven(100, biot, 0), 0, 90);
                    var series = new TransientSeries(shape, biot).FourierAtMiddle(0.1);
                    Assert.Equal(1, series / lumped, 0.01);
                },
                iter: 100
            );

    [Fact]
    public void Remaining_MeanOverTheBody_IsTheHeatThatCrossedTheSurface() =>
        Gen.Select(Shapes, Gen.Double[0.1, 20], Gen.Double[0.02, 2])
            .Sample(
                (shape, biot, fourier) =>
                {
                    // d(mean)/dFo = −Bi · surface · (1, 2 or 3 for plate, cylinder, ball).
                    var series = new TransientSeries(shape, biot, 80);
                    const double Step = 1e-6;
                    var slope = (series.RemainingMean(fourier + Step) - series.RemainingMean(fourier - Step)) / (2 * Step);
                    var surface = biot * series.Remaining(fourier, 1) * (1 + (int)shape);
                    Assert.Equal(-surface, slope, Math.Max(1e-6, surface * 1e-3));
                },
                iter: 200
            );

    [Theory]
    [InlineData(0.0, 1.0, 0.0)]
    [InlineData(1.0, 0.7651976866, 0.4400505857)]
    [InlineData(5.0, -0.1775967713, -0.3275791376)]
    [InlineData(10.0, -0.2459357645, 0.0434727462)]
    public void Bessel_TabledValue_Agrees(double x, double j0, double j1)
    {
        // Abramowitz and Stegun, Table 9.1, from memory.
        Assert.Equal(j0, Bessel.J0(x), 1e-9);
        Assert.Equal(j1, Bessel.J1(x), 1e-9);
    }

    [Fact]
    public void ErrorFunction_BothForms_MeetAndComplement() =>
        Gen.Double[-5, 5].Sample(x => Assert.Equal(1, ErrorFunction.Erf(x) + ErrorFunction.Erfc(x), 1e-12));

    [Fact]
    public void ErrorFunction_Scaled_IsTheProductWhileThatCanBeWrittenDown() =>
        Gen.Double[0, 20].Sample(x => Assert.Equal(1, Math.Exp(x * x) * ErrorFunction.Erfc(x) / ErrorFunction.ScaledErfc(x), 1e-9));

    // h 500 W/(m²·K), k 0.2 W/(m·K), α 1e-7 m²/s, 3600 s: h·√(α·t)/k = 47.43, and exp(x²)·erfc(x) = (1 − 1/2x² + 3/4x⁴)/(x·√π) = 0.011892 (Abramowitz and
    // Stegun 7.1.23): the face has come 0.98811 of the way. A centimetre deep it is erfc(0.2635) less exp(−0.2635²) times that of 47.70.
    [Theory]
    [InlineData(0, 0.988109)]
    [InlineData(0.01, 0.698356)]
    public void CelsiusConvection_LargeBiotNumber_IsNearlyTheFluids(double depthMetres, double share)
    {
        var plastic = new ThermalProperties(1000, 0.2, 2000);
        Assert.Equal(share, SemiInfinite.CelsiusConvection(plastic, 0, 1, 500, depthMetres, 3600), 1e-5);
    }

    [Fact]
    public void EquivalentBake_ThereAndBack_IsTheSameBake() =>
        Gen.Select(Gen.Double[5, 60], Gen.Double[120, 200], Gen.Double[120, 200], Gen.Double[40, 100])
            .Sample(
                (minutes, at, other, energy) =>
                {
                    var there = minutes / EquivalentBake.RateFactor(at, other, energy);
                    Assert.Equal(minutes, there / EquivalentBake.RateFactor(other, at, energy), 1e-9);
                    Assert.Equal(other > at, there < minutes);
                }
            );
}
