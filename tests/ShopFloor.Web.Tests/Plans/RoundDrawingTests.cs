using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Office.Plans;
using ShopFloor.Web.Shared.Drawing;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>A piece is drawn in one shape wherever its load is drawn.</summary>
public sealed class RoundDrawingTests
{
    [Fact]
    public async Task Load_OfADiscAndAPlate_IsDrawnAlikeInThePlanAndOnTheWall()
    {
        await using var bench = await BenchShop.OpenAsync(1, own: true);
        var disc = new PieceDescription
        {
            Face = FaceShape.Disc,
            Width = Length.FromMillimetres(90),
            Height = Length.FromMillimetres(90),
            Thickness = Length.FromMillimetres(1),
        };
        var round = await bench.BookAsync(1, own: true, Finish.WhiteGround, "al", form: disc);
        foreach (var code in new[] { bench.Code, round })
            await bench.WorkToAsync(StepKind.Cure, code);
        var plan = await NextByPlanTests.PublishAsync(bench);
        Outline Of(string code) => code == round ? Outline.Ellipse : Outline.Rectangle;

        var planned = (await bench.Shop.Get<TimelineView>().LoadAsync(0))!
            .Batches.SelectMany(b => b.Surfaces)
            .SelectMany(s => s.Places)
            .ToList();
        Assert.Contains(planned, p => p.Code == round);
        Assert.All(planned, p => Assert.Equal(Of(p.Code), p.Outline));

        await using var context = await bench.Shop.ContextAsync();
        var work = await OpenWork.LoadAsync(context, bench.Shop.Clock.GetUtcNow(), null, default);
        var wall = WallSheet.Of(new WorkNow(work, plan, new Dictionary<ShopFloor.Domain.CanId, string>()), work.Now, []);
        var drawn = wall.Load!.Surfaces.SelectMany(s => s.Places).ToList();
        Assert.Contains(drawn, p => p.Code == round);
        Assert.All(drawn, p => Assert.Equal(Of(p.Code), p.Outline));
    }
}
