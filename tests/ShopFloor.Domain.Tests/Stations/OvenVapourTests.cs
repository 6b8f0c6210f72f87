using System.Text.Json;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Domain.Tests.Stations;

/// <summary>
/// The one limit of solvent in a load. 15 g of an unknown mix in a cubic metre: Swiss ordinance 832.312.17. 60 l take 0.9 g; 20 m³/h bring
/// 1.667 m³ in the 5 min in which the solvent leaves (common practice, no source), and those take 25 g.
/// </summary>
public sealed class OvenVapourTests
{
    [Theory]
    [InlineData(null, null, 0.9, "60 l of air, no fresh air known")]
    [InlineData(0.0, null, 0.9, "60 l of air, no fresh air known")]
    [InlineData(0.0, 20.0, 0.9, "60 l of air, no fresh air known")]
    [InlineData(0.0, 0.5, 0.5, "the owner's own limit")]
    [InlineData(20.0, null, 25, "20 m³/h of fresh air")]
    [InlineData(20.0, 20.0, 20, "the owner's own limit")]
    [InlineData(20.0, 25.0, 25, "20 m³/h of fresh air")]
    public void Limit_IsTheLowerOfAirAndOwnFigure(double? air, double? own, double grams, string reason)
    {
        var oven = new OvenSettings
        {
            VolumeLitres = 60,
            FreshAir = (decimal?)air,
            VapourLimitGrams = (decimal?)own,
        };
        Assert.Equal(((decimal)grams, reason), (OvenVapour.Limit(oven).Value, OvenVapour.Reason(oven)));
    }

    [Fact]
    public void Limit_OfAFraction_IsRoundedDownToTheMilligram() =>
        Assert.Equal(0.004m, OvenVapour.Limit(new OvenSettings { VolumeLitres = 60, VapourLimitGrams = 0.0049m }).Value);

    [Fact]
    public void Settings_KeptBeforeThereWasFreshAir_HaveNone() =>
        Assert.Equal(
            0.9m,
            OvenVapour.Limit((OvenSettings)JsonSerializer.Deserialize<StationSettings>("""{"kind":"oven","VolumeLitres":60}""")!).Value
        );

    [Theory]
    [InlineData(-0.1, "freshAir")]
    [InlineData(2000.1, "freshAir")]
    [InlineData(0, null)]
    [InlineData(2000, null)]
    public void Faults_FreshAirThatCannotBe_IsRefusedBesideItsField(double air, string? field)
    {
        var oven = new OvenSettings { Shelves = [new Shelf(Mm(400), Mm(300), Mm(90))], FreshAir = (decimal)air };
        Assert.Equal(field, oven.Faults().Select(f => f.Field).SingleOrDefault());
    }

    private static Quantities.Length Mm(decimal mm) => Quantities.Length.FromMillimetres(mm);
}
