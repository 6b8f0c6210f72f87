using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Domain.Tests.Stations;

/// <summary>Which sizes ovens and presses take.</summary>
public sealed class SizeReachTests
{
    private static readonly OvenSettings Oven = new() { Shelves = [new Shelf(Mm(420), Mm(340), Mm(90))], Margin = Mm(10) };

    private static readonly PressSettings Press = new()
    {
        Width = Mm(400),
        Depth = Mm(500),
        Margin = Mm(10),
        Thickest = Mm(25),
    };

    [Theory]
    [InlineData(400, 320, 25, null)]
    [InlineData(320, 400, 25, null)]
    [InlineData(401, 320, 5, true)]
    [InlineData(330, 330, 5, true)]
    [InlineData(100, 100, 26, false)]
    [InlineData(0, 0, 0, null)]
    public void Missed_ASize_IsWhatTakesLeast(int width, int height, int thick, bool? inOven) =>
        Assert.Equal(inOven, SizeReach.Missed(Piece(width, height, thick), Reaches(Oven, Press))?.InOven);

    [Fact]
    public void Missed_TooLargeForBoth_NamesTheSmaller() =>
        Assert.Equal(new SizeReach(true, Mm(400), Mm(320), Mm(90)), SizeReach.Missed(Piece(900, 900, 1), Reaches(Oven, Press)));

    [Fact]
    public void Missed_DiscCylinderOrNoStation_AreJudgedAsTheyLie()
    {
        var disc = Piece(330, 0, 3) with { Face = FaceShape.Disc };
        Assert.True(SizeReach.Missed(disc, Reaches(Oven, Press))!.InOven);
        Assert.Null(SizeReach.Missed(Piece(900, 900, 1) with { Form = Form.Cylinder }, Reaches(Oven, Press)));
        Assert.Null(SizeReach.Missed(Piece(900, 900, 1), Reaches(new BenchSettings(1), Press with { Wraps = true })));
    }

    private static IEnumerable<SizeReach> Reaches(params StationSettings[] stations) => stations.SelectMany(SizeReach.Of);

    private static PieceDescription Piece(int width, int height, int thick) =>
        new()
        {
            Material = "al",
            Width = Mm(width),
            Height = Mm(height),
            Thickness = Mm(thick),
        };

    private static Length Mm(decimal millimetres) => Length.FromMillimetres(millimetres);
}
