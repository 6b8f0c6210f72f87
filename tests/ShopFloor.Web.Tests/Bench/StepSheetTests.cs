using Bunit;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Photos;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>What stands where on the sheet of a step: on a phone nobody sees what lies below the buttons.</summary>
public sealed class StepSheetTests
{
    private const string Care = "No flame near it.";

    [Fact]
    public async Task Cautions_OfAStep_StandDirectlyAfterItsNumbers()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await using var page = PageOf(shop);
        var step = new StepCard
        {
            Word = "Clean",
            Settings = [new Setting("Time", "2 min")],
            Cautions = [Care],
        };
        var sheet = page.Render<StepSheet>(p => p.Add(s => s.Step, step).Add(s => s.Code, shop.Code));
        Assert.Equal("cautions", sheet.Find(".settings").NextElementSibling!.ClassName);
    }

    [Fact]
    public async Task Cautions_OfABatch_StandDirectlyAfterItsNumbers()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await using var page = PageOf(shop);
        var batch = new BatchSheet
        {
            Code = "L-1",
            Kind = BatchKind.OvenLoad,
            Settings = [new Setting("Time", "2 min")],
            Cautions = [Care],
        };
        var card = page.Render<BatchCard>(p => p.Add(c => c.Sheet, batch));
        Assert.Equal("cautions", card.Find(".settings").NextElementSibling!.ClassName);
    }

    [Theory]
    [InlineData(StepKind.Tape)]
    [InlineData(StepKind.Inspect)]
    public async Task Picture_OfTheLine_IsShownWhereThePieceIsHeldAgainstIt(StepKind kind)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(kind);
        var piece = await shop.PieceAsync(shop.Code);
        var plain = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0];
        var at = $"clerk/orders/{piece.Order.Value:D}/picture/1";
        Assert.Null(plain.Step!.Picture);
        var line = new OrderLine(piece.Line, 1, 1, new PieceDescription(), Finish.WhiteGround)
        {
            Picture = new PictureId(Guid.CreateVersion7()),
        };
        var step = StepCard.Of(piece, line, ShippedMaterials.Unknown, (null, null), new())!;
        Assert.Equal(at, step.Picture);

        await using var page = PageOf(shop);
        Assert.Equal(at, Shown(page.Render<StepSheet>(p => p.Add(s => s.Step, step).Add(s => s.Code, shop.Code))));
        Assert.Empty(page.Render<StepSheet>(p => p.Add(s => s.Step, plain.Step).Add(s => s.Code, shop.Code)).FindAll(".line-picture"));
        if (kind == StepKind.Inspect)
            Assert.Equal(
                at,
                Shown(
                    page.Render<InspectPanel>(p =>
                        p.Add(i => i.Sheet, plain with { Step = step }).Add(i => i.OnDone, _ => { }).AddCascadingValue(Nobody)
                    )
                )
            );
    }

    private static string? Shown<T>(IRenderedComponent<T> part)
        where T : Microsoft.AspNetCore.Components.IComponent => part.Find(".line-picture img").GetAttribute("src");

    private static Task<AuthenticationState> Nobody => TestPage.Nobody;

    private static BunitContext PageOf(BenchShop shop)
    {
        var page = TestPage.Of(shop.Shop);
        return page;
    }
}
