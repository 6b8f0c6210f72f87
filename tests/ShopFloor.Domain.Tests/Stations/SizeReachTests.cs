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
        Assert.Null(SizeReach.Missed(Piece(900, 900, 1), Reaches(new BenchSettings(1), Wrap)));
    }

    // It stands in the oven on its end: 82 mm across, 95 mm high.
    [Theory]
    [InlineData(82, 80, null)]
    [InlineData(82, 95, true)]
    [InlineData(60, 80, false)]
    [InlineData(100, 80, false)]
    [InlineData(350, 80, true)]
    [InlineData(0, 0, null)]
    public void Missed_ACylinder_StandsOnItsEndAndFitsTheWrapPress(int across, int high, bool? inOven)
    {
        var cup = Piece(180, high, across) with { Form = Form.Cylinder };
        var missed = SizeReach.Missed(cup, across == 350 ? Reaches(Oven) : Reaches(Oven, Press, Wrap));
        Assert.Equal(inOven, missed?.InOven);
        if (inOven == false)
            Assert.Equal((Mm(70), Mm(95), Mm(130)), (missed!.Least, missed.Long, missed.Thick));
    }

    [Fact]
    public void Faults_OfAWrapPress_AreThoseOfWhatItTakes()
    {
        Assert.Empty(Wrap.Faults());
        var wrong = Wrap with { Wrap = WrapFit.Usual with { Widest = Mm(60), MostSeconds = 100 } };
        Assert.Equal(["widest", "mostSeconds"], wrong.Faults().Select(f => f.Field));
        Assert.True(Wrap.Suits(Form.Cylinder));
        Assert.False(Wrap.Suits(Form.Flat));
        Assert.True(Press.Suits(Form.SlightlyCurved));
    }

    private static readonly PressSettings Wrap = new() { Wrap = WrapFit.Usual };

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
