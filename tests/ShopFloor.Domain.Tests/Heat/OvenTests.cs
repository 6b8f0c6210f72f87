using CsCheck;
using ShopFloor.Domain.Heat;

namespace ShopFloor.Domain.Tests.Heat;

public sealed class OvenTests
{
    private static readonly ThermalProperties Aluminium = new(2800, 160, 880);
    private static readonly ThermalProperties Glass = new(2500, 1.0, 750);
    private static readonly CureRecipe Recipe = new(160, 15, 20, HeatBody.PlateBothFaces(Aluminium, 1));

    [Fact]
    public void WindowFor_ReferencePiece_IsTheRecipesOwn()
    {
        var window = OvenDwell.WindowFor(Recipe.Reference, Recipe, OvenSettings.Default).Value.Value;
        Assert.Equal(new DwellWindow(15, 20, 0), window);
    }

    [Fact]
    public void WindowFor_HeavierPiece_StartsAndEndsLaterByItsExtraHeatUp() =>
        // From 1.5 mm on, glass too stores more heat than 1 mm of aluminium.
        Gen.Select(Gen.Double[1.5, 20], Gen.Bool)
            .Sample(
                (mm, isGlass) =>
                {
                    var piece = HeatBody.PlateBothFaces(isGlass ? Glass : Aluminium, mm);
                    var window = OvenDwell.WindowFor(piece, Recipe, OvenSettings.Default).Value.Value;
                    Assert.True(window.ExtraMinutes > 0);
                    Assert.Equal(15 + window.ExtraMinutes, window.MinMinutes, 1e-9);
                    Assert.Equal(5, window.MaxMinutes - window.MinMinutes, 1e-9);
                },
                iter: 200
            );

    [Fact]
    public void WindowFor_LighterPiece_EndsEarlierSoThatItIsNotOverbaked()
    {
        var window = OvenDwell.WindowFor(HeatBody.PlateBothFaces(Aluminium, 0.5), Recipe, OvenSettings.Default).Value.Value;
        Assert.True(window.MaxMinutes < 20);
        Assert.True(window.MinMinutes is > OvenDwell.LeastMinutes and < 15);
    }

    // Incropera, Fundamentals of Heat and Mass Transfer, ch. 5, lumped, ρ·c·V/A·∫dT/(h·ΔT + ε·σ·ΔT⁴) from 20 to 155 °C: 1 mm of aluminium is hot 279.3 s
    // sooner than 3 mm at 15 W/(m²·K), 110.3 s sooner at 60 W/(m²·K). Baked 900 − 279.3 = 620.7 s it is done in the slow oven alone, the fast one needs
    // 789.7 s. 1200 − 279.3 = 920.7 s are the most in the slow one, which leaves less than half of the 300 s; 1500 − 279.3 = 1220.7 s leave more.
    [Theory]
    [InlineData(20, 790, 939)]
    [InlineData(25, 790, 1220)]
    public void WindowFor_LighterPieceAndSeveralOvens_IsLongEnoughInTheFastestToo(double longest, int min, int max)
    {
        var recipe = new CureRecipe(160, 15, longest, HeatBody.PlateBothFaces(Aluminium, 3));
        var ovens = new[] { OvenSettings.Default with { ConvectionWM2K = 15 }, OvenSettings.Default with { ConvectionWM2K = 60 } };
        var window = OvenDwell.WindowFor(HeatBody.PlateBothFaces(Aluminium, 1), recipe, ovens).Value;
        var (least, most) = window.Value.InWholeSeconds();
        Assert.Equal((min, max), (least, most));
        Assert.Contains(window.Why.Notes, n => n.Contains("any of 2 ovens", StringComparison.Ordinal));
    }

    [Fact]
    public void WindowFor_SeveralOvens_IsNeverShorterThanInOneOfThemNorNarrowerThanHalf() =>
        Gen.Select(Gen.Double[0.3, 20], Gen.Double[5, 80], Gen.Double[5, 80])
            .Sample(
                (mm, first, second) =>
                {
                    var piece = HeatBody.PlateBothFaces(Aluminium, mm);
                    var ovens = new[] { first, second }.Select(h => OvenSettings.Default with { ConvectionWM2K = h }).ToList();
                    var each = ovens.Select(o => OvenDwell.WindowFor(piece, Recipe, o).Value.Value).ToList();
                    var both = OvenDwell.WindowFor(piece, Recipe, ovens).Value.Value;
                    Assert.Equal(each.Max(w => w.MinMinutes), both.MinMinutes);
                    Assert.True(both.MaxMinutes <= each.Max(w => w.MaxMinutes) + 1e-9);
                    Assert.True(both.MaxMinutes >= Math.Max(both.MinMinutes + 2.5, each.Min(w => w.MaxMinutes)) - 1e-9);
                },
                iter: 100
            );

    [Fact]
    public void WindowFor_ImpossibleNumbers_AreRefusedAtTheirFields()
    {
        var recipe = Recipe with { CureCelsius = double.NaN, MinMinutes = 20, MaxMinutes = 15 };
        var answer = OvenDwell.WindowFor(HeatBody.PlateBothFaces(Aluminium, -1), recipe, OvenSettings.Default with { HeaterWatts = 0 });
        Assert.False(answer.IsOk);
        Assert.Equal(
            ["CureCelsius", "DepthMetres", "HeaterWatts", "MaxMinutes"],
            answer.Refusals.Select(r => r.Field ?? "").Order(StringComparer.Ordinal)
        );
    }

    [Fact]
    public void Meets_TwoWindows_IsSymmetricAndMeansOneDwellSuitsBoth() =>
        Gen.Select(Gen.Double[1, 40], Gen.Double[0, 10], Gen.Double[1, 40], Gen.Double[0, 10])
            .Sample(
                (a, aWide, b, bWide) =>
                {
                    var (first, second) = (new DwellWindow(a, a + aWide, 0), new DwellWindow(b, b + bWide, 0));
                    Assert.Equal(first.Meets(second), second.Meets(first));
                    Assert.Equal(first.Meets(second), Math.Max(a, b) <= Math.Min(a + aWide, b + bWide));
                }
            );

    [Fact]
    public void InWholeSeconds_RoundsInwardButNeverUpsideDown()
    {
        Assert.Equal((901, 1200), new DwellWindow(15.001, 20.001, 0).InWholeSeconds());
        Assert.Equal((901, 901), new DwellWindow(15.001, 15.002, 0).InWholeSeconds());
    }

    [Fact]
    public void FromReadings_ReadingsMadeWithAKnownCoefficient_GivesItBack() =>
        Gen.Select(Gen.Double[5, 80], Gen.Double[8, 20], Gen.Double[0.05, 0.3])
            .Sample(
                (coefficient, mm, emissivity) =>
                {
                    var block = HeatBody.PlateBothFaces(Aluminium, mm);
                    var seconds = LumpedModel.SecondsTo(block, Surroundings.Oven(160, coefficient, emissivity), 60, 120);
                    var found = OvenCoefficient.FromReadings(new BlockReadings(block, 160, 60, 120, seconds, emissivity)).Value;
                    Assert.Equal(coefficient, found.Value, 1e-6);
                },
                iter: 100
            );

    [Theory]
    [InlineData(120, 60, 600, "readings-not-rising")]
    [InlineData(60, 170, 600, "reading-over-oven")]
    [InlineData(60, 120, 20000, "no-coefficient-fits")]
    [InlineData(60, 120, 1, "number-out-of-range")]
    public void FromReadings_ImpossibleReadings_AreRefused(double first, double second, double seconds, string code)
    {
        var block = HeatBody.PlateBothFaces(Aluminium, 15);
        var answer = OvenCoefficient.FromReadings(new BlockReadings(block, 160, first, second, seconds, 0.1));
        Assert.Contains(answer.Refusals, r => r.Code == code);
    }

    [Fact]
    public void FromReadings_GlassBlock_IsRefused()
    {
        var block = HeatBody.PlateBothFaces(Glass, 20);
        var seconds = LumpedModel.SecondsTo(block, Surroundings.Oven(160, 20, 0.9), 60, 120);
        Assert.Equal(
            "block-too-thick",
            OvenCoefficient.FromReadings(new BlockReadings(block, 160, 60, 120, seconds, 0.9)).Refusals[0].Code
        );
    }

    [Fact]
    public void SetPointCelsius_ShowsTooMuch_IsSetHigher()
    {
        var oven = OvenSettings.Default with { ErrorKelvin = 8 };
        Assert.Equal(168, oven.SetPointCelsius(160).Value.Value);
        Assert.False(oven.SetPointCelsius(double.NaN).IsOk);
    }

    [Fact]
    public void LoadHeat_MoreMass_NeverFaster() =>
        Gen.Select(Gen.Double[0.1, 20], Gen.Double[0.1, 20])
            .Sample(
                (first, second) =>
                {
                    LoadMass[] one = [new(first, 880)];
                    LoadMass[] two = [new(first, 880), new(second, 500)];
                    var less = OvenLoadHeat.For(one, 160, OvenSettings.Default).Value.Value;
                    var more = OvenLoadHeat.For(two, 160, OvenSettings.Default).Value.Value;
                    var added = OvenLoadHeat.For([new(second, 500)], 160, OvenSettings.Default).Value.Value;
                    Assert.True(more.LeastMinutes > less.LeastMinutes);
                    Assert.Equal(less.EnergyKilojoules + added.EnergyKilojoules, more.EnergyKilojoules, 1e-9);
                }
            );

    [Fact]
    public void TimeTo_TouchAfterThePress_IsLongerThanToPartCool()
    {
        var piece = HeatBody.PlateOneFace(Glass, 4);
        var touch = Cooling.TimeTo(piece, 190, Cooling.TouchCelsius).Value.Value.Seconds;
        var part = Cooling.TimeTo(piece, 190, 60).Value.Value.Seconds;
        Assert.True(touch > part);
        Assert.InRange(touch / 60, 10, 60);
    }

    [Fact]
    public void TimeTo_RoomAsWarmAsTheGoal_IsRefusedInPlainWords()
    {
        var answer = Cooling.TimeTo(HeatBody.PlateOneFace(Glass, 4), 190, Cooling.TouchCelsius, 35);
        Assert.Equal("target-never-reached", answer.Refusals[0].Code);
        Assert.Contains("35", answer.Refusals[0].Text, StringComparison.Ordinal);
    }
}
